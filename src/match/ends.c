/* SPDX-License-Identifier: MIT */
/*
 * ends - the sizes of a tool against those of a slot, end by end.
 *
 * The ends are paired in the best way, in whatever order they are written.
 * What an end is comes from its mark; from its opening where it has no mark;
 * and an opening that another size's jaw has contradicts the mark.
 */
#include "match/aspects.h"

#include "trade/kind.h"
#include "unit/length.h"

/* Tips of screwdrivers this near are the same tip; a choice. */
#define TIP_THICKNESS_NM (KM_NM_PER_MM / 10)
#define TIP_WIDTH_NM (KM_NM_PER_MM / 2)

#define PERMUTED 4	/* more ends than these are paired best first */

/* One end that is wanted: a size, or an opening where no size is. */
struct wanted {
	const struct km_size *size;
	struct km_span opening;
};

/* The ends of one alternative against those of the tool. */
struct pairing {
	uint32_t n;				/* ends wanted */
	struct km_end end[KM_ENDS_READ];
	enum km_finding sizes, name;		/* name NOTHING: not judged */
	int sizes_score, name_score;
};

/* ------------------------------------------------------------------ */
/* One end against one end                                             */

static bool same_tip(const struct km_size *a, const struct km_size *b)
{
	int64_t t = a->nominal_nm - b->nominal_nm, w = a->b_nm - b->b_nm;

	return a->system == KM_SYS_SLOTTED && b->system == KM_SYS_SLOTTED &&
	       t <= TIP_THICKNESS_NM && t >= -TIP_THICKNESS_NM &&
	       w <= TIP_WIDTH_NM && w >= -TIP_WIDTH_NM;
}

static enum km_end_state stand_as(const struct km_size *wanted,
				  const struct km_size *have)
{
	if (wanted == have)
		return KM_END_RIGHT;
	if (!(wanted->bucket & have->bucket & KM_BUCKET_HEXAGON))
		return km_size_same(wanted, have) || same_tip(wanted, have)
		       ? KM_END_RIGHT : KM_END_WRONG;
	if (!km_size_may_serve(have, wanted))
		return KM_END_WRONG;
	if (km_size_same(wanted, have))
		return KM_END_RIGHT;
	if (!km_size_serves(have, wanted))
		return KM_END_WRONG;
	return km_size_serves(wanted, have) ? KM_END_SERVES_BOTH
					    : KM_END_SERVES;
}

static int64_t off(const struct km_reading *r, const struct km_size *s)
{
	int64_t d = r->opening.nm - s->nominal_nm;

	return d < 0 ? -d : d;
}

/* The candidate nearest to the opening, but for those of one jaw. */
static const struct km_size *nearest(const struct km_reading *r,
				     const struct km_size *but)
{
	const struct km_size *best = NULL;

	for (uint32_t i = 0; i < r->n_found; i++)
		if ((!but || !km_size_same(r->found[i], but)) &&
		    (!best || off(r, r->found[i]) < off(r, best)))
			best = r->found[i];
	return best;
}

/* Of two or more that an opening may be, the one that is wanted. */
static const struct km_size *found_as(const struct km_reading *r,
				      const struct km_size *wanted)
{
	for (uint32_t i = 0; r->n_found > 1 && i < r->n_found; i++)
		if (km_size_same(r->found[i], wanted))
			return r->found[i];
	return NULL;
}

/* An opening is wanted, not a size. */
static enum km_end_state stand_opening(struct km_span wanted,
				       const struct km_reading *r)
{
	const struct km_opening *o = r->marked ? &r->marked->opening : NULL;
	bool meets;

	if (wanted.nm <= 0)
		return KM_END_RIGHT;		/* that one is not known */
	if (r->opening.nm > 0)
		meets = km_span_meets(wanted, r->opening);
	else if (o && o->basis != KM_BASIS_NONE)
		meets = o->min_nm <= km_span_high(wanted) &&
			o->max_nm >= km_span_low(wanted);
	else
		return KM_END_UNRECORDED;
	return meets ? KM_END_RIGHT : KM_END_WRONG;
}

