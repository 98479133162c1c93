/* SPDX-License-Identifier: MIT */
/*
 * What may be struck on the ends of a tool, or measured between its jaws.
 */
#include "audit/questions.h"

#include <string.h>

#include "base/buf.h"
#include "match/compare.h"
#include "trade/jaw.h"

/* ------------------------------------------------------------------ */
/* Sizes beside a size                                                 */

static const struct km_size *parse(struct km_asker *q, const char *text,
				   enum km_drive_id drive)
{
	struct km_size_rules rules = { .drive = &km_drives[drive],
				       .bare = KM_UNIT_NONE };
	struct km_size *s = km_asker_room(q, 1, sizeof *s);
	enum km_size_fault fault;

	if (!s)
		return NULL;
	fault = km_size_parse(km_slice_of(text), &rules, q->mem, s);
	if (fault == KM_SIZE_NO_MEMORY)
		q->st = KM_ENOMEM;
	return fault == KM_SIZE_OK ? s : NULL;
}

/* How a size of the book is struck in a system; NULL: it is not. */
static const char *struck(const struct km_size *s, enum km_system system)
{
	if (s->system == system)
		return s->text;
	return system == KM_SYS_BS ? s->second : NULL;
}

static const struct km_size *hexagon_beside(struct km_asker *q,
					    const struct km_size *s,
					    bool larger, enum km_system system)
{
	for (uint32_t i = 0; i < q->book.n; i++) {
		const struct km_size *e =
			&q->book.v[larger ? i : q->book.n - 1 - i];
		bool past = larger ? e->nominal_nm > s->nominal_nm
				   : e->nominal_nm < s->nominal_nm;

		if (past && struck(e, system) && !km_size_serves(e, s) &&
		    !km_size_same(e, s))
			return parse(q, struck(e, system), KM_DRIVE_HEXAGON);
	}
	return NULL;
}

/* The first of several texts that is a size, and not the same one. */
static const struct km_size *first_other(struct km_asker *q,
					 const struct km_size *s,
					 enum km_drive_id drive,
					 const char *const *texts, size_t n)
{
	for (size_t i = 0; i < n && q->st == KM_OK; i++) {
		const struct km_size *one = parse(q, texts[i], drive);

		if (one && !km_size_same(one, s))
			return one;
	}
	return NULL;
}

/* "0.8 x 5.5 mm" becomes "1.2 x 9.3 mm". */
static const struct km_size *wider_tip(struct km_asker *q,
				       const struct km_size *s)
{
	struct km_buf b;

	km_buf_init(&b, q->mem);
	km_buf_mm(&b, s->nominal_nm * 3 / 2, 1);
	km_buf_str(&b, " x ");
	km_buf_mm(&b, s->b_nm * 3 / 2 + KM_NM_PER_MM, 1);
	km_buf_str(&b, " mm");
	if (km_buf_failed(&b)) {
		q->st = KM_ENOMEM;
		return NULL;
	}
	return parse(q, b.text, KM_DRIVE_SLOTTED);
}

static const struct km_size *cross_beside(struct km_asker *q,
					  const struct km_size *s)
{
	static const char *const ph[] = { "PH 2", "PH 1" };
	static const char *const pz[] = { "PZ 2", "PZ 1" };
	static const char *const jis[] = { "JIS H 2", "JIS H 1" };
	const char *const *texts = s->system == KM_SYS_PH ? ph
				   : s->system == KM_SYS_PZ ? pz : jis;

	return first_other(q, s, KM_DRIVE_CROSS, texts, 2);
}

