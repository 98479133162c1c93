/* SPDX-License-Identifier: MIT */
#include "report/jobs.h"

#include <inttypes.h>

#include "report/reason.h"
#include "unit/length.h"

#define RUSTS (KM_S(RUST1) | KM_S(RUST2) | KM_S(RUST3) | KM_S(RUST4) | \
	       KM_S(RUST5))

/* ------------------------------------------------------------------ */
/* What not to do                                                      */

static void shallow(struct km_buf *b, const struct km_job_barred *x)
{
	km_buf_str(b, "do not grind, tumble or buff: the mark would go");
	if (x->mark_nm < 0 || x->pit_nm < 0)
		return;
	km_buf_str(b, " (");
	km_buf_mm(b, x->mark_nm, 3);
	km_buf_str(b, " mm deep, pits ");
	km_buf_mm(b, x->pit_nm, 3);
	km_buf_str(b, " mm)");
}

void km_words_bar(struct km_buf *b, const struct km_job_barred *x,
		  uint32_t *bars)
{
	static const struct { enum km_job_bar bar; const char *text; } say[] = {
		{ KM_BAR_NOT_OURS, "not ours: do no work on it" },
		{ KM_BAR_CRACKED,
		  "cracked: do not weld, plate or straighten it" },
		{ KM_BAR_MARK_SHALLOW, NULL },
		{ KM_BAR_MARK_DEPTH,
		  "do not grind, tumble or buff before the mark is "
		  "photographed or rubbed: its depth is not known" },
		{ KM_BAR_MARK_UNREAD,
		  "do not work on it before its mark is read: clean gently" },
		{ KM_BAR_LEAD_PAINT,
		  "old paint, not tested for lead: do not brush, blast, "
		  "tumble or sand it" },
		{ KM_BAR_CADMIUM,
		  "cadmium: do not brush, sand, blast, tumble, heat or pickle "
		  "it; wash and wax only" },
		{ KM_BAR_PLATING_UNKNOWN,
		  "plating not known, so cadmium until it is tested: do not "
		  "brush, sand, blast, tumble, heat or pickle it; wash and wax "
		  "only" },
		{ KM_BAR_CELLULOID,
		  "celluloid handle: no heat, no solvent" },
		{ KM_BAR_TOO_HARD,
		  "harder than 45 HRC: no ordinary electroplating" },
	};

	for (size_t i = 0; i < sizeof say / sizeof *say; i++) {
		if (!(*bars & say[i].bar))
			continue;
		*bars &= ~(uint32_t)say[i].bar;
		if (say[i].text)
			km_buf_str(b, say[i].text);
		else
			shallow(b, x);
		return;
	}
}

void km_words_allowed(struct km_buf *b, const struct km_job_barred *x)
{
	bool mark = x->bars & (KM_BAR_MARK_SHALLOW | KM_BAR_MARK_DEPTH);
	const char *before = mark && !(x->bars & (KM_BAR_CADMIUM |
		KM_BAR_PLATING_UNKNOWN | KM_BAR_LEAD_PAINT))
		? "allowed: a soft brush, " : "allowed: ";

	if (!mark && !(x->bars & KM_BAR_LEAD_PAINT))
		return;
	for (int i = 0; i < KM_PROCESSES; i++) {
		if (!(x->allowed >> i & 1))
			continue;
		km_buf_printf(b, "%s%s", before, km_processes[i].name);
		before = ", ";
	}
}

/* ------------------------------------------------------------------ */
/* States                                                              */

struct word { uint64_t bits; const char *text; };

/* What a step may bring, the words in which it is told. */
static const struct word brought[] = {
	{ RUSTS, "rust lessened" }, { KM_S(PITS_FEW), "fewer pits" },
	{ KM_S(STRIPPED), "stripped to the steel" },
	{ KM_S(POLISHED), "polished steel" },
	{ KM_S(NEW_ZINC), "new zinc" }, { KM_S(NEW_CADMIUM), "new cadmium" },
	{ KM_S(NEW_NICKEL), "new nickel" }, { KM_S(NEW_CHROME), "new chrome" },
	{ KM_S(NEW_BLACK), "newly blacked" },
	{ KM_S(NEW_PHOSPHATE), "newly phosphated" },
	{ KM_S(BLACK_COLD), "blacked cold" }, { KM_S(PATCHED), "black patched" },
	{ KM_S(NEW_PAINT), "newly painted" },
	{ KM_S(SHOW_THROUGH), "pits show through" },
	{ KM_S(FILLED), "pits filled" },
	{ KM_S(STRAIGHT_DISPLAY), "straight, for display only" },
	{ KM_S(GLUED_DISPLAY), "handle glued, for display only" },
	{ KM_S(HANDLE_OFF), "handle off" }, { KM_S(NEW_HANDLE), "new handle" },
};

