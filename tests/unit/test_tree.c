/* SPDX-License-Identifier: MIT */
/* The promises of read/tree.h. */
#include <setjmp.h>
#include <stdarg.h>
#include <stddef.h>
#include <stdint.h>

#include <cmocka.h>

#include <inttypes.h>
#include <stdio.h>

#include "base/buf.h"
#include "read/tree.h"
#include "tests/unit/feed.h"

static const char *const streamed[] = { "bench", NULL };

/* A walk over a whole input, written down: "key=1 bench[0]={...} bench.1",
 * texts in quotes as they were written, then the messages. */
struct walk {
	struct km_arena *mem;
	struct km_buf tree, said;
	enum km_status status;
	bool no_list;		/* the messages could not be kept */
};

static void put_node(struct km_buf *b, const struct km_node *n)
{
	static const char *const quotes[] = { "", "'", "|" };
	uint32_t i = 0;

	if (n->type == KM_NODE_SCALAR) {
		assert_int_equal(strlen(n->text), n->n);
		km_buf_printf(b, "%s%s%s", quotes[n->style], n->text,
			      quotes[n->style]);
		return;
	}
	km_buf_char(b, n->type == KM_NODE_MAP ? '{' : '[');
	for (const struct km_node *c = n->first; c; c = c->next, i++) {
		if (i)
			km_buf_char(b, ' ');
		put_node(b, c);
		if (n->type != KM_NODE_MAP)
			continue;
		c = c->next;
		km_buf_char(b, ':');
		put_node(b, c);
	}
	assert_int_equal(i, n->n);
	km_buf_char(b, n->type == KM_NODE_MAP ? '}' : ']');
}

static void put_entry(struct km_buf *b, const struct km_entry *e)
{
	if (b->len)
		km_buf_char(b, ' ');
	km_buf_str(b, e->key);
	if (e->last) {
		assert_null(e->node);
		km_buf_printf(b, ".%u", (unsigned)e->index);
		return;
	}
	if (e->item)
		km_buf_printf(b, "[%u]", (unsigned)e->index);
	km_buf_char(b, '=');
	put_node(b, e->node);
}

static void put_messages(struct km_buf *b, struct km_diags *d)
{
	km_diags_sort(d);
	for (size_t i = 0; i < km_diags_size(d); i++) {
		const struct km_diag *one = km_diags_at(d, i);

		km_buf_printf(b, "%s%u:%u %s", i ? ", " : "",
			      (unsigned)one->at.line,
			      (unsigned)one->at.column, km_msg_id(one->msg));
	}
}

static void walk(struct walk *w, struct feed *f, const struct km_limits *lim)
{
	struct km_diags *d = km_diags_new(lim);
	struct km_input in = feed_input(f);
	struct km_tree *t = NULL;
	struct km_entry e;

	*w = (struct walk){ .mem = km_arena_new(NULL) };
	km_buf_init(&w->tree, w->mem);
	km_buf_init(&w->said, w->mem);
	km_buf_str(&w->tree, "");
	km_buf_str(&w->said, "");
	w->no_list = !d;
	if (!d)
		return;
	w->status = km_tree_open(&in, streamed, lim, d, &t);
	while (w->status == KM_OK) {
		w->status = km_tree_next(t, &e);
		if (w->status != KM_OK || !e.key)
			break;
		put_entry(&w->tree, &e);
	}
	if (t) {	/* a file that is over stays over */
		assert_int_equal(km_tree_next(t, &e), w->status);
		assert_null(e.key);
	}
	km_tree_close(t);
	put_messages(&w->said, d);
	w->no_list = km_diags_failed(d);
	km_diags_free(d);
}

static void expect(const char *bytes, size_t n, const char *tree,
		   const char *said)
{
	struct feed f = { .bytes = bytes, .n = n };
	struct walk w;

	walk(&w, &f, NULL);
	assert_string_equal(w.said.text, said);
	assert_string_equal(w.tree.text, tree);
	km_arena_free(w.mem);
}
#define EXPECT(bytes, tree, said) expect(bytes, sizeof bytes - 1, tree, said)

static void records_come_whole_and_lists_by_item(void **state)
{
	(void)state;
	EXPECT("kit:\n  id: k1\n  years: '1952'\n  slots: [{id: S-1}, x]\n",
	       "kit={id:k1 years:'1952' slots:[{id:S-1} x]}", "");
	EXPECT("bench:\n  - id: T-1\n    sizes: [1/4 W]\n  - {}\n  - x\n"
	       "rubric: {total: 4.00}\n",
	       "bench[0]={id:T-1 sizes:[1/4 W]} bench[1]={} bench[2]=x bench.3"
	       " rubric={total:4.00}", "");
	EXPECT("bench: []\nkit: []\n", "bench.0 kit=[]", "");
	EXPECT("bench: x\n", "bench=x", "");
	EXPECT("bench: {a: [b]}\n", "bench={a:[b]}", "");
	EXPECT("{}", "", "");
}

