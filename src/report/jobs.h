/* SPDX-License-Identifier: MIT */
/*
 * jobs - the words that the job sheet and the plater's manifest share.
 */
#ifndef KM_REPORT_JOBS_H
#define KM_REPORT_JOBS_H

#include "kitmuster/jobs.h"
#include "report/page.h"
#include "trade/process.h"

/* The next one of "why not"; nothing when all bits have been said.  One
 * sentence without a full stop; clears the bit that it says. */
void km_words_bar(struct km_buf *b, const struct km_job_barred *x,
		  uint32_t *bars);
/* "allowed: a soft brush, citric acid soak"; nothing where nothing bars. */
void km_words_allowed(struct km_buf *b, const struct km_job_barred *x);
/* What a step changed: "rust gone; hydrogen in the steel"; nothing for a step
 * that only prepares. */
void km_words_change(struct km_buf *b, uint64_t before,
		     const struct km_job_step *s);
/* The faults among the words of a state: "few pits, worn plating". */
void km_words_faults(struct km_buf *b, uint64_t words);
/* "45 HRC as tested", "38 to 54 HRC by its kind", "hardness unknown". */
void km_words_hardness(struct km_buf *b, const struct km_job_hardness *h);
/* "bake 18 h at 190 to 220 C", "ask about relief bake"; nothing where none is
 * needed. */
void km_words_bake(struct km_buf *b, const struct km_job_hardness *h);
/* "opening 1 closes from 13.05 to 13.03 mm, least 13.04: gauge again" */
void km_words_opening(struct km_buf *b, const struct km_job_opening *o);
/* Hundredths of an hour: "8 h (2 to 24)", "10 days". */
void km_words_times(struct km_buf *b, const int32_t t[3]);
/* "3 min (1 to 6)" */
void km_words_minutes(struct km_buf *b, const int32_t t[3]);
/* "dull", "satin", "bright"; NULL: the finish comes either way, or is not
 * known. */
const char *km_look_word(const struct km_finish *f);
/* "p-1, p-2"; nothing without photographs. */
void km_words_photos(struct km_buf *b, const struct km_match *m);

#endif