const struct km_size *km_size_beside(struct km_asker *q,
				     const struct km_size *s, bool larger)
{
	static const char *const keys[] = { "6 mm", "5 mm" };
	static const char *const inch_keys[] = { "1/4 AF", "3/16 AF" };
	static const char *const plugs[] = { "21 mm", "16 mm" };
	static const char *const squares[] = { "1/2 in", "3/8 in" };
	static const char *const hooks[] = { "45-50 mm", "68-75 mm" };
	const struct km_size *one;

	switch (s->system) {
	case KM_SYS_SLOTTED:
		return wider_tip(q, s);
	case KM_SYS_PH:
	case KM_SYS_PZ:
	case KM_SYS_JIS_H:
	case KM_SYS_JIS_S:
		return cross_beside(q, s);
	case KM_SYS_KEY_METRIC:
		return first_other(q, s, KM_DRIVE_HEX_SOCKET, keys, 2);
	case KM_SYS_KEY_INCH:
		return first_other(q, s, KM_DRIVE_HEX_SOCKET, inch_keys, 2);
	case KM_SYS_PLUG:
		return first_other(q, s, KM_DRIVE_PLUG, plugs, 2);
	case KM_SYS_SQUARE:
		return first_other(q, s, KM_DRIVE_SQUARE, squares, 2);
	case KM_SYS_HOOK:
		return first_other(q, s, KM_DRIVE_HOOK, hooks, 2);
	default:
		break;
	}
	if (!km_size_is_hexagon(s))
		return NULL;
	one = hexagon_beside(q, s, larger, s->system);
	if (!one)
		one = hexagon_beside(q, s, !larger, s->system);
	return one ? one : hexagon_beside(q, s, true, KM_SYS_METRIC);
}

const struct km_size *km_size_other_name(struct km_asker *q,
					 const struct km_size *s)
{
	for (uint32_t i = 0; km_size_is_hexagon(s) && i < q->book.n; i++) {
		const struct km_size *e = &q->book.v[i];
		const struct km_size *one;

		if (!km_size_same(e, s))
			continue;
		one = parse(q, e->text, KM_DRIVE_HEXAGON);
		if (one && km_size_same_name(one, s) && e->second)
			one = parse(q, e->second, KM_DRIVE_HEXAGON);
		if (one && km_size_same(one, s) && !km_size_same_name(one, s))
			return one;
	}
	return NULL;
}

/* ------------------------------------------------------------------ */
/* The ends of one tool                                                */

static uint32_t ends_recorded(const struct km_traits *t)
{
	const union km_value *s = km_trait(t, KM_A_SIZES);
	const union km_value *o = km_trait(t, KM_A_OPENINGS);
	uint32_t n = s ? s->sizes.n : 0;

	return o && o->spans.n > n ? o->spans.n : n;
}

/* Where the ends of the slot stand on the tool; past those that it records
 * where it records too few. */
struct ends {
	uint32_t n;			/* of the tool */
	uint32_t at[KM_ENDS];		/* of each of the slot */
};

static bool place(const struct km_question *about, struct ends *e)
{
	const struct km_match *m = about->match;

	e->n = ends_recorded(&about->tool->traits);
	if (!m->n_ends || m->n_ends > KM_ENDS)
		return false;
	for (uint32_t i = 0; i < m->n_ends; i++)
		e->at[i] = m->end[i].tool_end == KM_NO_END
				   ? e->n++ : m->end[i].tool_end;
	return e->n <= KM_ENDS_READ;
}

/* A list for all ends, that begins with the n recorded. */
static void *list_of(struct km_asker *q, const struct ends *e, const void *v,
		     uint32_t n, size_t size)
{
	void *list = km_asker_room(q, e->n, size);

	if (list && n)
		memcpy(list, v, n * size);
	return list;
}

/* What is struck on an end, once it is known. */
static const struct km_size *size_of_end(struct km_asker *q,
					 const struct km_end *e, bool wanted)
{
	const struct km_size *one = NULL;

	switch (e->state) {
	case KM_END_RIGHT:		/* by its opening */
		if (wanted)
			return e->wanted;
		one = km_size_other_name(q, e->wanted);
		break;
	case KM_END_UNRECORDED:
		if (wanted)
			return e->wanted;
		break;
	case KM_END_UNDECIDED:
		if (wanted)
			return e->wanted;
		one = e->or_else;
		break;
	case KM_END_CONTRADICTS:	/* the mark was misread */
		one = e->or_else;
		if (!one)
			return km_size_beside(q, e->wanted, false);
		break;
	default:
		return e->have;
	}
	return one ? one : km_size_beside(q, e->wanted, true);
}