/* Text stays as it was written; only its style is told. */
static void text_is_not_typed(void **state)
{
	(void)state;
	EXPECT("a: [014, 1e3, no, ~, null, 12:30, 0x1F, .inf]\n",
	       "a=[014 1e3 no ~ null 12:30 0x1F .inf]", "");
	EXPECT("a: [\"none\", 'none', none]\n", "a=['none' 'none' none]", "");
	EXPECT("a: \"\"\n", "a=''", "");
	EXPECT("a: \"two\\nlines\\t\\u00e9\\u2028\"\n",
	       "a='two\nlines\t\xC3\xA9\xE2\x80\xA8'", "");
	EXPECT("a: |\n  two\n  lines\nb: >\n  one\n  line\n",
	       "a=|two\nlines\n| b=|one line\n|", "");
	EXPECT("a: 7/16\"\nb: 12\" x 1/2\"\n", "a=7/16\" b=12\" x 1/2\"", "");
}

/* Where reading can go on it does: one walk tells all. */
static void mistakes_inside_do_not_end_the_file(void **state)
{
	(void)state;
	EXPECT("a: {b: 1, b: 2, c: {b: 3}}\n", "a={b:1 c:{b:3}}",
	       "1:11 duplicate-key");
	EXPECT("a: {b: 1, b: {c: [d, {e: f}]}, g: 2}\n", "a={b:1 g:2}",
	       "1:11 duplicate-key");
	EXPECT("a: 1\na: [x, y]\nb: 2\n", "a=1 b=2", "2:1 duplicate-key");
	EXPECT("bench: [x]\nbench: [y, z]\n", "bench[0]=x bench.1",
	       "2:1 duplicate-key");
	EXPECT("a:\nb: [x, , y]\n", "a=", "1:3 empty-value, 2:8 empty-entry");
	/* missing behind its colon, or at the comma that came instead */
	EXPECT("a:\nb: {c: , d: 1}\n", "a= b={c: d:1}",
	       "1:3 empty-value, 2:8 empty-value");
	EXPECT("a: {\"\": 1, b: 2}\n", "a={b:2}", "1:5 key-not-text");
	EXPECT("a: [\"\\0\", \"\\e\", \"\\x7f\", \"\\u0085\", \"\\r\", ok]\n",
	       "a=[     ok]",
	       "1:5 control-character, 1:11 control-character, "
	       "1:17 control-character, 1:25 control-character, "
	       "1:35 control-character");
	EXPECT("a: {\"b\\0\": 1, c: \"\\u202e\"}\n", "a={c:}",
	       "1:5 control-character, 1:18 bidi-control");
}

static void what_ends_the_file_is_told_once(void **state)
{
	(void)state;
	EXPECT("a: 1\nb: *x\nc: {d: 1, d: 2}\n", "a=1", "2:4 alias");
	/* what stands right before it is not handed over */
	EXPECT("bench: [w, x, &y z]\n", "bench[0]=w", "1:15 anchor");
	EXPECT("a: 1\nb: c: d\n", "a=1", "2:5 stray-colon");
	EXPECT("a: 1\n<<: {b: 1}\n", "a=1", "2:1 merge-key");
	EXPECT("a: {\"<<\": 1}\n", "a={'<<':1}", "");
	EXPECT("a: 1\nb: !c 2\n", "a=1", "2:4 tag");
	EXPECT("a: 1\n--- \nb: 2\n", "a=1", "2:1 second-document");
	EXPECT("a: 1\n...\n", "a=1", "");
	EXPECT("a: 1\n...\n# end\n", "a=1", "");
	EXPECT("a: 1\nb: [c\n", "a=1", "2:4 unclosed-bracket");
	EXPECT("a: 1\nb: @c\n", "a=1", "2:4 quote-value");
}

/* A map of n keys f(0)..f(n - 1) in a file. */
static char *map_of(struct km_arena *mem, const char *before, unsigned n,
		    const char *format, size_t *len)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	km_buf_str(&b, before);
	for (unsigned i = 0; i < n; i++) {
		km_buf_printf(&b, format, i);
		km_buf_str(&b, ": 1\n");
	}
	*len = b.len;
	assert_false(km_buf_failed(&b));
	return b.text;
}

/* Found among few keys, where they are compared one by one, and among many,
 * where they are hashed: the last key repeats the first. */
