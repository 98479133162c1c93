/* SPDX-License-Identifier: MIT */
/*
 * manual - the manual page, from the tables of commands, options, sheets and
 * messages.
 */
#include <string.h>

#include "base/mdoc.h"
#include "cli/cmds.h"
#include "cli/manual.h"
#include "diag/render.h"

static void add_synopsis(struct km_buf *b)
{
	km_buf_str(b, ".Sh SYNOPSIS\n");
	for (int i = 0; i < KM_COMMANDS; i++) {
		const struct km_command *c = &km_commands[i];

		km_buf_printf(b, ".Nm\n.Cm %s\n.Op Ar options\n", c->name);
		if (*c->operands == '[')
			km_buf_printf(b, ".Op Ar %.*s\n",
				      (int)strlen(c->operands) - 2,
				      c->operands + 1);
		else
			km_buf_printf(b, ".Ar %s\n", c->operands);
	}
}

static void add_commands(struct km_buf *b)
{
	km_buf_str(b, ".Sh COMMANDS\n.Bl -tag -width changes\n");
	for (int i = 0; i < KM_COMMANDS; i++) {
		const struct km_command *c = &km_commands[i];

		km_buf_printf(b, ".It Cm %s\n", c->name);
		km_mdoc_text(b, c->job);
		if (c->more) {
			km_buf_str(b, ".Pp\n");
			km_mdoc_text(b, c->more);
		}
		if (c->formats) {
			km_buf_str(b, ".Pp\nFormats:\n");
			km_mdoc_text(b, c->formats);
		}
	}
	km_buf_str(b, ".El\n");
}

static void add_option(struct km_buf *b, const struct km_option *o)
{
	const char *before = " ";

	km_buf_str(b, ".It");
	if (o->letter)
		km_buf_printf(b, " Fl %c ,", o->letter);
	km_buf_printf(b, " Fl Fl %s", o->name);
	if (o->value && o->without)
		km_buf_printf(b, " Ns Op = Ns Ar %s", o->value);
	else if (o->value)
		km_buf_printf(b, " Ar %s", o->value);
	km_buf_char(b, '\n');
	km_mdoc_text(b, o->help);
	if (o->commands == (1u << KM_COMMANDS) - 1)
		return;
	km_buf_str(b, ".br\nOf");
	for (int i = 0; i < KM_COMMANDS; i++)
		if (o->commands >> i & 1) {
			km_buf_printf(b, "%s%s", before, km_commands[i].name);
			before = ", ";
		}
	km_buf_str(b, ".\n");
}

static void add_options(struct km_buf *b)
{
	km_buf_str(b, ".Sh OPTIONS\nOptions may stand before or after the "
		   "command.\n.Ql --\nends them;\n.Ql -\nis standard input.\n"
		   ".Bl -tag -width Ds\n");
	for (int i = 0; i < KM_OPTS; i++)
		add_option(b, &km_options[i]);
	km_buf_str(b, ".El\n");
}

static void add_sheets(struct km_buf *b)
{
	km_buf_str(b, ".Sh SHEETS\n.Bl -tag -width size-strip\n");
	for (int i = 0; i < KM_SHEETS; i++) {
		const struct km_sheet_info *s = km_sheet_info((enum km_sheet)i);
		const char *before = "formats: ";
		struct km_buf words;

		km_buf_printf(b, ".It Cm %s\n", s->word);
		km_mdoc_text(b, s->help);
		km_buf_str(b, ".br\n");
		km_buf_init(&words, b->mem);
		for (int f = 0; f < KM_FORMATS; f++)
			if (s->formats >> f & 1) {
				km_buf_printf(&words, "%s%s", before,
					km_format_word((enum km_format)f));
				before = ", ";
			}
		b->failed |= km_buf_failed(&words);
		km_mdoc_text(b, words.text ? words.text : "");
	}
	km_buf_str(b, ".El\n");
}

