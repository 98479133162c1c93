/* SPDX-License-Identifier: MIT */
#include "report/points.h"

#include <inttypes.h>
#include <string.h>

#include "diag/render.h"
#include "report/words.h"

/* ------------------------------------------------------------------ */
/* Slots                                                               */

static const struct km_point_rule slot_rules[] = {
	{ "right", "the slot has what left the factory" },
	{ "after-work", "the tool will be right once it is worked on" },
	{ "unverified", "something about the tool is not recorded" },
	{ "substitute", "the tool only stands in" },
	{ "short", "some pieces of the slot are there, not all" },
	{ "expected", "the tool is on order" },
	{ "gap", "nothing fills the slot" },
	{ "away", "the tool is right, but lent or at the plater" },
};

/* A slot that would be right is away when it does not count today. */
static const char *rule_of(const struct km_slot_audit *s)
{
	return s->verdict == KM_RIGHT && !s->there
		       ? "away" : km_verdict_word(s->verdict);
}

static enum km_point_result result_of(const struct km_slot_audit *s)
{
	if (!s->firm || !s->slot->durable)
		return s->there ? KM_POINT_PASSES : KM_POINT_SKIPPED;
	return s->there ? KM_POINT_PASSES : KM_POINT_FAILS;
}

/* "double open-ended spanner 1/4 W x 5/16 W: substitute, length +13 mm" */
static const char *text_of(struct km_page *p, const struct km_slot_audit *s)
{
	struct km_buf *b = &p->line;
	const char *text;
	size_t before;

	km_words_of_slot(b, s->slot, false);
	km_buf_printf(b, ": %s", rule_of(s));
	before = b->len;
	km_buf_str(b, ", ");
	km_reason_of_slot(b, s);
	if (!km_buf_failed(b) && b->len == before + 2)	/* no reason */
		b->len = before;
	text = km_buf_failed(b) ? NULL : km_arena_text(p->mem, b->text, b->len);
	km_buf_clear(b);
	return text;
}

/* A kit of two machines stands in the list twice: its second is "kit (2)". */
static const char *group_of(struct km_page *p, uint32_t kit)
{
	const struct km_kit_audit *k = p->audit->kits;
	const char *id = k[kit].kit->id, *text;
	uint32_t nth = 1;

	for (uint32_t i = 0; i < kit; i++)
		nth += k[i].kit == k[kit].kit;
	if (nth == 1)
		return id;
	km_buf_printf(&p->line, "%s (%" PRIu32 ")", id, nth);
	text = km_buf_failed(&p->line)
		       ? NULL : km_arena_text(p->mem, p->line.text,
					      p->line.len);
	km_buf_clear(&p->line);
	return text;
}

static size_t count_slots(const struct km_audit *a)
{
	size_t n = 0;

	for (uint32_t k = 0; k < a->n_kits; k++)
		n += a->kits[k].kit->n_slots;
	return n;
}

static bool add_kit(struct km_page *p, uint32_t kit, struct km_point *v,
		    size_t *n)
{
	const struct km_kit_audit *k = &p->audit->kits[kit];
	const char *group = group_of(p, kit);

	if (!group)
		return false;
	for (uint32_t i = 0; i < k->kit->n_slots; i++) {
		const struct km_slot_audit *s = &k->slots[i];

		if (s->slot->unused)
			continue;
		v[*n] = (struct km_point){
			.group = group, .name = s->slot->id,
			.rule = rule_of(s), .text = text_of(p, s),
			.at = s->slot->at, .result = result_of(s),
			.severity = s->firm && s->slot->durable ? KM_WARNING
								: KM_NOTE,
		};
		if (!v[*n].text)
			return false;
		++*n;
	}
	return true;
}

bool km_points_of_audit(struct km_page *p, struct km_points *out)
{
	const struct km_audit *a = p->audit;
	struct km_point *v = km_arena_alloc(p->mem, count_slots(a), sizeof *v);
	size_t n = 0;

	for (uint32_t k = 0; v && k < a->n_kits; k++)
		if (!add_kit(p, k, v, &n))
			v = NULL;
	if (!v) {
		p->failed = true;
		return false;
	}
	*out = (struct km_points){
		.p = p, .v = v, .n = n, .rules = slot_rules,
		.n_rules = sizeof slot_rules / sizeof *slot_rules,
	};
	return true;
}

/* ------------------------------------------------------------------ */
/* Messages                                                            */

static const char *message_text(struct km_page *p, enum km_msg m)
{
	struct km_buf *b = &p->line;
	const char *text;

	km_render_format(b, m);
	text = km_buf_failed(b) ? NULL : km_arena_text(p->mem, b->text, b->len);
	km_buf_clear(b);
	return text ? text : "";
}

static const struct km_point_rule *message_rules(struct km_page *p)
{
	struct km_point_rule *r = km_arena_alloc(p->mem, KM_M_COUNT,
						 sizeof *r);

	for (int m = 0; r && m < KM_M_COUNT; m++)
		r[m] = (struct km_point_rule){
			km_msg_id((enum km_msg)m),
			message_text(p, (enum km_msg)m),
		};
	return r;
}

bool km_points_of_diags(struct km_page *p, const struct km_diags *d,
			struct km_points *out)
{
	size_t n = km_diags_size(d);
	struct km_point *v = km_arena_alloc(p->mem, n, sizeof *v);
	const struct km_point_rule *rules = message_rules(p);

	if (!v || !rules) {
		p->failed = true;
		return false;
	}
	for (size_t i = 0; i < n; i++) {
		const struct km_diag *one = km_diags_at(d, i);

		v[i] = (struct km_point){
			.group = km_msg_id(one->msg), .name = one->path,
			.rule = km_msg_id(one->msg), .text = one->text,
			.at = one->at,
			.result = km_msg_severity(one->msg) == KM_NOTE
					  ? KM_POINT_SKIPPED : KM_POINT_FAILS,
			.severity = km_msg_severity(one->msg),
		};
	}
	*out = (struct km_points){ .p = p, .v = v, .n = n, .rules = rules,
				   .n_rules = KM_M_COUNT };
	return true;
}

/* ------------------------------------------------------------------ */
/* Writers of the sheet                                                */

static void write_slots(struct km_page *p,
			void (*out)(const struct km_points *list))
{
	struct km_points list;

	if (km_points_of_audit(p, &list))
		out(&list);
}

void km_tap_slots(struct km_page *p)
{
	write_slots(p, km_out_tap);
}

void km_junit_slots(struct km_page *p)
{
	write_slots(p, km_out_junit);
}

void km_sarif_slots(struct km_page *p)
{
	write_slots(p, km_out_sarif);
}

void km_github_slots(struct km_page *p)
{
	write_slots(p, km_out_github);
}

void km_point_name(struct km_buf *b, const struct km_point *x)
{
	km_buf_str(b, x->group);
	if (x->name)
		km_buf_printf(b, "/%s", x->name);
}