static void any_number_of_keys_is_checked(void **state)
{
	static const unsigned sizes[] = { 1, 2, 15, 16, 17, 18, 31, 32, 33, 64,
					  65, 1000, KM_MAP_KEYS };

	(void)state;
	for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
		struct km_arena *mem = km_arena_new(NULL);
		struct km_buf b;
		char said[64];
		struct walk w;
		struct feed f = { 0 };

		km_buf_init(&b, mem);
		f.bytes = map_of(mem, "a:\n", sizes[i], " k%u", &f.n);
		km_buf_add(&b, f.bytes, f.n);
		km_buf_str(&b, " k0: 2\n");
		walk(&w, &f, NULL);
		assert_string_equal(w.said.text, "");
		km_arena_free(w.mem);
		f = (struct feed){ .bytes = b.text, .n = b.len };
		walk(&w, &f, NULL);
		snprintf(said, sizeof said, "%u:2 duplicate-key",
			 sizes[i] + 2);
		assert_string_equal(w.said.text, said);
		km_arena_free(w.mem);
		km_arena_free(mem);
	}
}

static void limits_hold_at_n_and_not_at_n_plus_1(void **state)
{
	static const char deep[] = "a: [[[1]]]\n";	/* four levels */
	static const char wide[] = "a: [1, 2, 3]\n";	/* five nodes */
	static const char long_text[] = "a: 12345\n";
	static const char long_key[] = "abcde: 1\n";
	static const struct {
		const char *bytes;
		size_t n;
		struct km_limits good, bad;
		const char *said;
	} rows[] = {
		{ deep, sizeof deep - 1, { .depth = 4 }, { .depth = 3 },
		  "1:6 too-deep" },
		{ wide, sizeof wide - 1, { .entry_nodes = 5 },
		  { .entry_nodes = 4 }, "1:11 entry-too-large" },
		{ long_text, sizeof long_text - 1, { .note_bytes = 5 },
		  { .note_bytes = 4 }, "1:4 long-text" },
		{ long_key, sizeof long_key - 1, { .key_bytes = 5 },
		  { .key_bytes = 4 }, "1:1 long-key" },
		{ wide, sizeof wide - 1, { .file_bytes = 13 },
		  { .file_bytes = 12 }, "1:13 file-too-large" },
	};

	(void)state;
	for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
		struct feed f = { .bytes = rows[i].bytes, .n = rows[i].n };
		struct walk w;

		walk(&w, &f, &rows[i].good);
		assert_string_equal(w.said.text, "");
		assert_int_equal(w.status, KM_OK);
		km_arena_free(w.mem);
		f = (struct feed){ .bytes = rows[i].bytes, .n = rows[i].n };
		walk(&w, &f, &rows[i].bad);
		assert_string_equal(w.said.text, rows[i].said);
		km_arena_free(w.mem);
	}
}

static void a_map_has_so_many_keys(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	struct feed f = { 0 };
	struct walk w;

	(void)state;
	f.bytes = map_of(mem, "", KM_MAP_KEYS + 1, "k%u", &f.n);
	walk(&w, &f, NULL);
	assert_string_equal(w.said.text, "10001:1 too-many-keys");
	assert_int_equal(w.status, KM_EINPUT);
	km_arena_free(w.mem);
	km_arena_free(mem);
}

/* ------------------------------------------------------------------ */
/* Bad weather                                                         */

static const char sample[] =
	"# a kit and a bench\n"
	"kit:\n"
	"  id: larkmoor-54\n"
	"  title: \"Larkmoor 54, \\u00bd ton\"\n"
	"  colours: {amber: \"#c47a1c\"}\n"
	"  note: |\n"
	"    As found\n"
	"    in 1961.\n"
	"bench:\n"
	"  - id: T-1\n"
	"    sizes: [1/4 W, 5/16 W]\n"
	"    mark: caf\xC3\xA9\n"
	"  - {id: T-2, mark: 'LM'}\n"
	"rubric: {total: 4.00}\n";
static const char sample_tree[] =
	"kit={id:larkmoor-54 title:'Larkmoor 54, \xC2\xBD ton' "
	"colours:{amber:'#c47a1c'} note:|As found\nin 1961.\n|} "
	"bench[0]={id:T-1 sizes:[1/4 W 5/16 W] mark:caf\xC3\xA9} "
	"bench[1]={id:T-2 mark:'LM'} bench.2 rubric={total:4.00}";
enum { SAMPLE = sizeof sample - 1 };

