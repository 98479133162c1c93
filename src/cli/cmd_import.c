/* SPDX-License-Identifier: MIT */
/*
 * import - lists of tools into one bench.
 */
#include <inttypes.h>
#include <string.h>
#include <unistd.h>

#include "cli/cmds.h"
#include "kitmuster/import.h"

static bool add(void *buf, const char *text, size_t n)
{
	km_buf_add(buf, text, n);
	return !km_buf_failed(buf);
}

/* An option that is one of some words; false after saying so. */
static bool word_of(struct km_cli *c, enum km_opt opt, const char *what,
		    const char *const *words, uint32_t n, uint32_t *which)
{
	const char *word = c->args.value[opt];

	return !word || km_choose(c, what, word, words, n, which);
}

static bool choose(struct km_cli *c, struct km_import_options *o)
{
	static const char *const formats[] = { "yaml", "csv" };
	static const char *const units[] = { "mm", "in" };
	static const char *const forms[] = { "csv", "notes", "yaml" };
	uint32_t format = 0, unit = 0, form = 0;

	memset(o, 0, sizeof *o);
	if (!word_of(c, KM_OPT_FORMAT, "format of a bench", formats, 2,
		     &format) ||
	    !word_of(c, KM_OPT_UNIT, "unit", units, 2, &unit) ||
	    !word_of(c, KM_OPT_STDIN_FORM, "form of standard input", forms, 3,
		     &form))
		return false;
	o->csv = format == 1;
	if (c->args.value[KM_OPT_UNIT])
		o->unit = unit ? KM_LIST_IN : KM_LIST_MM;
	o->form = (enum km_list_form)(KM_LIST_TABLE + form);
	return true;
}

static void say_count(struct km_buf *b, uint64_t n, const char *noun,
		      const char *after)
{
	km_buf_printf(b, ", %" PRIu64 " %s%s%s", n, noun,
		      n == 1 || !*noun ? "" : "s", after);
}

/* "read 61 of 64 rows, 3 refused, 4 words not understood" */
static void summary(struct km_buf *b, const struct km_import_counts *n)
{
	km_buf_printf(b, "read %" PRIu64 " of %" PRIu64 " row%s", n->read,
		      n->rows, n->rows == 1 ? "" : "s");
	if (n->refused)
		say_count(b, n->refused, "", "refused");
	if (n->words)
		say_count(b, n->words, "word", " not understood");
	if (n->tools != n->read)
		say_count(b, n->tools, "tool", "");
	km_buf_char(b, '\n');
}

static enum km_exit write_out(struct km_cli *c, const struct km_inputs *in,
			      const struct km_buf *text)
{
	struct km_output out;
	enum km_exit e;

	if (km_buf_failed(text))
		return km_cli_exit(KM_ENOMEM, NULL);
	e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT], in, c->mem);
	if (e != KM_EXIT_GOOD)
		return e;
	if (text->len)
		km_output_write(&out, text->text, text->len);
	return km_output_close(&out);
}

static enum km_exit run(struct km_cli *c, const struct km_inputs *in,
			const struct km_import_options *o, struct km_diags *d)
{
	bool dry = c->args.times[KM_OPT_DRY_RUN] > 0;
	struct km_import_counts counts;
	struct km_buf text, said;
	struct km_sink to = { add, &text };
	enum km_status st;
	enum km_exit e;

	km_buf_init(&text, c->mem);
	km_buf_init(&said, c->mem);
	st = km_import(in->in, in->n, o, NULL, d, dry ? NULL : &to, &counts);
	e = km_cli_tell(c, d);
	if (e == KM_EXIT_GOOD && st != KM_OK)
		e = km_cli_exit(st == KM_EIO && !km_diags_count(d, KM_ERROR)
				? KM_ENOMEM : st, d);
	if (e != KM_EXIT_GOOD)
		return e;
	summary(&said, &counts);
	e = write_out(c, in, dry ? &said : &text);
	if (!dry && !c->args.times[KM_OPT_QUIET] && !km_buf_failed(&said))
		km_say_raw(said.text, said.len);
	if (e == KM_EXIT_GOOD && counts.refused)
		e = KM_EXIT_DIFFERS;
	return e;
}

enum km_exit km_cmd_import(struct km_cli *c)
{
	static const struct km_limits all = { .per_rule = UINT32_MAX };
	struct km_import_options o;
	struct km_inputs in = { 0 };
	struct km_diags *d;
	enum km_exit e;

	if (!choose(c, &o))
		return KM_EXIT_WRONG;
	if (c->args.times[KM_OPT_DRY_RUN] && c->args.value[KM_OPT_OUTPUT]) {
		km_say("--dry-run writes nothing, so --output has no sense");
		return KM_EXIT_WRONG;
	}
	e = km_inputs_init(&in, c->operands, c->n_operands, KM_INPUT_CSV,
			   c->mem);
	if (e != KM_EXIT_GOOD)
		return e;
	d = km_diags_new(&all);
	e = d ? run(c, &in, &o, d) : km_cli_exit(KM_ENOMEM, NULL);
	km_diags_free(d);
	km_inputs_release(&in);
	return e;
}