static enum km_end_state stand(const struct wanted *w,
			       const struct km_reading *r)
{
	const struct km_size *have = r->marked;
	enum km_end_state s;

	if (!w->size)
		return stand_opening(w->opening, r);
	if (have) {
		s = stand_as(w->size, have);
		return s == KM_END_RIGHT && (r->is == KM_OPENING_OTHER ||
					     r->is == KM_OPENING_UNDER)
		       ? KM_END_CONTRADICTS : s;
	}
	if (r->opening.nm <= 0 || !km_size_is_hexagon(w->size))
		return KM_END_UNRECORDED;
	if (found_as(r, w->size))
		return KM_END_UNDECIDED;
	have = nearest(r, NULL);
	return have ? stand_as(w->size, have) : KM_END_WRONG;
}

static bool fits(enum km_end_state s)
{
	return s == KM_END_RIGHT || s == KM_END_SERVES_BOTH ||
	       s == KM_END_SERVES || s == KM_END_UNDECIDED ||
	       s == KM_END_CONTRADICTS;
}

static bool is_listed(const struct wanted *w, const struct km_reading *r)
{
	return w->size && r->marked && km_size_same_name(r->marked, w->size);
}

/* All that is to be said of a pair. */
static struct km_end describe(const struct wanted *w,
			      const struct km_reading *r)
{
	struct km_end e = {
		.state = stand(w, r), .wanted = w->size, .have = r->marked,
		.name_recorded = r->marked != NULL,
		.name_listed = is_listed(w, r), .spread_nm = r->spread_nm,
	};

	if (e.state == KM_END_CONTRADICTS)
		e.or_else = r->other;
	if (r->marked || r->opening.nm <= 0 || !w->size ||
	    e.state == KM_END_UNRECORDED)
		return e;
	e.have = nearest(r, NULL);
	if (e.state == KM_END_UNDECIDED) {
		e.have = found_as(r, w->size);
		e.or_else = nearest(r, w->size);
	}
	return e;
}

/* ------------------------------------------------------------------ */
/* Pairing                                                             */

/* What an end is worth; the mean is the score of the sizes. */
static int16_t worth(enum km_end_state s, bool listed)
{
	switch (s) {
	case KM_END_RIGHT:
		return listed ? 1000 : 900;
	case KM_END_UNDECIDED:
	case KM_END_UNRECORDED:
	case KM_END_CONTRADICTS:
		return KM_SCORE_UNRECORDED;
	case KM_END_SERVES_BOTH:
		return 400;
	case KM_END_SERVES:
		return 200;
	default:
		return 0;
	}
}

/* What each wanted end (row) is worth with each end of the tool (column);
 * best: the column of a row. */
struct table {
	uint32_t rows, columns;
	int16_t worth[KM_ENDS_READ][KM_ENDS_READ];
	uint8_t best[KM_ENDS_READ], now[KM_ENDS_READ];
	int most;
};

/* All ways to give the rows from row on a column each. */
static void try_rows(struct table *t, uint32_t row, uint32_t used, int sum)
{
	if (row == t->rows) {
		if (sum <= t->most)
			return;
		t->most = sum;
		for (uint32_t i = 0; i < t->rows; i++)
			t->best[i] = t->now[i];
		return;
	}
	for (uint32_t k = 0; k < t->columns; k++) {
		if (used >> k & 1)
			continue;
		t->now[row] = (uint8_t)k;
		try_rows(t, row + 1, used | (uint32_t)1 << k,
			 sum + t->worth[row][k]);
	}
}

/* Many ends: the best pair first, then the best of the rest. */
static void pair_greedily(struct table *t)
{
	uint32_t rows = 0, used = 0;

	for (uint32_t done = 0; done < t->rows; done++) {
		uint32_t row = 0, column = 0;
		int most = -1;

		for (uint32_t i = 0; i < t->rows; i++)
			for (uint32_t k = 0; k < t->columns; k++)
				if (!(rows >> i & 1) && !(used >> k & 1) &&
				    t->worth[i][k] > most) {
					most = t->worth[i][k];
					row = i;
					column = k;
				}
		t->best[row] = (uint8_t)column;
		rows |= (uint32_t)1 << row;
		used |= (uint32_t)1 << column;
	}
}

/* Two ends and two: the usual case, without a search. */
static void pair_two(struct table *t)
{
	bool crossed = t->worth[0][1] + t->worth[1][0] >
		       t->worth[0][0] + t->worth[1][1];

	t->best[0] = crossed;
	t->best[1] = !crossed;
}

