/* SPDX-License-Identifier: MIT */
#include <string.h>

#include "read/benchtext.h"

static bool is_alnum(char c)
{
	return (c >= '0' && c <= '9') || ((c | 32) >= 'a' && (c | 32) <= 'z');
}

/* Can the text stand without quotes, also inside [ ] and { }? */
static bool is_safe(const struct km_node *n)
{
	uint32_t i;

	if (!n->n || !is_alnum(n->text[0]) || n->text[n->n - 1] == ' ' ||
	    !strcmp(n->text, "null"))
		return false;
	for (i = 0; i < n->n; i++)
		if (!is_alnum(n->text[i]) && !strchr(" ._/+%()-", n->text[i]))
			return false;
	return true;
}

static void put_scalar(struct km_buf *b, const struct km_node *n)
{
	const char *p;

	if (n->style == KM_PLAIN && is_safe(n)) {
		km_buf_add(b, n->text, n->n);
		return;
	}
	km_buf_char(b, '"');
	for (p = n->text; p < n->text + n->n; p++) {
		if (*p == '"' || *p == '\\')
			km_buf_char(b, '\\');
		if (*p == '\n')
			km_buf_str(b, "\\n");
		else if (*p == '\t')
			km_buf_str(b, "\\t");
		else
			km_buf_char(b, *p);
	}
	km_buf_char(b, '"');
}

enum order { AS_IT_IS, OF_TOOL, OF_CONDITION, BY_NAME };

static int compare_keys(const char *a, const char *b, enum order order)
{
	uint32_t x = 0, y = 0;

	if (order != BY_NAME) {
		x = km_bench_rank(a, order == OF_CONDITION);
		y = km_bench_rank(b, order == OF_CONDITION);
	}
	return x != y ? (x < y ? -1 : 1) : strcmp(a, b);
}

/* The key behind `last`, NULL the first; NULL: none. */
static const struct km_node *next_key(const struct km_node *map,
				      const struct km_node *last,
				      enum order order)
{
	const struct km_node *key, *best = NULL;

	if (order == AS_IT_IS)
		return last ? last->next->next : map->first;
	for (key = map->first; key; key = key->next->next)
		if ((!last || compare_keys(key->text, last->text, order) > 0) &&
		    (!best || compare_keys(key->text, best->text, order) < 0))
			best = key;
	return best;
}

static enum order order_of(const struct km_node *key)
{
	return !strcmp(key->text, "condition") ? OF_CONDITION
	       : !strcmp(key->text, "extra") ? BY_NAME : AS_IT_IS;
}

/* Values of a tool are some three deep. */
static void put_value(struct km_buf *b, const struct km_node *n,
		      enum order order)
{
	const struct km_node *p;
	const char *between = "";

	if (n->type == KM_NODE_SCALAR) {
		put_scalar(b, n);
		return;
	}
	km_buf_char(b, n->type == KM_NODE_LIST ? '[' : '{');
	if (n->type == KM_NODE_LIST)
		for (p = n->first; p; p = p->next, between = ", ") {
			km_buf_str(b, between);
			put_value(b, p, AS_IT_IS);
		}
	else
		for (p = next_key(n, NULL, order); p;
		     p = next_key(n, p, order), between = ", ") {
			km_buf_str(b, between);
			put_scalar(b, p);
			km_buf_str(b, ": ");
			put_value(b, p->next, AS_IT_IS);
		}
	km_buf_char(b, n->type == KM_NODE_LIST ? ']' : '}');
}

void km_bench_yaml(struct km_buf *b, const struct km_node *tool)
{
	const struct km_node *key = NULL;
	const char *before = "  - ";

	while ((key = next_key(tool, key, OF_TOOL))) {
		km_buf_str(b, before);
		before = "    ";
		put_scalar(b, key);
		km_buf_str(b, ": ");
		put_value(b, key->next, order_of(key));
		km_buf_char(b, '\n');
	}
	if (!tool->first)
		km_buf_str(b, "  - {}\n");
}