static bool all_sizes(struct km_asker *q, const struct km_question *about,
		      struct km_answer *out, union km_value *v)
{
	const struct km_match *m = about->match;
	const union km_value *s = km_trait(&about->tool->traits, KM_A_SIZES);
	uint32_t marked = s ? s->sizes.n : 0, n = 0;
	const struct km_size **list;
	struct ends e;

	if (!place(about, &e))
		return false;
	list = list_of(q, &e, s ? s->sizes.v : NULL, marked, sizeof *list);
	if (!list)
		return false;
	for (uint32_t i = 0; i < m->n_ends; i++)
		if (e.at[i] >= marked ||
		    m->end[i].state == KM_END_CONTRADICTS)
			list[e.at[i]] = size_of_end(q, &m->end[i],
						    out->what == KM_IF_WANTED);
	while (n < e.n && list[n])
		n++;
	for (uint32_t i = 0; i < m->n_ends; i++)
		if (e.at[i] >= n)
			return false;
	v->sizes.v = list;
	v->sizes.n = n;
	return q->st == KM_OK;
}

/* The middle of what a size's jaw may measure, to the hundredth. */
static int64_t usual_opening(const struct km_size *s)
{
	const int64_t step = KM_NM_PER_MM / 100;

	if (s->opening.basis == KM_BASIS_NONE || !s->opening.max_nm)
		return s->nominal_nm;
	return (s->opening.min_nm + s->opening.max_nm) / 2 / step * step;
}

static bool all_openings(struct km_asker *q, const struct km_question *about,
			 struct km_answer *out, union km_value *v)
{
	const struct km_match *m = about->match;
	const struct km_want *w = &about->slot->want[KM_A_OPENINGS];
	const union km_value *o = km_trait(&about->tool->traits,
					   KM_A_OPENINGS);
	struct km_span *list;
	struct ends e;

	if (!place(about, &e))
		return false;
	list = list_of(q, &e, o ? o->spans.v : NULL, o ? o->spans.n : 0,
		       sizeof *list);
	if (!list)
		return false;
	for (uint32_t i = 0; i < m->n_ends; i++) {
		const struct km_end *end = &m->end[i];
		struct km_span *one = &list[e.at[i]];

		if (end->state == KM_END_CONTRADICTS)
			*one = (struct km_span){ .nm = usual_opening(
							 end->wanted) };
		else if (end->state != KM_END_UNRECORDED || end->wanted ||
			 w->state != KM_WANT_ANY_OF || i >= w->any[0].spans.n)
			continue;
		else if (out->what == KM_IF_WANTED)
			one->nm = w->any[0].spans.v[i].nm;
		else
			*one = km_span_that_fails(about, w->any[0].spans.v[i],
						  false);
	}
	v->spans.v = list;
	v->spans.n = e.n;
	return true;
}

static bool contradicts(const struct km_match *m)
{
	for (uint32_t i = 0; i < m->n_ends && i < KM_ENDS; i++)
		if (m->end[i].state == KM_END_CONTRADICTS)
			return true;
	return false;
}

bool km_answer_of_ends(struct km_asker *q, const struct km_question *about,
		       struct km_answer *out)
{
	union km_value *v = km_asker_room(q, 1, sizeof *v);

	if (!v)
		return false;
	out->values = v;
	out->n_values = 1;
	/* mark and opening disagree: one of them was read wrongly */
	if (contradicts(about->match))
		out->attr = out->what == KM_IF_WANTED ? KM_A_OPENINGS
						      : KM_A_SIZES;
	return out->attr == KM_A_OPENINGS ? all_openings(q, about, out, v)
					  : all_sizes(q, about, out, v);
}