/* What a step may take away. */
static const struct word taken[] = {
	{ RUSTS, "rust gone" },
	{ KM_S(PITS_FEW) | KM_S(PITS_GENERAL), "pits gone" },
	{ KM_S(BENT_SOFT), "straight" },
	{ KM_S(ROUNDED) | KM_S(MUSHROOMED) | KM_S(CHIPPED_SMALL),
	  "square, and shorter" },
	{ KM_S(HANDLE_LOOSE), "handle tight" },
	{ KM_S(HYDROGEN), "hydrogen lessened, not gone" },
};

static void say(struct km_buf *b, size_t from, const char *text)
{
	km_buf_printf(b, "%s%s", b->len > from ? ", " : "", text);
}

void km_words_change(struct km_buf *b, uint64_t before,
		     const struct km_job_step *s)
{
	uint64_t came = s->words & ~before;
	size_t from = b->len;

	if (came & KM_S(POLISHED))
		came &= ~KM_S(STRIPPED);
	for (size_t i = 0; i < sizeof taken / sizeof *taken; i++)
		if ((before & taken[i].bits) && !(s->words & taken[i].bits))
			say(b, from, taken[i].text);
	for (size_t i = 0; i < sizeof brought / sizeof *brought; i++)
		if (came & brought[i].bits)
			say(b, from, brought[i].text);
	if ((before & KM_S(HANDLE_OFF)) && !(s->words & KM_S(HANDLE_OFF)) &&
	    !(came & KM_S(NEW_HANDLE)))
		say(b, from, "handle on");
	if (s->mark_fainter)
		say(b, from, "the mark fainter");
}

static const struct word faults[] = {
	{ KM_S(RUST1), "rust Ri 1" }, { KM_S(RUST2), "rust Ri 2" },
	{ KM_S(RUST3), "rust Ri 3" }, { KM_S(RUST4), "rust Ri 4" },
	{ KM_S(RUST5), "rust Ri 5" },
	{ KM_S(PITS_FEW), "few pits" }, { KM_S(PITS_GENERAL), "pits all over" },
	{ KM_S(SHOW_THROUGH), "pits that show through" },
	{ KM_S(FILLED), "filled pits" },
	{ KM_S(WORN_PLATE) | KM_S(WORN_ZINC) | KM_S(WORN_CADMIUM) |
	  KM_S(WORN_NICKEL) | KM_S(WORN_CHROME), "worn plating" },
	{ KM_S(PEELING_PLATE), "peeling plating" },
	{ KM_S(BLISTERED_PLATE), "blistered plating" },
	{ KM_S(WORN_BLACK), "worn black" },
	{ KM_S(WORN_PHOSPHATE), "worn phosphate" },
	{ KM_S(PATCHED), "patched black" }, { KM_S(PAINT_LOSS), "worn paint" },
	{ KM_S(BENT_SOFT) | KM_S(BENT_HARD), "bent" },
	{ KM_S(STRAIGHT_DISPLAY), "straightened, display only" },
	{ KM_S(ROUNDED), "rounded" }, { KM_S(MUSHROOMED), "mushroomed" },
	{ KM_S(CHIPPED_SMALL), "small chip" },
	{ KM_S(HANDLE_FADED), "handle faded" },
	{ KM_S(HANDLE_WRONG_COLOUR), "handle of a wrong colour" },
	{ KM_S(HANDLE_SPLIT), "handle split" },
	{ KM_S(HANDLE_STICKY), "handle sticky" },
	{ KM_S(HANDLE_LOOSE), "handle loose" },
	{ KM_S(HANDLE_MISSING), "handle missing" },
	{ KM_S(GLUED_DISPLAY), "glued handle, display only" },
	{ KM_S(HYDROGEN), "hydrogen in the steel" },
};

void km_words_faults(struct km_buf *b, uint64_t words)
{
	size_t from = b->len;

	for (size_t i = 0; i < sizeof faults / sizeof *faults; i++)
		if (words & faults[i].bits)
			say(b, from, faults[i].text);
}

/* ------------------------------------------------------------------ */
/* Hardness, openings                                                  */

static void add_hrc(struct km_buf *b, int32_t tenths)
{
	km_buf_mm(b, (int64_t)tenths * (KM_NM_PER_MM / 10), 1);
}

