/* SPDX-License-Identifier: MIT */
#include "trade/words.h"

#include <string.h>

static bool is_gap(char c)
{
	return c == ' ' || c == '\t' || c == '-' || c == '_';
}

bool km_word_fold(struct km_slice s, char out[KM_WORD_ROOM])
{
	size_t n = 0;
	bool gap = false;

	for (size_t i = 0; i < s.n; i++) {
		char c = s.p[i];

		if (is_gap(c)) {
			gap = n > 0;
			continue;
		}
		if (n + 2 >= KM_WORD_ROOM)
			return false;
		if (gap)
			out[n++] = ' ';
		gap = false;
		if (c >= 'A' && c <= 'Z')
			c = (char)(c + 'a' - 'A');
		out[n++] = c;
	}
	out[n] = '\0';
	return true;
}

int km_word_find(const struct km_word *table, size_t n, struct km_slice s)
{
	char word[KM_WORD_ROOM];
	size_t low = 0, high = n;

	if (!km_word_fold(s, word))
		return -1;
	while (low < high) {
		size_t mid = low + (high - low) / 2;
		int c = strcmp(word, table[mid].word);

		if (!c)
			return table[mid].row;
		if (c < 0)
			high = mid;
		else
			low = mid + 1;
	}
	return -1;
}
