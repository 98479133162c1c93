/* SPDX-License-Identifier: MIT */
#include "cli/cmds.h"

#include <string.h>
#include <unistd.h>

#include "base/near.h"
#include "cli/term.h"
#include "diag/render.h"

#define FILES_MOST 10000	/* [choice] of a run */

const struct km_command km_commands[KM_COMMANDS] = {
	[KM_CMD_AUDIT] = { "audit", "FILE...", true,
		"sort the tools of a bench into the slots of a kit",
		"Reads kits, benches, prices, workshops, machines and decisions from YAML\n"
		"files in any order, benches from CSV files too, and prints one sheet: which\n"
		"slot is right, which only stands in and why, what to do about the rest.",
		{ "kitmuster audit machine.kit.yaml drawer.bench.yaml",
		  "kitmuster audit --sheet shopping *.yaml",
		  "kitmuster audit --sheet slots --format csv -o slots.csv *.yaml" },
		"0  every kit meets its standard today\n"
		"1  at least one does not\n",
		km_cmd_audit,
		.formats = "text; a sheet may have others" },
	[KM_CMD_CHECK] = { "check", "FILE...", true,
		"read and link files, and say what is wrong in them",
		"Every mistake of every file is told in one run, on standard error;\n"
		"with --json as a list on standard output.",
		{ "kitmuster check *.yaml",
		  "kitmuster check --stdin-form csv - < drawer.csv" },
		"0  nothing is wrong\n",
		km_cmd_check,
		.formats = "text, json, sarif, github" },
	[KM_CMD_COMPARE] = { "compare", "FILE...", true,
		"lay kits beside each other and say what differs",
		"Slots are laid beside each other by what the kits claim of them, not by\n"
		"their ids or their order; only what differs is printed. Of several kits each\n"
		"is held against the first: that of the first --kit, else the first by id.",
		{ "kitmuster compare home.kit.yaml export.kit.yaml",
		  "kitmuster compare --kit larkmoor-54-first --kit larkmoor-54-second kits/*.yaml" },
		"0  the kits say the same of every slot\n"
		"1  something differs\n",
		km_cmd_compare, NULL },
	[KM_CMD_WHICH] = { "which", "FILE...", true,
		"rank kits by the tools that came with a machine",
		"Goes by the tools whose came_with names the machine, by serial number or\n"
		"title; where there is none, by all of its owner. Wear tells nothing about the\n"
		"kit and does not count. A serial number, date or market that speaks against a\n"
		"kit is said beside it.",
		{ "kitmuster which machine.yaml drawer.bench.yaml kits/*.yaml",
		  "kitmuster which --format csv -o which.csv machine.yaml drawer.csv kits/*.yaml" },
		"0  answered\n",
		km_cmd_which, NULL },
	[KM_CMD_CHANGES] = { "changes", "OLD.json NEW.json", true,
		"compare two audits: what turned, why, and in money",
		"Both are what 'audit --sheet slots --json' wrote, or both what\n"
		"'audit --json' wrote. Of slots it says which verdicts turned and why, what the\n"
		"decisions cost, and which orders to cancel; of summaries, which figures moved.",
		{ "kitmuster changes spring.json autumn.json",
		  "kitmuster changes --format csv spring.json autumn.json" },
		"0  nothing has changed\n"
		"1  something has\n",
		km_cmd_changes, NULL },
	[KM_CMD_GAUGE] = { "gauge", "SIZE|LENGTH...", true,
		"say what an opening is, and which heads it turns",
		"A size is what is struck on a tool: 13 mm, 7/16 AF, 1/4 W, 2 BA. A length\n"
		"with a decimal point is an opening as measured: 12.72 mm, 0.525 in. A\n"
		"length that is no size is a measure too.",
		{ "kitmuster gauge 12.72mm",
		  "kitmuster gauge '1/4 W' '7/16 AF'" },
		"0  answered\n",
		km_cmd_gauge,
		.formats = "text, json" },
	[KM_CMD_IMPORT] = { "import", "LIST...", true,
		"write tables and notes of tools as a bench",
		"A list is a table with any columns in any order, notes with one tool a line\n"
		"(.txt), or a bench (.yaml). What cannot be read is refused by row and reason,\n"
		"and the rest is read; nothing is guessed.",
		{ "kitmuster import -n shed.csv",
		  "kitmuster import --unit in shed.csv notes.txt -o shed.bench.yaml",
		  "kitmuster import --format csv shed.bench.yaml" },
		"0  every row was read\n"
		"1  at least one was refused\n",
		km_cmd_import,
		.formats = "yaml, csv" },
	[KM_CMD_SCHEMA] = { "schema", "[RECORD]", false,
		"say what a file, or one record, may hold",
		"JSON Schema, draft 7, for editors and programs; --format markdown writes the\n"
		"reference for people. Records: kit, slot, tool, condition, offer and so on.",
		{ "kitmuster schema -o kitmuster.schema.json",
		  "kitmuster schema --format markdown tool" },
		"0  written\n",
		km_cmd_schema,
		.formats = "json, markdown, mdoc" },
	[KM_CMD_START] = { "start", "RECORD", true,
		"write a file to begin with, such as a kit or bench",
		"RECORD is kit, bench, prices, workshop, machine or rubric. The file loads as it\n"
		"is; what is seldom needed is there, commented out.",
		{ "kitmuster start kit -o machine.kit.yaml",
		  "kitmuster start bench" },
		"0  written\n",
		km_cmd_start, NULL },
	[KM_CMD_HELP] = { "help", "[COMMAND]", false,
		"say how the tool, or one command, is used",
		"As mdoc it is the manual page; as bash, zsh and fish what those shells complete\n"
		"command lines with.",
		{ "kitmuster help audit",
		  "kitmuster help --format bash" },
		"0  always, for a command that there is\n",
		km_cmd_help,
		.formats = "text, mdoc, bash, zsh, fish" },
};

