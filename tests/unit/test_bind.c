/* SPDX-License-Identifier: MIT */
/* The field tables: every example loads through its own row, keys do not
 * clash, bounds hold.  No source is needed: the tables are tested against
 * themselves and against values that stand here. */
#include <inttypes.h>
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>

#include <cmocka.h>

#include "tests/unit/feed.h"
#include "read/attr.h"
#include "read/rec.h"

struct bench {
	struct km_bind b;
	struct km_limits lim;
	struct km_kit kit;
	struct km_tree *tree;
	void *obj;
};

static void set_up(struct bench *t)
{
	static const char *const marks[] = { "LM" };

	memset(t, 0, sizeof *t);
	t->lim = (struct km_limits){ .word_bytes = 256, .note_bytes = 65536,
				     .slots = 100, .tools = 100 };
	t->b.mem = km_arena_new(NULL);
	t->b.scratch = km_arena_new(NULL);
	t->b.words = km_words_new(t->b.mem, NULL);
	t->b.d = km_diags_new(NULL);
	t->b.lim = &t->lim;
	t->b.file = "t.yaml";
	t->kit.maker_marks = marks;
	t->kit.n_maker_marks = 1;
	t->b.kit = &t->kit;
}

static void tear_down(struct bench *t)
{
	km_tree_close(t->tree);
	free(t->obj);
	km_words_free(t->b.words);
	km_arena_free(t->b.mem);
	km_arena_free(t->b.scratch);
	km_diags_free(t->b.d);
}

/* The value of the one key of a text. */
static const struct km_node *parse(struct bench *t, const char *text)
{
	static const char *const streamed[] = { NULL };
	static struct feed feed;
	static struct km_input in;
	struct km_entry e;

	feed = (struct feed){ .bytes = text, .n = strlen(text) };
	in = feed_input(&feed);
	assert_int_equal(km_tree_open(&in, streamed, NULL, t->b.d, &t->tree),
			 KM_OK);
	assert_int_equal(km_tree_next(t->tree, &e), KM_OK);
	assert_non_null(e.node);
	return e.node;
}

/* Attributes are read by the record, all others by their row. */
static void bind(struct bench *t, const struct km_record *r,
		 const struct km_field *f, const char *value)
{
	struct km_attr_nodes nodes;
	char text[512];
	const struct km_node *n;

	snprintf(text, sizeof text, "x: %s\n", value);
	n = parse(t, text);
	t->obj = calloc(1, r->size);
	assert_non_null(t->obj);
	if (r == &km_rec_kit)	/* its own colours and slots */
		t->b.kit = t->obj;
	km_bind_defaults(r, t->obj);
	if (f->type != KM_T_ATTR) {
		km_bind_field(&t->b, r, f, t->obj, n);
		return;
	}
	memset(&nodes, 0, sizeof nodes);
	nodes.has = (uint32_t)1 << f->attr;
	nodes.v[f->attr] = n;
	r->traits(&t->b, t->obj, &nodes);
}

static void complain(const struct bench *t, const struct km_record *r,
		     const struct km_field *f, const char *value)
{
	size_t i;

	for (i = 0; i < km_diags_size(t->b.d); i++)
		fail_msg("%s: %s: %s: %s", r->name, f->key, value,
			 km_diags_at(t->b.d, i)->text);
}

static void loads(const struct km_record *r, const struct km_field *f,
		  const char *value)
{
	struct bench t;

	set_up(&t);
	bind(&t, r, f, value);
	km_diags_sort(t.b.d);
	complain(&t, r, f, value);
	assert_false(t.b.nomem);
	assert_int_equal(t.b.depth, 0);
	tear_down(&t);
}

