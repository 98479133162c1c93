/* SPDX-License-Identifier: MIT */
#include "report/words.h"

#include <inttypes.h>

#include "kitmuster/evidence.h"
#include "read/attr.h"

const char *km_source_word(enum km_source_what w)
{
	return km_source_words[w];
}

const char *km_says_word(enum km_says s)
{
	static const char *const word[] = {
		[KM_SAYS_FOR] = "for", [KM_SAYS_AGAINST] = "against",
		[KM_SAYS_SILENT] = "silent",
	};

	return word[s];
}

const char *km_sure_by_word(enum km_sure_by s)
{
	static const char *const word[] = {
		[KM_SURE_BY_WORD] = "file", [KM_SURE_BY_STATEMENT] = "stated",
		[KM_SURE_BY_SOURCES] = "sources", [KM_SURE_BY_SLOT] = "slot",
	};

	return word[s];
}

static void add_side(struct km_buf *b, const char *side, uint32_t mentions,
		     uint32_t dependent, uint32_t roots)
{
	km_buf_printf(b, "%s %" PRIu32, side, roots);
	if (mentions == roots)
		return;
	if (mentions - dependent != roots)
		km_buf_printf(b, " (%" PRIu32 " mention%s, %" PRIu32
			      " root%s)", mentions, mentions == 1 ? "" : "s",
			      roots, roots == 1 ? "" : "s");
	else
		km_buf_printf(b, " (+%" PRIu32 " dependent)", dependent);
}

void km_words_evidence(struct km_buf *b, const struct km_evidence *e)
{
	if (e->mentions_against) {
		add_side(b, "against", e->mentions_against,
			 e->dependent_against, e->roots_against);
		km_buf_str(b, ", ");
	}
	add_side(b, "for", e->mentions, e->dependent, e->roots);
	if (e->roots_silent)
		km_buf_printf(b, ", silent %" PRIu32, e->roots_silent);
}

/* "one recollection", "2 survivors", "one book (3 mentions)" */
static void add_rest(struct km_buf *b, const struct km_evidence *e)
{
	static const struct { const char *one, *many; } noun[] = {
		[KM_SRC_PARTS_LIST] = { "parts list", "parts lists" },
		[KM_SRC_DRAWING] = { "drawing", "drawings" },
		[KM_SRC_HANDBOOK] = { "handbook", "handbooks" },
		[KM_SRC_PICTURE] = { "picture", "pictures" },
		[KM_SRC_SALES] = { "sales paper", "sales papers" },
		[KM_SRC_PHOTOGRAPH] = { "photograph", "photographs" },
		[KM_SRC_SURVIVOR] = { "survivor", "survivors" },
		[KM_SRC_BOOK] = { "book", "books" },
		[KM_SRC_RECOLLECTION] = { "recollection", "recollections" },
		[KM_SRC_OTHER] = { "source", "sources" },
		[KM_SRC_WHATS] = { "source", "sources" },
	};
	uint32_t n = e->mentions == 1 ? 1 : e->roots;

	if (n == 1)
		km_buf_printf(b, "one %s", noun[e->rests_on].one);
	else
		km_buf_printf(b, "%" PRIu32 " %s", n, noun[e->rests_on].many);
	if (e->mentions > n)
		km_buf_printf(b, " (%" PRIu32 " mentions)", e->mentions);
}

void km_words_weak(struct km_buf *b, const struct km_slot *s,
		   const struct km_want *w)
{
	const struct km_evidence *e = w && w->own_certainty ? w->evidence
							    : s->evidence;
	enum km_certainty c = w && w->own_certainty ? w->certainty : s->exists;

	if (w && w->disputed)
		km_buf_str(b, "but claims on that disagree");
	else if (!e || (w && !w->own_certainty) || c == KM_CONJECTURE ||
		 !e->mentions)
		km_buf_printf(b, "but %s is %s",
			      w && w->own_certainty ? "that" : "its place",
			      km_certainty_word(c));
	else if (e->mentions_against && c == KM_DISPUTED)
		km_buf_str(b, "but sources on that disagree");
	else {
		km_buf_str(b, "but that rests on ");
		add_rest(b, e);
	}
}