bool km_command_find(const char *name, enum km_command_id *out,
		     struct km_arena *mem)
{
	struct km_near near;
	struct km_buf b;

	km_near_init(&near, name);
	for (uint32_t i = 0; i < KM_COMMANDS; i++) {
		if (strcmp(km_commands[i].name, name) == 0) {
			*out = (enum km_command_id)i;
			return true;
		}
		km_near_offer(&near, km_commands[i].name);
	}
	km_buf_init(&b, mem);
	km_buf_printf(&b, "no such command: '%s'", name);
	km_buf_near(&b, &near, "");
	km_say("%s", km_buf_failed(&b) ? "out of memory" : b.text);
	return false;
}

#define LINE 80			/* cells; what is longer goes on below */

/* What is wrong, and the words that there are: behind it, or on lines below
 * where they are too many. */
static void say_words(struct km_buf *b, const char *const *words, uint32_t n)
{
	size_t told = sizeof "kitmuster: ; there are" - 1 + b->len, at = 0;
	struct km_buf list;

	km_buf_init(&list, b->mem);
	for (uint32_t i = 0; i < n; i++)
		told += strlen(words[i]) + 2;
	km_buf_str(b, "; there are");
	for (uint32_t i = 0; i < n; i++) {
		size_t cells = strlen(words[i]) + 2;

		if (told <= LINE) {
			km_buf_printf(b, "%s %s", i ? "," : "", words[i]);
			continue;
		}
		if (!i || at + cells > LINE) {
			km_buf_str(&list, i ? ",\n " : " ");
			at = 1;
		} else {
			km_buf_char(&list, ',');
		}
		km_buf_printf(&list, " %s", words[i]);
		at += cells;
	}
	if (list.len)
		km_buf_char(&list, '\n');
	km_say("%s", km_buf_failed(b) ? "out of memory" : b->text);
	if (list.len && !km_buf_failed(&list))
		km_say_raw(list.text, list.len);
}

bool km_choose(struct km_cli *c, const char *what, const char *word,
	       const char *const *words, uint32_t n, uint32_t *out)
{
	struct km_near near;
	struct km_buf b;

	km_near_init(&near, word);
	for (uint32_t i = 0; i < n; i++) {
		if (strcmp(words[i], word) == 0) {
			*out = i;
			return true;
		}
		km_near_offer(&near, words[i]);
	}
	km_buf_init(&b, c->mem);
	km_buf_printf(&b, "no such %s: '%s'", what, word);
	km_buf_near(&b, &near, "");
	if (near.n == 0)
		say_words(&b, words, n);
	else
		km_say("%s", km_buf_failed(&b) ? "out of memory" : b.text);
	return false;
}

bool km_choose_format(struct km_cli *c, enum km_format *out)
{
	const char *words[KM_FORMATS];
	const char *word = c->args.value[KM_OPT_FORMAT];
	uint32_t which = KM_FORMAT_TEXT;

	for (uint32_t i = 0; i < KM_FORMATS; i++)
		words[i] = km_format_word((enum km_format)i);
	if (word && !km_choose(c, "format", word, words, KM_FORMATS, &which))
		return false;
	*out = (enum km_format)which;
	return true;
}