void km_words_hardness(struct km_buf *b, const struct km_job_hardness *h)
{
	if (h->from < 0 && h->to < 0) {
		km_buf_str(b, h->tested ? "hardness as tested"
					: "hardness unknown");
		return;
	}
	if (h->to < 0) {
		add_hrc(b, h->from);
		km_buf_str(b, " HRC or more");
	} else if (h->from < 0) {
		km_buf_str(b, "up to ");
		add_hrc(b, h->to);
		km_buf_str(b, " HRC");
	} else {
		add_hrc(b, h->from);
		if (h->to != h->from) {
			km_buf_str(b, " to ");
			add_hrc(b, h->to);
		}
		km_buf_str(b, " HRC");
	}
	km_buf_str(b, h->tested ? " as tested" : " by its kind");
}

void km_words_bake(struct km_buf *b, const struct km_job_hardness *h)
{
	switch (h->bake) {
	case KM_JOB_BAKE_HOURS:
		km_buf_printf(b, "bake at least %" PRId32 " h at %" PRId32
			      " to %" PRId32 " C", h->hours, h->c_from,
			      h->c_to);
		break;
	case KM_JOB_BAKE_ASK:
		km_buf_str(b, "harder than the bake table goes, ask about "
			      "relief bake");
		break;
	case KM_JOB_BAKE_UNKNOWN:
		km_buf_str(b, "ask about relief bake");
		break;
	default:
		return;
	}
	if (h->over_45)
		km_buf_str(b, "; above 45 HRC no ordinary electroplating");
}

void km_words_opening(struct km_buf *b, const struct km_job_opening *o)
{
	km_buf_printf(b, "opening %" PRIu32 " closes from ", o->end);
	km_buf_mm(b, o->was_nm, 3);
	km_buf_str(b, " to ");
	km_buf_mm(b, o->becomes_nm, 3);
	km_buf_str(b, " mm");
	if (!o->least_nm) {
		km_buf_str(b, ": gauge again");
		return;
	}
	km_buf_str(b, ", least ");
	km_buf_mm(b, o->least_nm, 3);
	if (o->becomes_nm < o->least_nm)
		km_buf_str(b, ": too tight, gauge again");
	else if (o->at_least_nm < o->least_nm)
		km_buf_str(b, "; a thick coat is too tight: gauge again");
	else
		km_buf_str(b, ": gauge again");
}

/* ------------------------------------------------------------------ */
/* Times, looks, photographs                                           */

/* Hundredths of an hour in the unit that suits them. */
struct time { int64_t n; const char *unit; };

static struct time time_of(int32_t t)
{
	int64_t h = t;

	if (h < 100)
		return (struct time){ (h * 60 + 50) / 100, "min" };
	if (h < 4800)
		return (struct time){ (h + 50) / 100, "h" };
	return (struct time){ (h + 1200) / 2400, "days" };
}

void km_words_times(struct km_buf *b, const int32_t t[3])
{
	struct time low = time_of(t[0]), is = time_of(t[1]);
	struct time high = time_of(t[2]);
	bool one = low.unit == is.unit && is.unit == high.unit;

	km_buf_printf(b, "%" PRId64 " %s", is.n, is.unit);
	if (one && low.n == high.n)
		return;
	if (one)
		km_buf_printf(b, " (%" PRId64 " to %" PRId64 ")", low.n,
			      high.n);
	else
		km_buf_printf(b, " (%" PRId64 " %s to %" PRId64 " %s)", low.n,
			      low.unit, high.n, high.unit);
}

void km_words_minutes(struct km_buf *b, const int32_t t[3])
{
	km_buf_printf(b, "%" PRId32 " min", t[1]);
	if (t[0] != t[2])
		km_buf_printf(b, " (%" PRId32 " to %" PRId32 ")", t[0], t[2]);
}

const char *km_look_word(const struct km_finish *f)
{
	static const char *const word[] = { "dull", "satin", "bright",
					    "bright" };

	if (!f || f->bright < 0 || f->bright > 3 ||
	    f->id == KM_FINISH_NICKEL || f->id == KM_FINISH_NICKEL_CHROME)
		return NULL;
	return word[f->bright];
}

void km_words_photos(struct km_buf *b, const struct km_match *m)
{
	const struct km_tool_more *more = m->tool ? m->tool->more : NULL;

	for (uint32_t i = 0; more && i < more->n_photos; i++)
		km_buf_printf(b, "%s%s", i ? ", " : "", more->photos[i]);
}
