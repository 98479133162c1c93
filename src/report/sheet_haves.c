/* SPDX-License-Identifier: MIT */
/*
 * haves - what is owned, by kind and size, so that nobody buys the eleventh.
 * 40 columns, no colour; names neither owners nor values.
 */
#include "report/encode.h"
#include "report/words.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "trade/kind.h"

#define CELLS 40
#define COUNT_CELLS 4		/* of a count, right-aligned */

/* One tool as it is counted. */
struct have {
	const char *kind, *size;
	bool ordered;
};

static bool is_ours(const struct km_audit *a, size_t i,
		    const struct km_tool *t)
{
	if (a->fate)
		return a->fate[i] != KM_FATE_NOT_OURS;
	return !t->owner || !strcmp(t->owner, "own");
}

static void word_size(struct km_buf *b, const struct km_traits *t)
{
	const union km_value *v = km_trait(t, KM_A_SIZES);

	if (v) {
		km_words_sizes(b, v, true);
	} else if ((v = km_trait(t, KM_A_OPENINGS)) != NULL) {
		km_buf_str(b, "opening ");
		km_words_value(b, v, KM_A_OPENINGS);
	} else if ((v = km_trait(t, KM_A_LENGTH)) != NULL) {
		km_buf_str(b, "length ");
		km_buf_mm(b, v->span.nm, 1);
		km_buf_str(b, " mm");
	} else {
		km_buf_str(b, "size not recorded");
	}
}

static int by_kind(const void *one, const void *two)
{
	const struct have *a = one, *b = two;
	int order = strcmp(a->kind, b->kind);

	if (!order)
		order = km_natural_compare(a->size, b->size);
	return order ? order : a->ordered - b->ordered;
}

static size_t collect(struct km_page *p, struct have *v)
{
	const struct km_tools *bench = &p->audit->load->bench;
	size_t n = 0;

	for (size_t i = 0; i < bench->n && !p->failed; i++) {
		const struct km_tool *t = km_tool_at(bench, i);
		const union km_value *kind = km_trait(&t->traits, KM_A_TOOL);

		if (!is_ours(p->audit, i, t))
			continue;
		km_buf_clear(&p->line);
		word_size(&p->line, &t->traits);
		v[n].kind = kind ? kind->kind->name : "kind not recorded";
		v[n].size = km_arena_text(p->mem, p->line.text, p->line.len);
		v[n].ordered = t->status == KM_ORDERED;
		p->failed |= !v[n++].size || km_buf_failed(&p->line);
	}
	km_buf_clear(&p->line);
	return n;
}

/* "   3  10 mm x 12 mm (1 on order)" */
static void write_count(struct km_page *p, const struct have *h, size_t n,
			size_t ordered)
{
	km_buf_printf(&p->line, "%s", h->size);
	if (ordered)
		km_buf_printf(&p->line, " (%zu on order)", ordered);
	km_buf_printf(&p->out, "%*zu  ", COUNT_CELLS, n);
	km_wrap(&p->out, p->line.text, COUNT_CELLS + 2, COUNT_CELLS + 4, CELLS);
	km_buf_clear(&p->line);
}

static void write_all(struct km_page *p, const struct have *v, size_t n)
{
	for (size_t i = 0, end; i < n; i = end) {
		size_t ordered = 0;

		if (!i || strcmp(v[i].kind, v[i - 1].kind) != 0)
			km_wrap(&p->out, v[i].kind, 0, 2, CELLS);
		for (end = i; end < n && !strcmp(v[end].kind, v[i].kind) &&
			      !strcmp(v[end].size, v[i].size); end++)
			ordered += v[end].ordered;
		write_count(p, &v[i], end - i, ordered);
	}
}

void km_text_haves(struct km_page *p)
{
	const struct km_load *load = p->audit->load;
	struct have *v = km_arena_alloc(p->mem, load->bench.n + 1, sizeof *v);
	size_t n;

	if (!v) {
		p->failed = true;
		return;
	}
	n = collect(p, v);
	if (p->failed)
		return;
	qsort(v, n, sizeof *v, by_kind);
	km_buf_printf(&p->out, "HAVES: %zu tool%s\n", n, n == 1 ? "" : "s");
	write_all(p, v, n);
}