/* Each wanted end gets one of the tool's, or one that is not recorded. */
static void pair_up(const struct wanted *w, uint32_t n,
		    const struct km_readings *r, struct pairing *p)
{
	static const struct km_reading blank = { .is = KM_OPENING_UNKNOWN };
	struct table t;

	t.rows = n;
	t.columns = r->n > n ? r->n : n;
	t.most = -1;
	for (uint32_t i = 0; i < t.rows; i++)
		for (uint32_t k = 0; k < t.columns; k++) {
			const struct km_reading *e = k < r->n ? &r->v[k]
							      : &blank;
			enum km_end_state s = stand(&w[i], e);

			t.worth[i][k] = worth(s, s == KM_END_RIGHT &&
						 is_listed(&w[i], e));
		}
	if (t.rows == 2 && t.columns == 2)
		pair_two(&t);
	else if (t.columns <= PERMUTED)
		try_rows(&t, 0, 0, 0);
	else
		pair_greedily(&t);
	p->n = n;
	for (uint32_t i = 0; i < n; i++) {
		uint8_t k = t.best[i];

		p->end[i] = describe(&w[i], k < r->n ? &r->v[k] : &blank);
		p->end[i].slot_end = (uint8_t)i;
		p->end[i].tool_end = k < r->n ? k : KM_NO_END;
		if (k >= r->n && r->none)
			p->end[i].state = KM_END_MISSING;
	}
}

/* ------------------------------------------------------------------ */
/* What the pairs come to                                              */

static enum km_finding finding_of(enum km_end_state s)
{
	static const enum km_finding of[] = {
		[KM_END_RIGHT] = KM_F_WIDTHS_RIGHT,
		[KM_END_SERVES_BOTH] = KM_F_WIDTH_SERVES,
		[KM_END_SERVES] = KM_F_END_WRONG,
		[KM_END_WRONG] = KM_F_END_WRONG,
		[KM_END_UNDECIDED] = KM_F_WIDTH_UNDECIDED,
		[KM_END_UNRECORDED] = KM_F_WIDTH_UNRECORDED,
		[KM_END_CONTRADICTS] = KM_F_WIDTH_CONTRADICTS,
		[KM_END_MISSING] = KM_F_END_WRONG,
	};

	return of[s];
}

/* The struck names, once all widths are right; only of hexagons and plugs. */
static void judge_names(struct pairing *p)
{
	int sum = 0, n = 0;

	for (uint32_t i = 0; i < p->n; i++) {
		const struct km_end *e = &p->end[i];

		if (!e->wanted || (!km_size_is_hexagon(e->wanted) &&
				   e->wanted->system != KM_SYS_PLUG))
			continue;
		n++;
		if (!e->name_recorded)
			sum += KM_SCORE_UNRECORDED;
		else if (e->name_listed)
			sum += KM_SCORE_AGREES;
		if (e->name_recorded && !e->name_listed)
			p->name = KM_F_NAME_OTHER;
		else if (!e->name_recorded && p->name != KM_F_NAME_OTHER)
			p->name = KM_F_NAME_UNRECORDED;
		else if (p->name == KM_F_NOTHING)
			p->name = KM_F_NAME_LISTED;
	}
	p->name_score = n ? sum / n : 0;
}

static void judge_ends(const struct km_case *c, struct pairing *p)
{
	enum km_standard s = c->rules->standard;
	int sum = 0;

	p->sizes = KM_F_WIDTHS_RIGHT;
	p->name = KM_F_NOTHING;
	p->name_score = 0;
	for (uint32_t i = 0; i < p->n; i++) {
		enum km_finding f = finding_of(p->end[i].state);
		enum km_letter x = km_rules_letter(f, s);
		enum km_letter y = km_rules_letter(p->sizes, s);

		sum += worth(p->end[i].state, p->end[i].name_listed);
		if (x > y || (x == y && f < p->sizes &&
			      p->sizes != KM_F_WIDTHS_RIGHT))
			p->sizes = f;
	}
	p->sizes_score = p->n ? sum / (int)p->n : KM_SCORE_AGREES;
	if (p->sizes == KM_F_WIDTHS_RIGHT)
		judge_names(p);
}

/* Of several alternatives, is a the better one? */
static bool is_better(const struct km_case *c, const struct pairing *a,
		      const struct pairing *b)
{
	enum km_standard s = c->rules->standard;
	enum km_letter x = km_rules_letter(a->sizes, s);
	enum km_letter y = km_rules_letter(b->sizes, s);

	if (x == y) {
		x = km_rules_letter(a->name, s);
		y = km_rules_letter(b->name, s);
	}
	if (x != y)
		return x < y;
	return a->sizes_score + a->name_score > b->sizes_score + b->name_score;
}

