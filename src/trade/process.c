/* SPDX-License-Identifier: MIT */
#include "trade/process.h"

#include <string.h>

#include "base/num.h"
#include "trade/caution.h"

#define PIECE KM_BY_PIECE
#define BATCH KM_BY_BATCH
#define LOT KM_BY_LOT
#define SUM KM_RULE_SUM
#define MAX KM_RULE_MAX
const struct km_process km_processes[KM_PROCESSES] = {
#define PROCESS(id, name, place, needs, cures, improves, leaves, harms, \
		never_on, nm_l, nm_m, nm_h, hands_l, hands_m, hands_h, \
		hours_l, hours_m, hours_h, by, rule, load_l, load_m, load_h, \
		batch_l, batch_m, batch_h, piece_l, piece_m, piece_h, \
		cautions, cure_basis, time_basis, cost_basis, source) \
	{ KM_PROCESS_##id, #id, name, place, needs, cures, improves, leaves, \
	  harms, never_on, { nm_l, nm_m, nm_h }, \
	  { hands_l, hands_m, hands_h }, { hours_l, hours_m, hours_h }, by, \
	  rule, { load_l, load_m, load_h }, { batch_l, batch_m, batch_h }, \
	  { piece_l, piece_m, piece_h }, cautions, cure_basis, time_basis, \
	  cost_basis, source },
#include "data/processes.def"
#undef PROCESS
};
#undef PIECE
#undef BATCH
#undef LOT
#undef SUM
#undef MAX

/* Words of the rows, with their lengths: a run reads every row, and most
 * comparisons end at the length or the first letter. */
#define WORD(text) { text, sizeof(text) - 1 }

static const struct km_slice state_words[KM_STATES] = {
#define X(id, text) WORD(text),
	KM_STATE_WORDS(X)
#undef X
};

static const struct km_slice nothing_words[] = {
	WORD("clean"), WORD("rust0"), WORD("none"), WORD("bright"),
	WORD("semi_bright"), WORD("fine_lines"), WORD("square"),
	WORD("straight"), WORD("tight"), WORD("settled"), WORD("reduced")
};

static const struct km_slice process_ids[KM_PROCESSES] = {
#define PROCESS(id, ...) [KM_PROCESS_##id] = WORD(#id),
#include "data/processes.def"
#undef PROCESS
};

static const struct km_slice finish_ids[KM_FINISH_COUNT] = {
#define FINISH(id, ...) [KM_FINISH_##id] = WORD(#id),
#include "data/finishes.def"
#undef FINISH
};

static const char *const material_ids[KM_MATERIAL_COUNT] = {
#define MATERIAL(id, ...) [KM_MATERIAL_##id] = #id,
#include "data/materials.def"
#undef MATERIAL
};

const struct km_process *km_process_find(struct km_slice word)
{
	for (int i = 0; i < KM_PROCESSES; i++)
		if (!km_fold_compare(word, km_slice_of(km_processes[i].word)))
			return &km_processes[i];
	return NULL;
}

void km_process_word(const struct km_process *p, char out[KM_PROCESS_ROOM])
{
	size_t i = 0;

	for (; p->word[i] && i < KM_PROCESS_ROOM - 1; i++) {
		char c = p->word[i];

		out[i] = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
	}
	out[i] = '\0';
}

/* Is c one of the separators, of which there are three at most? */
static bool separates(const char *separators, char c)
{
	return c == separators[0] ||
	       (separators[1] && (c == separators[1] || c == separators[2]));
}

/* Words up to a separator, which is eaten; false at the end of the list. */
static bool next_word(struct km_slice *list, const char *separators,
		      struct km_slice *word)
{
	if (!list->n)
		return false;
	word->p = list->p;
	word->n = 0;
	while (word->n < list->n && !separates(separators, list->p[word->n]))
		word->n++;
	list->p += word->n;
	list->n -= word->n;
	if (list->n) {
		list->p++;
		list->n--;
	}
	*word = km_slice_trim(*word);
	return true;
}

