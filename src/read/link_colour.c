/* SPDX-License-Identifier: MIT */
/* Colour words of tools and offers, which the kits of the run may define. */
#include <string.h>

#include "base/str.h"
#include "read/link.h"

enum { TAG_COLOUR_OF = 103 };	/* of b.words, clear of those of attr.c */

/* Kits stand in order of their ids: the first that defines the word. */
static uint32_t look_up(const struct km_load *l, const char *word,
			uint32_t otherwise)
{
	const struct km_kit *kit;
	uint32_t i, k;

	for (i = 0; i < l->n_kits; i++) {
		kit = l->kits[i];
		for (k = 0; k < kit->n_colours; k++)
			if (!km_fold_compare(km_slice_of(kit->colours[k].word),
					     km_slice_of(word)))
				return kit->colours[k].rgb;
	}
	return otherwise;
}

/* Words are kept once, so that their address stands for them. */
static void settle(struct km_reader *r, const struct km_traits *t,
		   struct km_place at)
{
	union km_value *v =
		(union km_value *)km_trait(t, KM_A_HANDLE_COLOUR);
	const union km_value *known;
	struct km_diag *one;
	const char *word;

	if (!v)
		return;
	word = v->colour.word;
	known = km_words_find(r->b.words, TAG_COLOUR_OF, (const char *)&word,
			      sizeof word);
	if (known) {
		v->colour.rgb = known->colour.rgb;
		return;
	}
	v->colour.rgb = look_up(r->load, word, v->colour.rgb);
	if (v->colour.rgb == KM_COLOUR_WORD_ONLY) {
		one = km_diag_add(r->b.d, KM_M_UNLISTED_COLOUR, at, word);
		km_diag_hint(r->b.d, one, "it is compared as a word; a kit "
			     "can define it under 'colours'");
	}
	if (!km_words_keep(r->b.words, TAG_COLOUR_OF, (const char *)&word,
			   sizeof word, *v))
		r->b.nomem = true;
}

void km_link_colours(struct km_reader *r)
{
	const struct km_tools *bench = &r->load->bench;
	const struct km_prices *p = r->load->prices;
	const struct km_tool *tool;
	const struct km_offer *offer;
	const struct km_slot *s;
	const struct km_want *w;
	struct km_traits traits;
	uint32_t k, i, j;
	size_t t;

	for (t = 0; t < bench->n; t++) {
		tool = km_tool_at(bench, t);
		if (tool->traits.has & (uint32_t)1 << KM_A_HANDLE_COLOUR)
			settle(r, &tool->traits, tool->at);
	}
	for (i = 0; p && i < p->n_offers; i++) {
		offer = r->link->offer[i];
		settle(r, &offer->traits, offer->at);
	}
	for (k = 0; k < r->load->n_kits; k++) {
		for (i = 0; i < r->load->kits[k]->n_slots; i++) {
			s = &r->load->kits[k]->slots[i];
			w = &s->want[KM_A_HANDLE_COLOUR];
			for (j = 0; j < w->n; j++) {
				if (w->any[j].colour.rgb !=
				    KM_COLOUR_WORD_ONLY)
					continue;
				traits = (struct km_traits){
					.has = (uint32_t)1
					       << KM_A_HANDLE_COLOUR,
					.v = &w->any[j],
				};
				settle(r, &traits, w->at);
			}
		}
	}
}