/* The ends of one alternative; how many. */
static uint32_t list_wanted(const struct km_case *c, enum km_attr a,
			    uint32_t which, struct wanted w[KM_ENDS_READ])
{
	const union km_value *v = &c->slot->want[a].any[which];
	uint32_t n = a == KM_A_SIZES ? v->sizes.n : v->spans.n;

	if (n > KM_ENDS_READ)
		n = KM_ENDS_READ;
	for (uint32_t i = 0; i < n; i++) {
		w[i].size = a == KM_A_SIZES ? v->sizes.v[i] : NULL;
		w[i].opening = a == KM_A_SIZES ? (struct km_span){ 0 }
					       : v->spans.v[i];
	}
	return n;
}

static void pair_alternative(struct km_case *c, enum km_attr a, uint32_t which,
			     const struct km_readings *r, struct pairing *p)
{
	struct wanted w[KM_ENDS_READ];

	pair_up(w, list_wanted(c, a, which, w), r, p);
	judge_ends(c, p);
}

static enum km_outcome outcome_of(enum km_finding f)
{
	switch (f) {
	case KM_F_NOTHING:
		return KM_NOT_WANTED;
	case KM_F_WIDTHS_RIGHT:
	case KM_F_NAME_LISTED:
		return KM_AGREES;
	case KM_F_WIDTH_UNDECIDED:
	case KM_F_WIDTH_UNRECORDED:
	case KM_F_WIDTH_CONTRADICTS:
	case KM_F_NAME_UNRECORDED:
		return KM_NOT_RECORDED;
	default:
		return KM_DIFFERS;
	}
}

/* Hand the pairs over; do they make the tool a candidate? */
static bool take(struct km_case *c, enum km_attr a, const struct pairing *p)
{
	struct km_match *m = c->out;
	bool fit = false, recorded = false;

	m->n_ends = (uint8_t)p->n;
	for (uint32_t i = 0; i < p->n; i++) {
		enum km_end_state s = p->end[i].state;

		if (i < KM_ENDS)
			m->end[i] = p->end[i];
		recorded |= s != KM_END_UNRECORDED;
		fit |= fits(s);
		m->wrong_size |= s == KM_END_SERVES_BOTH ||
				 s == KM_END_SERVES || s == KM_END_WRONG ||
				 s == KM_END_MISSING;
	}
	km_case_set(c, KM_ASP_SIZES, a, outcome_of(p->sizes), p->sizes,
		    p->sizes_score);
	if (p->name != KM_F_NOTHING)
		km_case_set(c, KM_ASP_SIZE_NAME, a, outcome_of(p->name),
			    p->name, p->name_score);
	return fit || !recorded;
}

/* `none` is wanted, or one of what is. */
static bool compare_none(struct km_case *c, enum km_attr a,
			 const struct km_readings *r)
{
	if (r->n)
		km_case_set(c, KM_ASP_SIZES, a, KM_DIFFERS, KM_F_END_WRONG, 0);
	else if (r->none)
		km_case_set(c, KM_ASP_SIZES, a, KM_AGREES, KM_F_WIDTHS_RIGHT,
			    KM_SCORE_AGREES);
	else
		km_case_set(c, KM_ASP_SIZES, a, KM_NOT_RECORDED,
			    KM_F_WIDTH_UNRECORDED, KM_SCORE_UNRECORDED);
	return !r->n;
}

bool km_compare_ends(struct km_case *c)
{
	enum km_attr a = km_case_wants(c, KM_A_SIZES) ? KM_A_SIZES
						      : KM_A_OPENINGS;
	const struct km_want *w = &c->slot->want[a];
	const struct km_readings *r = c->thing->readings;
	struct km_readings own;
	struct pairing best, p;

	if (!km_case_wants(c, a))
		return true;
	if (!r) {
		km_readings_take(&own, c->thing->traits, c->rules->book);
		r = &own;
	}
	if (w->state == KM_WANT_NONE || (w->or_none && r->none && !r->n))
		return compare_none(c, a, r);
	pair_alternative(c, a, 0, r, &best);
	for (uint32_t i = 1; i < w->n; i++) {
		pair_alternative(c, a, i, r, &p);
		if (is_better(c, &p, &best))
			best = p;
	}
	return take(c, a, &best);
}
