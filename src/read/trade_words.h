/* SPDX-License-Identifier: MIT */
/*
 * trade_words - words of the trade tables as they stand in files.
 *
 * A kind, finish or material that no table lists is accepted with a warning;
 * a row for it is made in the arena of the load, one a folded word, so that
 * such rows compare as pointers too.  NULL after a message.
 */
#ifndef KM_READ_TRADE_WORDS_H
#define KM_READ_TRADE_WORDS_H

#include "read/bind.h"

const struct km_kind *km_kind_word(struct km_bind *b, const struct km_field *f,
				   const struct km_node *n);
const struct km_drive *km_drive_word(struct km_bind *b,
				     const struct km_field *f,
				     const struct km_node *n);
const struct km_material *km_material_word(struct km_bind *b,
					   const struct km_field *f,
					   const struct km_node *n);
/* One finish, "black, forged faces", or {body: , faces: }. */
bool km_finish_value(struct km_bind *b, const struct km_field *f,
		     const struct km_node *n, union km_value *out);

#endif
