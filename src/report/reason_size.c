/* SPDX-License-Identifier: MIT */
#include "report/reason.h"

#include <string.h>

#include "unit/length.h"

/* Are all sizes that are spoken of plain millimetres?  Then "13" will do. */
static bool all_metric(const struct km_match *m)
{
	for (int i = 0; i < m->n_ends && i < KM_ENDS; i++) {
		const struct km_end *e = &m->end[i];
		const struct km_size *s[] = { e->wanted, e->have, e->or_else };

		for (size_t k = 0; k < sizeof s / sizeof *s; k++)
			if (s[k] && s[k]->system != KM_SYS_METRIC)
				return false;
	}
	return true;
}

static void add_size(struct km_buf *b, const struct km_size *s, bool bare)
{
	size_t n = s ? strlen(s->text) : 0;

	if (!s) {
		km_buf_str(b, "a size not recorded");
	} else if (bare && n > 3 && !strcmp(s->text + n - 3, " mm")) {
		km_buf_add(b, s->text, n - 3);
	} else {
		km_buf_str(b, s->text);
		if (s->second)
			km_buf_printf(b, " %s", s->second);
	}
}

/* The opening of an end as measured, or NULL. */
static const struct km_span *opening_of(const struct km_match *m,
					const struct km_end *e)
{
	const union km_value *v = km_trait(km_match_traits(m), KM_A_OPENINGS);

	if (!v || e->tool_end >= v->spans.n)
		return NULL;
	return &v->spans.v[e->tool_end];
}

static void add_end(struct km_buf *b, const struct km_match *m,
		    const struct km_end *e, bool bare)
{
	const struct km_span *opening = opening_of(m, e);

	switch (e->state) {
	case KM_END_WRONG:
	case KM_END_SERVES:
	case KM_END_SERVES_BOTH:
		add_size(b, e->have, bare);
		km_buf_str(b, " instead of ");
		add_size(b, e->wanted, bare);
		if (e->state == KM_END_SERVES_BOTH)
			km_buf_str(b, ", serves both ways");
		else if (e->state == KM_END_SERVES)
			km_buf_str(b, ", serves that head");
		break;
	case KM_END_UNDECIDED:
		add_size(b, e->have, bare);
		km_buf_str(b, " or ");
		add_size(b, e->or_else, bare);
		break;
	case KM_END_UNRECORDED:
		add_size(b, e->wanted, bare);
		km_buf_str(b, " wanted");
		break;
	case KM_END_CONTRADICTS:
		km_buf_str(b, "marked ");
		add_size(b, e->have, bare);
		if (opening) {
			km_buf_str(b, " but measures ");
			km_buf_mm(b, opening->nm, 3);
			if (!bare)
				km_buf_str(b, " mm");
		}
		break;
	case KM_END_MISSING:
		km_buf_str(b, "no end for ");
		add_size(b, e->wanted, bare);
		break;
	case KM_END_RIGHT:
		add_size(b, e->have ? e->have : e->wanted, bare);
		break;
	}
}

/* The ends of one state in a row; returns how many there are. */
static int add_ends(struct km_buf *b, const struct km_match *m,
		    enum km_end_state state, bool bare, const char *between)
{
	int n = 0;

	for (int i = 0; i < m->n_ends && i < KM_ENDS; i++) {
		if (m->end[i].state != state)
			continue;
		if (b && n)
			km_buf_str(b, between);
		if (b)
			add_end(b, m, &m->end[i], bare);
		n++;
	}
	return n;
}

/* "one end right (10), other 13 instead of 12" */
static void wrong_ends(struct km_buf *b, const struct km_match *m, bool bare)
{
	static const enum km_end_state faults[] = {
		KM_END_WRONG, KM_END_SERVES, KM_END_SERVES_BOTH, KM_END_MISSING
	};
	bool begun = false;
	bool missing = add_ends(NULL, m, KM_END_MISSING, bare, "") > 0;

	if (add_ends(NULL, m, KM_END_RIGHT, bare, "") == 1) {
		km_buf_str(b, "one end right (");
		(void)add_ends(b, m, KM_END_RIGHT, bare, ", ");
		km_buf_str(b, missing ? "), " : "), other ");
	}
	for (size_t i = 0; i < sizeof faults / sizeof *faults; i++) {
		if (!add_ends(NULL, m, faults[i], bare, ""))
			continue;
		if (begun)
			km_buf_str(b, ", ");
		(void)add_ends(b, m, faults[i], bare, ", ");
		begun = true;
	}
}

void km_reason_sizes(struct km_buf *b, const struct km_match *m,
		     const struct km_comparison *c)
{
	bool bare = all_metric(m);
	size_t before = b->len;

	switch (c->finding) {
	case KM_F_WIDTH_UNDECIDED:
		km_buf_str(b, "sizes undecided: ");
		(void)add_ends(b, m, KM_END_UNDECIDED, false, "; ");
		km_buf_str(b, ", read the mark or use a gauge");
		break;
	case KM_F_WIDTH_UNRECORDED:
		km_buf_str(b, "sizes not recorded: ");
		(void)add_ends(b, m, KM_END_UNRECORDED, false, ", ");
		km_buf_str(b, ", measure or read the mark");
		break;
	case KM_F_WIDTH_CONTRADICTS:
		(void)add_ends(b, m, KM_END_CONTRADICTS, false, "; ");
		km_buf_str(b, ", measure again");
		break;
	case KM_F_WIDTHS_RIGHT:
		break;
	default:
		wrong_ends(b, m, bare);
		break;
	}
	if (b->len == before && c->finding != KM_F_WIDTHS_RIGHT)
		km_buf_str(b, "sizes differ");
}

/* "mark 5/16 BS instead of 1/4 W": what is struck, not what it fits. */
void km_reason_size_name(struct km_buf *b, const struct km_match *m,
			 const struct km_comparison *c)
{
	bool other = c->finding == KM_F_NAME_OTHER;
	bool begun = false;

	if (!other && c->finding != KM_F_NAME_UNRECORDED)
		return;
	km_buf_str(b, other ? "mark " : "size mark not recorded: look for ");
	for (int i = 0; i < m->n_ends && i < KM_ENDS; i++) {
		const struct km_end *e = &m->end[i];

		if (other ? !e->name_recorded || e->name_listed
			  : e->name_recorded)
			continue;
		if (begun)
			km_buf_str(b, ", ");
		begun = true;
		if (other) {
			add_size(b, e->have, false);
			km_buf_str(b, " instead of ");
		}
		add_size(b, e->wanted, false);
	}
}