static void the_manner_of_reading_changes_nothing(void **state)
{
	(void)state;
	for (size_t step = 0; step < 20; step++)
		for (int interrupted = 0; interrupted < 2; interrupted++) {
			struct feed f = { .bytes = sample, .n = SAMPLE,
					  .step = step,
					  .interrupted = interrupted };
			struct walk w;

			walk(&w, &f, NULL);
			assert_int_equal(w.status, KM_OK);
			assert_string_equal(w.said.text, "");
			assert_string_equal(w.tree.text, sample_tree);
			km_arena_free(w.mem);
		}
}

static void a_broken_read_ends_the_file_anywhere(void **state)
{
	(void)state;
	for (size_t k = 0; k <= SAMPLE; k++) {
		struct feed f = { .bytes = sample, .n = SAMPLE, .breaks = 1,
				  .break_at = k };
		struct walk w;

		walk(&w, &f, NULL);
		assert_int_equal(w.status, KM_EIO);
		assert_string_equal(w.said.text, "0:0 cannot-read");
		assert_memory_equal(w.tree.text, sample_tree, w.tree.len);
		km_arena_free(w.mem);
	}
}

/* A file cut anywhere is wrong or shorter; what is handed over before the cut
 * is that of the whole file, but for the last entry. */
static void every_prefix_ends_well(void **state)
{
	unsigned wrong = 0;

	(void)state;
	for (size_t k = 0; k < SAMPLE; k++) {
		struct feed f = { .bytes = sample, .n = k };
		struct walk w;

		walk(&w, &f, NULL);
		assert_true(w.status == KM_OK || w.status == KM_EINPUT);
		if (w.status == KM_EINPUT) {
			assert_true(w.said.len > 0);
			wrong++;
		}
		km_arena_free(w.mem);
	}
	assert_true(wrong > 50);	/* it stands open most of the time */
}

/* Each allocation fails in turn, alone and with all after it: the answer is
 * KM_ENOMEM, or it is complete. */
static unsigned sweep(const char *bytes, size_t n, const char *tree,
		      const char *said, int and_after)
{
	unsigned failed = 0;
	bool fired = true;

	for (uint64_t k = 1; fired; k++) {
		struct km_fault fault = { .fail_at = k,
					  .and_after = and_after };
		struct km_limits lim = { .fault = &fault };
		struct feed f = { .bytes = bytes, .n = n };
		struct walk w;

		walk(&w, &f, &lim);
		fired = fault.seen >= k;
		if (fired) {
			/* put_messages() sorts after the last answer */
			assert_true(w.no_list || w.status == KM_ENOMEM);
			failed++;
		} else {
			assert_string_equal(w.tree.text, tree);
			assert_string_equal(w.said.text, said);
		}
		km_arena_free(w.mem);
	}
	return failed;
}

static void every_failed_allocation_is_noticed(void **state)
{
	struct km_arena *mem = km_arena_new(NULL);
	static const char wrong[] =
		"a: {b: 1, b: 2}\nc:\nd: \"\\0\"\n\"\": 1\na: 2\ne: *f\n";
	static const char wrong_tree[] = "a={b:1} c= d=";
	static const char wrong_said[] =
		"1:11 duplicate-key, 2:3 empty-value, 3:4 control-character, "
		"4:1 key-not-text, 5:1 duplicate-key, 6:4 alias";
	struct feed many = { 0 };
	struct walk w;

	(void)state;
	for (int after = 0; after < 2; after++) {
		assert_true(sweep(sample, SAMPLE, sample_tree, "", after) > 9);
		assert_true(sweep(wrong, sizeof wrong - 1, wrong_tree,
				  wrong_said, after) > 20);
		/* with a table of keys that grows twice */
		many.bytes = map_of(mem, "a:\n", 70, " k%u", &many.n);
		many.at = 0;
		walk(&w, &many, NULL);
		assert_true(sweep(many.bytes, many.n, w.tree.text, "", after)
			    > 9);
		km_arena_free(w.mem);
	}
	km_arena_free(mem);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(records_come_whole_and_lists_by_item),
		cmocka_unit_test(text_is_not_typed),
		cmocka_unit_test(mistakes_inside_do_not_end_the_file),
		cmocka_unit_test(what_ends_the_file_is_told_once),
		cmocka_unit_test(any_number_of_keys_is_checked),
		cmocka_unit_test(limits_hold_at_n_and_not_at_n_plus_1),
		cmocka_unit_test(a_map_has_so_many_keys),
		cmocka_unit_test(the_manner_of_reading_changes_nothing),
		cmocka_unit_test(a_broken_read_ends_the_file_anywhere),
		cmocka_unit_test(every_prefix_ends_well),
		cmocka_unit_test(every_failed_allocation_is_noticed),
	};

	return cmocka_run_group_tests(tests, NULL, NULL);
}
