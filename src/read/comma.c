/* SPDX-License-Identifier: MIT */
#include "read/comma.h"

#include "base/str.h"

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

static bool is_word(const struct km_node *n)
{
	for (uint32_t i = 0; i < n->n; i++)
		if (!is_digit(n->text[i]) && n->text[i] != '_' &&
		    ((n->text[i] | 32) < 'a' || (n->text[i] | 32) > 'z'))
			return false;
	return n->n && !is_digit(n->text[0]);
}

/* There is not even a colon, as far as the place of the value tells. */
bool km_is_rest(const struct km_node *key, const struct km_node *empty)
{
	size_t end = key->column + km_utf8_count(key->text, key->n);

	if (key->style != KM_PLAIN)
		return false;
	return !is_word(key) ||
	       (key->line == empty->line && empty->column == end);
}

static bool is_scalar(const struct km_node *n)
{
	return n && n->type == KM_NODE_SCALAR;
}

struct km_node **km_drop_rest(struct km_diags *d, const char *file,
			      struct km_node *map, const struct km_node *key)
{
	struct km_place at = { file, key->line, key->column };
	struct km_node *value = NULL, **k = &map->first;
	struct km_diag *one;

	while (*k != key) {
		value = (*k)->next;
		k = &value->next;
	}
	*k = NULL;
	if (is_scalar(value) && value->style == KM_PLAIN && !value->n)
		return k;
	one = km_diag_add(d, KM_M_STRAY_COMMA, at);
	if (is_scalar(value) && value->n &&
	    is_digit(value->text[value->n - 1]) && is_digit(key->text[0]))
		km_diag_hint(d, one, "write a point: %.20s.%.20s",
			     value->text, key->text);
	else
		km_diag_hint(d, one, "quote the value if the comma belongs to "
			     "it");
	if (is_scalar(value)) {
		value->n = 0;
		value->text = "";
		value->style = KM_PLAIN;
	}
	return k;
}
