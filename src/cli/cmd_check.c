/* SPDX-License-Identifier: MIT */
/*
 * check - read and link everything; say what is wrong.
 */
#include <inttypes.h>

#include "cli/cmds.h"
#include "diag/render.h"

static void count(struct km_buf *b, uint64_t n, const char *noun,
		  const char *after)
{
	km_buf_printf(b, "%" PRIu64 " %s%s%s", n, noun, n == 1 ? "" : "s",
		      after);
}

static void say_good(struct km_buf *b, const struct km_load *load)
{
	count(b, load->n_files, "file", ", ");
	count(b, load->bench.n, "tool", ", ");
	count(b, load->n_kits, "kit", ": good\n");
}

static enum km_exit print(struct km_cli *c, const struct km_buf *b)
{
	struct km_output out;
	enum km_exit e = km_output_open(&out, NULL, NULL, c->mem);

	if (km_buf_failed(b)) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	if (e == KM_EXIT_GOOD && b->len > 0)
		km_output_write(&out, b->text, b->len);
	return e == KM_EXIT_GOOD ? km_output_close(&out) : e;
}

static bool add_bytes(void *ctx, const char *text, size_t n)
{
	struct km_buf *b = ctx;

	km_buf_add(b, text, n);
	return !km_buf_failed(b);
}

/* The messages as a document; text goes to the other stream. */
static void render(struct km_cli *c, enum km_format f, struct km_diags *d,
		   struct km_buf *b)
{
	struct km_report_options paper = km_paper(c);
	struct km_sink to = { add_bytes, b };

	if (f != KM_FORMAT_JSON) {
		if (km_report_diags(d, f, &paper, &to) == KM_ENOMEM)
			b->failed = true;
		return;
	}
	km_diags_sort(d);
	km_render_json(b, d);
}

static enum km_exit check(struct km_cli *c, const struct km_inputs *in,
			  enum km_format f, struct km_diags *d)
{
	struct km_load *load = NULL;
	enum km_status st = km_load(in->in, in->n, NULL, d, &load);
	enum km_exit e = KM_EXIT_GOOD, printed;
	struct km_buf b;

	km_buf_init(&b, c->mem);
	if (f != KM_FORMAT_TEXT) {
		render(c, f, d, &b);
	} else {
		e = km_cli_tell(c, d);
		if (st == KM_OK && !c->args.times[KM_OPT_QUIET])
			say_good(&b, load);
	}
	km_load_free(load);
	if (e == KM_EXIT_GOOD)
		e = km_cli_exit(st, d);
	printed = print(c, &b);
	return printed == KM_EXIT_GOOD ? e : printed;
}

enum km_exit km_cmd_check(struct km_cli *c)
{
	struct km_inputs in = { 0 };
	enum km_format format;
	struct km_diags *d;
	enum km_exit e;

	if (!km_choose_format(c, &format))
		return KM_EXIT_WRONG;
	if (format != KM_FORMAT_TEXT && format != KM_FORMAT_JSON &&
	    format != KM_FORMAT_SARIF && format != KM_FORMAT_GITHUB) {
		km_say("check has no format '%s'; it has text, json, sarif, "
		       "github",
		       km_format_word(format));
		return KM_EXIT_WRONG;
	}
	e = km_cli_inputs(c, &in);
	if (e != KM_EXIT_GOOD)
		return e;
	d = km_diags_new(NULL);
	e = d ? check(c, &in, format, d)
	      : km_cli_exit(KM_ENOMEM, NULL);
	km_diags_free(d);
	km_inputs_release(&in);
	return e;
}