/* The value must give one message of that id. */
static void refuses(const struct km_record *r, const struct km_field *f,
		    const char *value, enum km_msg msg)
{
	struct bench t;

	set_up(&t);
	bind(&t, r, f, value);
	km_diags_sort(t.b.d);
	if (km_diags_size(t.b.d) != 1 ||
	    km_diags_at(t.b.d, 0)->msg != msg)
		fail_msg("%s: %s: %s: %zu messages, first %s", r->name, f->key,
			 value, km_diags_size(t.b.d),
			 km_diags_size(t.b.d)
				 ? km_msg_id(km_diags_at(t.b.d, 0)->msg) : "");
	tear_down(&t);
}

static void each_row(void (*look)(const struct km_record *r,
				  const struct km_field *f))
{
	const struct km_field *f;
	unsigned i, rows = 0;

	for (i = 0; i < KM_RECORDS; i++) {
		if (!km_records[i])
			continue;
		assert_int_equal(km_records[i]->no, i);
		for (f = km_records[i]->fields; f->type != KM_T_END; f++, rows++)
			look(km_records[i], f);
		if (!km_records[i]->attrs)
			continue;
		for (f = km_attr_fields; f->type != KM_T_END; f++, rows++)
			look(km_records[i], f);
	}
	assert_true(rows > 150);
}

/* ------------------------------------------------------------------ */

static void explains_itself(const struct km_record *r,
			    const struct km_field *f)
{
	if (!f->example || !f->doc || f->doc[strlen(f->doc) - 1] != '.')
		fail_msg("%s: %s lacks an example or a sentence", r->name,
			 f->key);
	if (f->type == KM_T_OWN && (!f->own || !f->shape))
		fail_msg("%s: %s does not say what it takes", r->name, f->key);
	loads(r, f, f->example);
}

static void every_example_loads_through_its_own_row(void **state)
{
	(void)state;
	each_row(explains_itself);
}

static void is_found(const struct km_record *r, const struct km_field *f)
{
	struct bench t;
	char old[64];

	set_up(&t);
	assert_ptr_equal(km_bind_find(&t.b, r, km_slice_of(f->key)), f);
	if (f->was) {
		snprintf(old, sizeof old, "%.*s", (int)strcspn(f->was, "|"),
			 f->was);
		assert_ptr_equal(km_bind_find(&t.b, r, km_slice_of(old)), f);
	}
	snprintf(old, sizeof old, "%sx", f->key);
	assert_null(km_bind_find(&t.b, r, km_slice_of(old)));
	tear_down(&t);
}

static void every_key_and_old_name_finds_its_row(void **state)
{
	(void)state;
	each_row(is_found);
}

static void attribute_rows_stand_in_the_order_of_their_numbers(void **state)
{
	unsigned a;

	(void)state;
	for (a = 0; a < KM_ATTRS; a++)
		assert_int_equal(km_attr_fields[a].attr, a);
	assert_int_equal(km_attr_fields[KM_ATTRS].type, KM_T_END);
}

static void keeps_bounds(const struct km_record *r, const struct km_field *f)
{
	char value[32];

	if (f->type != KM_T_INT && f->type != KM_T_BIG &&
	    f->type != KM_T_SMALL)
		return;
	assert_true(f->max > f->min);	/* every integer has bounds */
	snprintf(value, sizeof value, "%" PRId64, f->max);
	loads(r, f, value);
	snprintf(value, sizeof value, "%" PRId64, f->max + 1);
	refuses(r, f, value, KM_M_OUT_OF_RANGE);
	snprintf(value, sizeof value, "%" PRId64, f->min);
	loads(r, f, value);
	snprintf(value, sizeof value, "%" PRId64, f->min - 1);
	refuses(r, f, value, KM_M_OUT_OF_RANGE);
	refuses(r, f, "'1'", KM_M_NOT_A_NUMBER);
	refuses(r, f, "1.5", KM_M_NOT_A_NUMBER);
	refuses(r, f, "[1]", KM_M_WRONG_TYPE);
}

static void integers_keep_to_their_bounds(void **state)
{
	(void)state;
	each_row(keeps_bounds);
}

