/* SPDX-License-Identifier: MIT */
/*
 * words - findings in the words of the trade, the same on every sheet.
 *
 * All text is raw: it may hold text from files, and is escaped by whoever
 * prints it.
 */
#ifndef KM_REPORT_WORDS_H
#define KM_REPORT_WORDS_H

#include "base/buf.h"
#include "kitmuster/audit.h"
#include "report/table.h"
#include "trade/size.h"

/* --- slotwords.c: slots and tools ----------------------------------- */

/* "double open-ended spanner 1/4 W x 5/16 W": what kind, which sizes.
 * in_mm: also the width of those that are not struck in millimetres, as
 * "1/4 W (13.3 mm)". */
void km_words_of_slot(struct km_buf *b, const struct km_slot *s, bool in_mm);
/* The same and what else tells it apart: length, finish, mark, handle. */
void km_words_of_want(struct km_buf *b, const struct km_slot *s, bool in_mm);
/* Of a tool that is away: " since 2026-03-03, due 2026-04-01"; nothing when
 * neither is recorded. */
void km_words_since(struct km_buf *b, const struct km_tool *t);
/* A tool as recorded: kind, sizes or openings, length. */
void km_words_of_traits(struct km_buf *b, const struct km_traits *t);
/* "S-03", or "kit/S-03" for a slot of another kit than home (NULL: any). */
void km_words_slot_ref(struct km_buf *b, const struct km_slot *s,
		       const struct km_kit *home);

/* "1/4 W x 5/16 W", in_mm as above. */
void km_words_sizes(struct km_buf *b, const union km_value *v, bool in_mm);
/* One wanted value, or several with "or" between. */
void km_words_wanted(struct km_buf *b, const struct km_want *w,
		     enum km_attr a);
/* The same of a slot, where the word "maker" is read as the marks of the
 * kit's maker: "BRACKWELL or BW". */
void km_words_wanted_of(struct km_buf *b, const struct km_slot *s,
			enum km_attr a);
/* One value as recorded; spans in millimetres (degrees for an angle). */
void km_words_value(struct km_buf *b, const union km_value *v, enum km_attr a);
/* "148 +-3 mm" */
void km_words_span(struct km_buf *b, struct km_span s, enum km_attr a);

/* --- reason.c: one tool against one slot ---------------------------- */

const char *km_aspect_word(enum km_aspect a);	/* "handle colour" */
/* The attribute that it compares; KM_ATTRS: none. */
enum km_attr km_aspect_attr(enum km_aspect a);
/* The headline of a match: "length +13 mm, 10 over tolerance".  Nothing when
 * it has none. */
void km_reason(struct km_buf *b, const struct km_match *m);
/* One aspect, whether it failed or not; nothing when it is as wanted. */
void km_reason_of(struct km_buf *b, const struct km_match *m, enum km_aspect a);
/* Is the headline's evidence weak? */
bool km_reason_is_weak(const struct km_match *m);
/* How sure the kit is of what the aspect claims. */
enum km_certainty km_reason_certainty(const struct km_match *m,
				      enum km_aspect a);
const char *km_damage_word(enum km_damage_what d);
/* A condition as recorded, by the published degrees where there are any:
 * "rust Ri 3, a few pits, plating 60 % left (Rp 1), jaw spread by 0.35 mm". */
void km_words_condition(struct km_buf *b, const struct km_condition *c);

/* --- fitwords.c: into the pouch ------------------------------------- */

/* "8 mm too long for pocket 4", "not measured, so not known to go into pocket
 * 4"; nothing where it fits, or need not. */
void km_words_fit(struct km_buf *b, const struct km_way_fit *f);

/* --- evidencewords.c: what claims rest on --------------------------- */

const char *km_source_word(enum km_source_what w);	/* "parts-list" */
const char *km_says_word(enum km_says s);		/* "against" */
const char *km_sure_by_word(enum km_sure_by s);		/* "stated" */
/* "against 1, for 1 (+1 dependent)" */
void km_words_evidence(struct km_buf *b, const struct km_evidence *e);
/* "but that rests on one recollection", "but its place is disputed"; w NULL:
 * of the slot itself. */
void km_words_weak(struct km_buf *b, const struct km_slot *s,
		   const struct km_want *w);

/* --- verdicts.c: verdicts, decisions, ids --------------------------- */

/* A verdict as printed: "doubt" for a slot that is not firm. */
const char *km_slot_verdict_word(const struct km_slot_audit *s);
/* Its shape, for beside the word: a path within 2 units about the origin;
 * NULL: the word is no verdict. */
const char *km_verdict_shape(const char *word);
enum km_tone km_slot_tone(const struct km_slot_audit *s);
enum km_tone km_verdict_tone(enum km_verdict v);
const char *km_decide_word(enum km_decide d);
const char *km_fit_word(enum km_fitness f);
const char *km_way_word(enum km_way_kind k);
const char *km_bill_word(enum km_bill_kind k);
const char *km_aim_word(enum km_aim a);
/* Why a slot is not right: the headline of its worst piece, "1 of 2", "on
 * order"; nothing when there is nothing to say. */
void km_reason_of_slot(struct km_buf *b, const struct km_slot_audit *s);
/* The id of what was compared, a tool's or an offer's. */
const char *km_match_id(const struct km_match *m);

/* --- readingwords.c: which kit, where that is open ------------------- */

const char *km_undecided_word(enum km_undecided u);	/* "market" */
const char *km_chosen_by_word(enum km_chosen_by by);	/* "serial" */
/* What tells a reading from the others: its market, or the id of its kit. */
const char *km_reading_name(const struct km_kit_audit *k,
			    const struct km_kit_reading *r);
/* The slot of a reading that is slot i of the kit; NULL: it has none. */
const struct km_slot_audit *km_reading_slot(const struct km_kit_reading *r,
					    uint32_t i);
/* Is slot i of reading r in no way a slot of the kit that is audited? */
bool km_reading_alone(const struct km_kit_audit *k,
		      const struct km_kit_reading *r, uint32_t i);
/* Places that a reading has and the kit has not. */
int32_t km_readings_alone(const struct km_kit_audit *k);
/* "serial 8100 may be of a or b" */
void km_words_which(struct km_buf *b, const struct km_kit_audit *k);
/* "outside its range by 62"; nothing for a machine that lies in it. */
void km_words_outside(struct km_buf *b, const struct km_kit_audit *k);
/* "built 1955 points to a, serial 27412 to b: the number counts" */
void km_words_elsewhere(struct km_buf *b, const struct km_kit_audit *k,
			const struct km_elsewhere *e);
/* "right as home or mail (T-3), gap as export", for a slot of the kit; and for
 * slot i of a reading that alone has it. */
void km_words_depends(struct km_buf *b, const struct km_kit_audit *k,
		      const struct km_slot_audit *s);
void km_words_alone(struct km_buf *b, const struct km_kit_audit *k,
		    const struct km_kit_reading *r, uint32_t i);
/* "10 to 11 of 12 under either reading" */
void km_words_range(struct km_buf *b, const struct km_kit_audit *k);

/* --- remark.c ------------------------------------------------------- */

const char *km_remark_word(enum km_remark_what w);	/* "pin-worse" */
/* One sentence without a full stop; money in minor units of `decimals`. */
void km_words_remark(struct km_buf *b, const struct km_remark *r,
		     const struct km_kit *home, int decimals);

#endif
