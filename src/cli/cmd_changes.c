/* SPDX-License-Identifier: MIT */
/*
 * changes - what turned between two audits that were written as JSON.
 */
#include "cli/cmds.h"
#include "kitmuster/changes.h"

static enum km_exit find(struct km_cli *c, const struct km_inputs *in,
			 struct km_changes **out)
{
	struct km_diags *d = km_diags_new(NULL);
	enum km_status st = KM_ENOMEM;
	enum km_exit e = KM_EXIT_GOOD;

	if (d) {
		st = km_changes_find(&in->in[0], &in->in[1], NULL, d, out);
		e = km_cli_tell(c, d);
	}
	if (e == KM_EXIT_GOOD)
		e = km_cli_exit(st, d);
	km_diags_free(d);
	return e;
}

static enum km_exit print(struct km_cli *c, const struct km_changes *changes,
			  enum km_format format, struct km_output *out)
{
	struct km_report_options paper = km_paper(c);
	struct km_sink to = { km_output_write, out };
	enum km_status st = km_report_changes(changes, format, &paper, &to);

	if (st != KM_OK && st != KM_EIO)	/* close tells of KM_EIO */
		return km_cli_exit(st, NULL);
	return km_output_close(out);
}

enum km_exit km_cmd_changes(struct km_cli *c)
{
	struct km_output out = { .fd = -1 };
	struct km_changes *changes = NULL;
	struct km_inputs in = { 0 };
	enum km_format format;
	enum km_exit e;

	if (!km_choose_table_format(c, &format))
		return KM_EXIT_WRONG;
	if (c->n_operands != 2)
		return km_usage_say(c->command, c->mem);
	e = km_cli_inputs(c, &in);
	if (e == KM_EXIT_GOOD)
		e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT], &in,
				   c->mem);
	if (e == KM_EXIT_GOOD)
		e = find(c, &in, &changes);
	if (e == KM_EXIT_GOOD)
		e = print(c, changes, format, &out);
	if (e == KM_EXIT_GOOD && !changes->same)
		e = KM_EXIT_DIFFERS;
	km_output_drop(&out);
	km_inputs_release(&in);
	km_changes_free(changes);
	return e;
}
