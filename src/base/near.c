/* SPDX-License-Identifier: MIT */
#include "base/near.h"

#include <string.h>

static char plain(char c)
{
	if (c >= 'A' && c <= 'Z')
		return (char)(c + ('a' - 'A'));
	return c == '-' || c == '_' ? ' ' : c;
}

static size_t least(size_t a, size_t b)
{
	return a < b ? a : b;
}

/*
 * Optimal string alignment: the usual table of prefixes, row by row, with the
 * row before last kept for swaps.  A swapped pair is not edited again.
 */
size_t km_edit_distance(const char *a, const char *b, size_t limit)
{
	size_t rows[3][KM_NEAR_WORD + 1];
	size_t *now = rows[0], *last = rows[1], *before = rows[2];
	size_t na = strlen(a), nb = strlen(b);

	if (na > KM_NEAR_WORD || nb > KM_NEAR_WORD
	    || (na > nb ? na - nb : nb - na) > limit)
		return limit + 1;
	for (size_t j = 0; j <= nb; j++)
		now[j] = j;
	for (size_t i = 1; i <= na; i++) {
		size_t *spare = before;

		before = last;
		last = now;
		now = spare;
		now[0] = i;
		for (size_t j = 1; j <= nb; j++) {
			char x = plain(a[i - 1]), y = plain(b[j - 1]);

			now[j] = least(last[j - 1] + (x != y),
				       least(last[j], now[j - 1]) + 1);
			if (i > 1 && j > 1 && x == plain(b[j - 2])
			    && plain(a[i - 2]) == y)
				now[j] = least(now[j], before[j - 2] + 1);
		}
	}
	return least(now[nb], limit + 1);
}

void km_near_init(struct km_near *n, const char *meant)
{
	size_t third = strlen(meant) / 3;

	*n = (struct km_near){ .meant = meant, .distance = third ? third : 1 };
}

void km_near_offer(struct km_near *n, const char *word)
{
	size_t d = km_edit_distance(n->meant, word, n->distance);

	if (d > n->distance)
		return;
	if (d < n->distance)
		n->n = 0;
	n->distance = d;
	for (size_t i = 0; i < n->n; i++)
		if (!strcmp(n->best[i], word))
			return;
	if (n->n < sizeof n->best / sizeof *n->best) {
		n->best[n->n++] = word;
		return;
	}
	/* four alike tell nothing: from now on only a nearer word counts */
	n->n = 0;
	if (n->distance)
		n->distance--;
}