static void keeps_words(const struct km_record *r, const struct km_field *f)
{
	unsigned i;

	if (f->type != KM_T_CHOICE)
		return;
	for (i = 0; f->choices[i]; i++)
		loads(r, f, f->choices[i]);
	refuses(r, f, "qqqq", KM_M_NOT_A_CHOICE);
	refuses(r, f, "{a: 1}", KM_M_WRONG_TYPE);
}

static void choices_take_their_words_and_no_others(void **state)
{
	(void)state;
	each_row(keeps_words);
}

static void refuses_nonsense(const struct km_record *r,
			     const struct km_field *f)
{
	static const char *const nonsense[] = { "{zz: {a: 1}}", "[[{a: 1}]]" };
	struct bench t;
	unsigned i;

	if (r == &km_rec_claim)		/* its values belong to the slot */
		return;
	for (i = 0; i < 2; i++) {
		set_up(&t);
		bind(&t, r, f, nonsense[i]);
		if (!km_diags_count(t.b.d, KM_ERROR))
			fail_msg("%s: %s takes %s", r->name, f->key,
				 nonsense[i]);
		tear_down(&t);
	}
}

static void no_row_takes_a_map_or_list_of_nonsense(void **state)
{
	(void)state;
	each_row(refuses_nonsense);
}

static const char *hint_for(struct bench *t, const char *text)
{
	set_up(t);
	t->obj = calloc(1, km_rec_tool.size);
	km_bind_record(&t->b, &km_rec_tool, t->obj, parse(t, text));
	km_diags_sort(t->b.d);
	assert_int_equal(km_diags_size(t->b.d), 1);
	return km_diags_at(t->b.d, 0)->hint;
}

static void an_unknown_key_brings_the_one_that_was_meant(void **state)
{
	struct bench t;

	(void)state;
	assert_string_equal(hint_for(&t, "x: {tool: jack, lenght: 3 mm}\n"),
			    "did you mean 'length'?");
	tear_down(&t);
	assert_string_equal(hint_for(&t, "x: {tool: jack, zzzzzz: 3 mm}\n"),
			    "the keys of a tool are listed by "
			    "'kitmuster schema'");
	tear_down(&t);
}

/* One mistake, one message: the misspelt key counts as the required one. */
static void a_misspelt_required_key_is_not_missing_too(void **state)
{
	struct bench t;

	(void)state;
	set_up(&t);
	t.obj = calloc(1, km_rec_damage.size);
	km_bind_record(&t.b, &km_rec_damage, t.obj,
		       parse(&t, "x: {waht: spread}\n"));
	km_diags_sort(t.b.d);
	assert_int_equal(km_diags_size(t.b.d), 1);
	assert_int_equal(km_diags_at(t.b.d, 0)->msg, KM_M_UNKNOWN_KEY);
	tear_down(&t);
}

static void a_message_says_the_path(void **state)
{
	struct bench t;

	(void)state;
	set_up(&t);
	t.obj = calloc(1, km_rec_tool.size);
	km_bind_enter(&t.b, "bench", 3);
	km_bind_record(&t.b, &km_rec_tool, t.obj,
		       parse(&t, "x: {tool: jack, sizes: [10 mm, 7/16]}\n"));
	km_bind_leave(&t.b);
	km_diags_sort(t.b.d);
	assert_string_equal(km_diags_at(t.b.d, 0)->path, "bench[3].sizes[1]");
	tear_down(&t);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(every_example_loads_through_its_own_row),
		cmocka_unit_test(every_key_and_old_name_finds_its_row),
		cmocka_unit_test(
			attribute_rows_stand_in_the_order_of_their_numbers),
		cmocka_unit_test(integers_keep_to_their_bounds),
		cmocka_unit_test(choices_take_their_words_and_no_others),
		cmocka_unit_test(no_row_takes_a_map_or_list_of_nonsense),
		cmocka_unit_test(an_unknown_key_brings_the_one_that_was_meant),
		cmocka_unit_test(a_misspelt_required_key_is_not_missing_too),
		cmocka_unit_test(a_message_says_the_path),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
