/* SPDX-License-Identifier: MIT */
/*
 * compare, which - kits beside each other, and the kits in order of how well
 * they explain the tools of a machine.
 */
#include "cli/cmds.h"
#include "kitmuster/kits.h"

struct answer {			/* to one of the two questions */
	struct km_load *load;
	struct km_side_by_side *compared;
	struct km_which *ranked;
};

static enum km_status ask(struct km_cli *c, struct km_diags *d, bool which,
			  struct answer *a)
{
	if (which)
		return km_kits_rank(a->load, c->args.kits, c->args.n_kits, d,
				    &a->ranked);
	return km_kits_compare(a->load, c->args.kits, c->args.n_kits, d,
			       &a->compared);
}

/* Load and ask, and tell all there is to tell. */
static enum km_exit find(struct km_cli *c, const struct km_inputs *in,
			 bool which, struct answer *a)
{
	struct km_diags *d = km_diags_new(NULL);
	enum km_status st = KM_ENOMEM;
	enum km_exit e = KM_EXIT_GOOD;

	if (d)
		st = km_load(in->in, in->n, NULL, d, &a->load);
	if (st == KM_OK)
		st = ask(c, d, which, a);
	if (d)
		e = km_cli_tell(c, d);
	if (e == KM_EXIT_GOOD)
		e = km_cli_exit(st, d);
	km_diags_free(d);
	return e;
}

static enum km_exit print(struct km_cli *c, const struct answer *a,
			  enum km_format format, struct km_output *out)
{
	struct km_report_options paper = km_paper(c);
	struct km_sink to = { km_output_write, out };
	enum km_status st = a->ranked
		? km_report_which(a->ranked, format, &paper, &to)
		: km_report_compare(a->compared, format, &paper, &to);

	if (st != KM_OK && st != KM_EIO)	/* close tells of KM_EIO */
		return km_cli_exit(st, NULL);
	return km_output_close(out);
}

static enum km_exit answer(struct km_cli *c, bool which)
{
	struct km_output out = { .fd = -1 };
	struct answer a = { NULL, NULL, NULL };
	struct km_inputs in = { 0 };
	enum km_format format;
	enum km_exit e;

	if (!km_choose_table_format(c, &format))
		return KM_EXIT_WRONG;
	e = km_cli_inputs(c, &in);
	if (e == KM_EXIT_GOOD)
		e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT], &in,
				   c->mem);
	if (e == KM_EXIT_GOOD)
		e = find(c, &in, which, &a);
	if (e == KM_EXIT_GOOD)
		e = print(c, &a, format, &out);
	if (e == KM_EXIT_GOOD && a.compared && !a.compared->same)
		e = KM_EXIT_DIFFERS;
	km_output_drop(&out);
	km_inputs_release(&in);
	km_side_by_side_free(a.compared);
	km_which_free(a.ranked);
	km_load_free(a.load);
	return e;
}

enum km_exit km_cmd_compare(struct km_cli *c)
{
	return answer(c, false);
}

enum km_exit km_cmd_which(struct km_cli *c)
{
	return answer(c, true);
}