static void add_environment(struct km_buf *b)
{
	static const struct { const char *name, *says; } v[] = {
		{ "CLICOLOR, CLICOLOR_FORCE, FORCE_COLOR, NO_COLOR, TERM",
		  "Whether text for a terminal is coloured, unless --color says so." },
		{ "COLUMNS", "How wide text for a terminal may be." },
		{ "SOURCE_DATE_EPOCH",
		  "The day to reckon from, unless --today names it; seconds since 1970." },
	};

	km_buf_str(b, ".Sh ENVIRONMENT\n.Bl -tag -width Ds\n");
	for (size_t i = 0; i < sizeof v / sizeof *v; i++) {
		km_buf_printf(b, ".It Ev %s\n", v[i].name);
		km_mdoc_text(b, v[i].says);
	}
	km_buf_str(b, ".El\n.Pp\n");
	km_mdoc_text(b, "Nothing else of the environment, no configuration "
		     "file, no clock and no network is read.");
}

static void add_exits(struct km_buf *b)
{
	km_buf_str(b, ".Sh EXIT STATUS\n.Bl -tag -width changes\n");
	for (int i = 0; i < KM_COMMANDS; i++) {
		km_buf_printf(b, ".It Cm %s\n", km_commands[i].name);
		for (const char *p = km_commands[i].exits; *p;) {
			size_t n = strcspn(p, "\n");

			km_buf_printf(b, "%s%.*s\n",
				      p == km_commands[i].exits ? "" : ".br\n",
				      (int)n, p);
			p += n + (p[n] == '\n');
		}
	}
	km_buf_str(b, ".El\n.Pp\nEverywhere 2 means that the command line or "
		   "an input is wrong,\nand 3 that something could not be "
		   "read, written or held in memory.\n");
}

static void add_examples(struct km_buf *b)
{
	km_buf_str(b, ".Sh EXAMPLES\n.Bd -literal -offset indent\n");
	for (int i = 0; i < KM_COMMANDS; i++)
		for (int k = 0; k < 3 && km_commands[i].examples[k]; k++)
			km_mdoc_text(b, km_commands[i].examples[k]);
	km_buf_str(b, ".Ed\n");
}

/* The ids last; the wording may change. */
static void add_messages(struct km_buf *b)
{
	static const char *const word[] = { "note", "warning", "error" };
	struct km_buf words;

	km_buf_str(b, ".Sh DIAGNOSTICS\n");
	km_mdoc_text(b, "Messages name a file, a line and a column, counted "
		     "from 1 in characters, and end in one of these ids, "
		     "which last.");
	km_buf_str(b, ".Bl -tag -width Ds\n");
	for (int m = 0; m < KM_M_COUNT; m++) {
		km_buf_printf(b, ".It %s, %s\n", km_msg_id((enum km_msg)m),
			      word[km_msg_severity((enum km_msg)m)]);
		km_buf_init(&words, b->mem);
		km_render_format(&words, (enum km_msg)m);
		b->failed |= km_buf_failed(&words);
		km_mdoc_text(b, words.text ? words.text : "");
	}
	km_buf_str(b, ".El\n");
}

void km_manual(struct km_buf *b)
{
	km_buf_str(b, ".Dd $Mdocdate$\n.Dt KITMUSTER 1\n.Os\n.Sh NAME\n"
		   ".Nm kitmuster\n"
		   ".Nd audit the tool kit of an old machine\n");
	add_synopsis(b);
	km_buf_str(b, ".Sh DESCRIPTION\n.Nm\n");
	km_mdoc_text(b, "reads what tools left the factory with a machine and "
		     "which loose tools are on the bench, and says which slot "
		     "of the kit is right, which only stands in and why, what "
		     "to clean, to have plated, to buy or to leave, and at "
		     "what price.");
	add_commands(b);
	add_options(b);
	add_sheets(b);
	add_environment(b);
	km_buf_str(b, ".Sh FILES\n.Bl -tag -width Ds\n.It Pa *.yaml\n"
		   "Kits, benches, prices and the rest; see\n"
		   ".Xr kitmuster-files 5 .\n.It Pa *.csv\n"
		   "Benches as tables, a tool a row.\n.El\n");
	add_exits(b);
	add_examples(b);
	add_messages(b);
	km_buf_str(b, ".Sh SEE ALSO\n.Xr kitmuster-files 5\n.Sh STANDARDS\n"
		   "YAML 1.1 as libyaml reads it, RFC 4180, RFC 8259, EDTF "
		   "level 1, ISO 4217.\n");
}
