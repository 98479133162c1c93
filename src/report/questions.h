/* SPDX-License-Identifier: MIT */
/*
 * questions - what is open, in words.
 *
 * Each function adds to a buffer, without a full stop.
 */
#ifndef KM_REPORT_QUESTIONS_H
#define KM_REPORT_QUESTIONS_H

#include "base/buf.h"
#include "kitmuster/questions.h"

/* "kit", "slot", "claim", "tool" */
const char *km_ask_word(enum km_question_what w);
/* "as-wanted" */
const char *km_answer_word(enum km_answer_what w);
/* "handle_colour", as in files; NULL for KM_ATTRS. */
const char *km_attr_key(enum km_attr a);

/* "Larkmoor 54, serial 4417": what the file calls it; nothing if it does not. */
void km_words_machine(struct km_buf *b, const struct km_machine *m);
/* "D7 screwdriver: is the handle colour amber?"; home NULL: with the kit,
 * and with the machine. */
void km_words_question(struct km_buf *b, const struct km_question *q,
		       const struct km_kit *home);
/* The same, short: "length of T-1 for S-02". */
void km_words_question_short(struct km_buf *b, const struct km_question *q,
			     const struct km_kit *home);
/* Why it is open: "disputed, for ph1, against pl3". */
void km_words_open(struct km_buf *b, const struct km_question *q);
/* What to do to find out. */
void km_words_find_out(struct km_buf *b, const struct km_question *q);
/* "as wanted, 148 mm" */
void km_words_answer(struct km_buf *b, const struct km_answer *a);
/* Its value alone, as files write it; several with " or " between. */
void km_words_answer_value(struct km_buf *b, const struct km_answer *a);
/* "A11 gap, was doubt (gap)" */
void km_words_turn(struct km_buf *b, const struct km_turn *t,
		   const struct km_kit *home);
/* The verdict of a standing: "doubt" if it is not firm, "not-there". */
const char *km_standing_word(const struct km_standing *s);

#endif