bool km_choose_table_format(struct km_cli *c, enum km_format *out)
{
	const char *between = "";
	struct km_buf b;

	if (!km_choose_format(c, out) || !km_choose_colour(c))
		return false;
	if (km_format_is_of_tables(*out))
		return true;
	km_buf_init(&b, c->mem);
	for (int f = 0; f < KM_FORMATS; f++)
		if (km_format_is_of_tables((enum km_format)f)) {
			km_buf_printf(&b, "%s%s", between,
				      km_format_word((enum km_format)f));
			between = ", ";
		}
	km_say("%s has no format '%s'; it has %s", c->command->name,
	       km_format_word(*out), km_buf_failed(&b) ? "" : b.text);
	return false;
}

bool km_choose_colour(struct km_cli *c)
{
	static const char *const whens[] = { "always", "never", "auto" };
	const char *when = c->args.value[KM_OPT_COLOR];
	uint32_t which;

	return !when ||
	       km_choose(c, "time for colour", when, whens, 3, &which);
}

struct km_report_options km_paper(const struct km_cli *c)
{
	const char *file = c->args.value[KM_OPT_OUTPUT];
	bool screen = !file || strcmp(file, "-") == 0;
	const char *when = c->args.value[KM_OPT_COLOR];
	struct km_report_options o = {
		.width = screen ? km_term_width(STDOUT_FILENO) : 0,
		.verbose = c->args.times[KM_OPT_VERBOSE] > 0,
		.plain = c->args.times[KM_OPT_PLAIN] > 0,
		.csv_bom = c->args.times[KM_OPT_CSV_BOM] > 0,
		.colour = km_term_colour(screen ? STDOUT_FILENO : -1, when),
	};

	return o;
}

enum km_exit km_cli_inputs(struct km_cli *c, struct km_inputs *in)
{
	static const char *const forms[] = { "yaml", "csv" };
	const char *form = c->args.value[KM_OPT_STDIN_FORM];
	uint32_t which = 0;
	enum km_exit e;

	memset(in, 0, sizeof *in);
	if (c->n_operands > FILES_MOST) {
		km_say("more than %d files", FILES_MOST);
		return KM_EXIT_WRONG;
	}
	if (form && !km_choose(c, "form of standard input", form, forms, 2,
			       &which))
		return KM_EXIT_WRONG;
	e = km_inputs_init(in, c->operands, c->n_operands,
			   which ? KM_INPUT_CSV : KM_INPUT_YAML, c->mem);
	if (e != KM_EXIT_GOOD)
		return e;
	if (form && !km_inputs_has_stdin(in)) {
		km_say("--stdin-form speaks of '-', which is not given");
		return KM_EXIT_WRONG;
	}
	if (km_inputs_has_stdin(in) && isatty(STDIN_FILENO))
		km_say("reading from the terminal; end with Ctrl-D on a line "
		       "of its own");
	return KM_EXIT_GOOD;
}

static enum km_severity least_told(const struct km_cli *c)
{
	if (c->command == &km_commands[KM_CMD_CHECK] ||
	    c->command == &km_commands[KM_CMD_IMPORT] ||
	    c->args.times[KM_OPT_VERBOSE])
		return KM_NOTE;
	return KM_WARNING;
}

enum km_exit km_cli_tell(struct km_cli *c, struct km_diags *d)
{
	struct km_buf b;

	km_buf_init(&b, c->mem);
	km_diags_sort(d);
	if (!c->args.times[KM_OPT_QUIET]) {
		km_render_text_from(&b, d, least_told(c));
	} else {
		for (size_t i = 0; i < km_diags_size(d); i++) {
			const struct km_diag *one = km_diags_at(d, i);

			if (km_msg_severity(one->msg) == KM_ERROR)
				km_render_one(&b, one);
		}
	}
	if (km_buf_failed(&b) || km_diags_failed(d)) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	km_say_raw(b.text, b.len);
	return KM_EXIT_GOOD;
}

enum km_exit km_cli_exit(enum km_status st, const struct km_diags *d)
{
	bool said = d && km_diags_count(d, KM_ERROR) > 0;

	switch (st) {
	case KM_OK:
		return KM_EXIT_GOOD;
	case KM_EINPUT:
		return KM_EXIT_WRONG;
	case KM_EIO:
		return KM_EXIT_TROUBLE;
	case KM_ENOMEM:
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	case KM_ERANGE:
		if (!said)
			km_say("a figure is too large to be added up");
		return KM_EXIT_WRONG;
	case KM_ELIMIT:
		if (!said)
			km_say("the input passes a limit");
		return KM_EXIT_WRONG;
	}
	return KM_EXIT_TROUBLE;
}