static char lower(char c)
{
	return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

/* A word of a row, in small letters, against one of ours in either case. */
static bool same(struct km_slice word, struct km_slice ours)
{
	if (word.n != ours.n || !word.n || word.p[0] != lower(ours.p[0]))
		return false;
	for (size_t i = 1; i < word.n; i++)
		if (word.p[i] != lower(ours.p[i]))
			return false;
	return true;
}

static int state_of(struct km_slice word)
{
	for (int i = 0; i < KM_STATES; i++)
		if (same(word, state_words[i]))
			return i;
	for (size_t i = 0; i < sizeof nothing_words / sizeof *nothing_words; i++)
		if (same(word, nothing_words[i]))
			return KM_S_NOTHING;
	return -1;
}

static bool read_changes(const char *text, bool whole, struct km_effect *e)
{
	struct km_slice list = km_slice_of(text), item, from;

	while (next_word(&list, ";", &item)) {
		int a, b;

		if (!next_word(&item, ">", &from))
			return false;
		a = state_of(from);
		b = state_of(km_slice_trim(item));
		if (a < 0 || a == KM_S_NOTHING || b < 0 ||
		    e->n_changes == KM_CHANGES)
			return false;
		/* oil covers bare steel and takes no coat away */
		if (b == KM_S_OPEN)
			continue;
		e->change[e->n_changes++] = (struct km_change){
			(uint8_t)a, (uint8_t)b, whole };
		e->from |= KM_BIT(a);
	}
	return true;
}

static bool read_needs(const char *text, struct km_effect *e)
{
	struct km_slice list = km_slice_of(text), item, word;

	while (next_word(&list, ";", &item)) {
		uint64_t set = 0;

		while (next_word(&item, "(|)", &word)) {
			int p = 0;

			while (p < KM_PROCESSES && !same(word, process_ids[p]))
				p++;
			if (p < KM_PROCESSES)
				set |= KM_BIT(p);
			else if (word.n)
				return false;
		}
		if (!set || e->n_needs == KM_NEEDS)
			return false;
		e->need[e->n_needs++] = set;
	}
	return true;
}

static bool read_guards(const char *text, struct km_effect *e)
{
	static const char *const conditions[] = {
		"cond:lead_paint_untested", "cond:cracked", "cond:spread",
		"cond:soldered"
	};
	struct km_slice list = km_slice_of(text), word;

	while (next_word(&list, ";", &word)) {
		bool found = false;

		for (int i = 1; i < KM_FINISH_COUNT && !found; i++) {
			found = same(word, finish_ids[i]);
			if (found)
				e->never_finish |= KM_BIT(i);
		}
		for (uint32_t i = 0; i < 4 && !found; i++) {
			found = km_slice_is(word, conditions[i]);
			if (found)
				e->never |= (uint32_t)1 << i;
		}
		if (!found)
			return false;
	}
	return true;
}

static bool read_hours(const char *text, int32_t *hundredths)
{
	struct km_slice s = km_slice_of(text);
	struct km_rational v;
	int64_t h;
	int places;

	if (km_decimal_eat(&s, false, &v, &places) != KM_OK || s.n ||
	    !km_mul_div(v.num, 100, v.den, &h) || h > INT32_MAX)
		return false;
	*hundredths = (int32_t)h;
	return true;
}

bool km_effect_read(const struct km_process *p, struct km_effect *out)
{
	*out = (struct km_effect){ .n_changes = 0 };
	for (int i = 0; i < 3; i++)
		if (!read_hours(p->elapsed_h[i], &out->elapsed[i]))
			return false;
	out->cautions = km_caution_mask(p->cautions);
	return read_changes(p->cures, true, out) &&
	       read_changes(p->improves, false, out) &&
	       read_needs(p->needs, out) && read_guards(p->never_on, out);
}

uint64_t km_material_guard(const struct km_material *m)
{
	if (m->id == KM_MATERIAL_UNLISTED)
		return 0;
	for (int i = 1; i < KM_FINISH_COUNT; i++)
		if (!strcmp(finish_ids[i].p, material_ids[m->id]))
			return KM_BIT(i);
	return 0;
}
