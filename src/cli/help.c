/* SPDX-License-Identifier: MIT */
/*
 * help - made from the tables of commands, options and sheets.
 */
#include <string.h>
#include <yaml.h>

#include "cli/cmds.h"
#include "cli/manual.h"

#define INDENT 2
#define HELP_AT 26	/* where the words about an option start */
#define SHEET_AT 13	/* and about a sheet */

static const char bugs[] =
	"\nBugs: tell whoever gave you this copy, with the smallest files that show it.\n";

/* "  -o, --output FILE" */
static void option_form(struct km_buf *b, const struct km_option *o)
{
	if (o->letter)
		km_buf_printf(b, "  -%c, ", o->letter);
	else
		km_buf_fill(b, ' ', 6);
	km_buf_printf(b, "--%s", o->name);
	if (o->value)
		km_buf_printf(b, o->without ? "[=%s]" : " %s", o->value);
}

/* The lines of a text, each after the first indented to HELP_AT. */
static void option_help(struct km_buf *b, const char *text)
{
	for (; *text; text++) {
		km_buf_char(b, *text);
		if (*text == '\n')
			km_buf_fill(b, ' ', HELP_AT);
	}
	km_buf_char(b, '\n');
}

static void list_formats(struct km_buf *b, uint32_t formats);

/* After the words on --format: what there is for the command. */
static void add_formats(struct km_buf *b, const struct km_command *command)
{
	b->len--;	/* the end of the line */
	km_buf_str(b, ": ");
	if (command->formats)
		km_buf_str(b, command->formats);
	else
		list_formats(b, km_sheet_info(KM_SHEET_MATCHES)->formats);
	km_buf_char(b, '\n');
}

static void list_options(struct km_buf *b, uint32_t commands,
			 const struct km_command *command)
{
	km_buf_str(b, "\noptions:\n");
	for (int i = 0; i < KM_OPTS; i++) {
		size_t from = b->len;

		if ((km_options[i].commands & commands) != commands)
			continue;
		option_form(b, &km_options[i]);
		km_buf_fill(b, ' ', b->len - from < HELP_AT
					    ? HELP_AT - (b->len - from) : 1);
		option_help(b, km_options[i].help);
		if (i == KM_OPT_FORMAT && command)
			add_formats(b, command);
	}
}

/* "text, csv, tsv" */
static void list_formats(struct km_buf *b, uint32_t formats)
{
	const char *between = "";

	for (int f = 0; f < KM_FORMATS; f++)
		if (formats >> f & 1) {
			km_buf_printf(b, "%s%s", between,
				      km_format_word((enum km_format)f));
			between = ", ";
		}
}

/* The formats that most sheets share are named once. */
static void list_sheets(struct km_buf *b)
{
	uint32_t tables = km_sheet_info(KM_SHEET_MATCHES)->formats;

	km_buf_str(b, "\nsheets:\n");
	for (int i = 0; i < KM_SHEETS; i++) {
		const struct km_sheet_info *s = km_sheet_info((enum km_sheet)i);
		bool table = (s->formats & tables) == tables;
		uint32_t rest = table ? s->formats & ~tables : s->formats;

		km_buf_printf(b, "  %-11s%s", s->word, s->help);
		if (rest) {
			struct km_buf names;

			km_buf_init(&names, b->mem);
			list_formats(&names, rest);
			if (SHEET_AT + strlen(s->help) + names.len > 70) {
				km_buf_char(b, '\n');
				km_buf_fill(b, ' ', SHEET_AT - 1);
			}
			km_buf_printf(b, " (%s%s)", table ? "also " : "",
				      names.text ? names.text : "");
		}
		km_buf_char(b, '\n');
	}
	km_buf_str(b, "Where nothing else is said, as ");
	list_formats(b, tables);
	km_buf_str(b, ".\n");
}

static void list_examples(struct km_buf *b, const struct km_command *command)
{
	for (size_t i = 0; i < 3 && command->examples[i]; i++)
		km_buf_printf(b, "  %s\n", command->examples[i]);
}

static void list_exits(struct km_buf *b, const char *text)
{
	km_buf_str(b, "\nexit status:\n");
	for (bool start = true; *text; text++) {
		if (start)
			km_buf_fill(b, ' ', INDENT);
		km_buf_char(b, *text);
		start = *text == '\n';
	}
	km_buf_str(b, "  2  the command line or an input is wrong\n"
		      "  3  something could not be read, written or held in memory\n");
}

static void command_help(struct km_buf *b, const struct km_command *command)
{
	km_buf_printf(b, "usage: kitmuster %s [OPTIONS] %s\n\nexamples:\n",
		      command->name, command->operands);
	list_examples(b, command);
	km_buf_char(b, '\n');
	if (command->more)
		km_buf_printf(b, "%s\n", command->more);
	else
		km_buf_printf(b, "%s\n", command->job);
	list_options(b, 1u << (command - km_commands), command);
	if (command == &km_commands[KM_CMD_AUDIT])
		list_sheets(b);
	list_exits(b, command->exits);
}

static void tool_help(struct km_buf *b)
{
	km_buf_str(b, "usage: kitmuster COMMAND [OPTIONS] [FILE...]\n"
		      "\nAudits the tool kit of an old machine: kits and loose tools in, verdicts out.\n"
		      "\nexamples:\n");
	km_buf_printf(b, "  %s\n  %s\n", km_commands[KM_CMD_AUDIT].examples[0],
		      km_commands[KM_CMD_GAUGE].examples[0]);
	km_buf_str(b, "\ncommands:\n");
	for (int i = 0; i < KM_COMMANDS; i++)
		km_buf_printf(b, "  %-9s%-19s%s\n", km_commands[i].name,
			      km_commands[i].operands, km_commands[i].job);
	list_options(b, (1u << KM_COMMANDS) - 1, NULL);
	km_buf_str(b, "\nOptions may stand before or after the command; '--' ends them; '-' is\n"
		      "standard input. 'kitmuster help COMMAND' tells the rest.\n");
}

static enum km_exit print(const struct km_buf *b, struct km_arena *mem)
{
	struct km_output out;

	if (km_buf_failed(b)) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	km_output_open(&out, NULL, NULL, mem);
	km_output_write(&out, b->text, b->len);
	return km_output_close(&out);
}

enum km_exit km_help_print(const struct km_command *command,
			   struct km_arena *mem)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	if (command)
		command_help(&b, command);
	else
		tool_help(&b);
	km_buf_str(&b, bugs);
	return print(&b, mem);
}

enum km_exit km_version_print(struct km_arena *mem)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	km_buf_printf(&b, "kitmuster %s\nlibyaml %s\n", KM_VERSION,
		      yaml_get_version_string());
	km_buf_str(&b, "Copyright (c) 2026 The kitmuster maintainers\n"
		       "MIT licence; there is no warranty.\n");
	return print(&b, mem);
}

enum km_exit km_usage_say(const struct km_command *command,
			  struct km_arena *mem)
{
	struct km_buf b;

	km_buf_init(&b, mem);
	if (command)
		km_buf_printf(&b, "usage: kitmuster %s [OPTIONS] %s\n"
			      "for example: %s\n"
			      "'kitmuster help %s' tells the rest\n",
			      command->name, command->operands,
			      command->examples[0], command->name);
	else
		km_buf_printf(&b, "usage: kitmuster COMMAND [OPTIONS] [FILE...]\n"
			      "for example: %s\n"
			      "'kitmuster help' tells the rest\n",
			      km_commands[KM_CMD_AUDIT].examples[0]);
	if (!km_buf_failed(&b))
		km_say_raw(b.text, b.len);
	return KM_EXIT_WRONG;
}

/* What the tables hold, in a form for another program. */
static enum km_exit print_form(struct km_cli *c, const char *form)
{
	static const struct {
		const char *word;
		void (*write)(struct km_buf *b);
	} forms[] = {
		{ "mdoc", km_manual }, { "bash", km_completion_bash },
		{ "zsh", km_completion_zsh }, { "fish", km_completion_fish },
	};
	enum { N = sizeof forms / sizeof *forms };
	const char *words[N];
	uint32_t which;
	struct km_buf b;

	for (uint32_t i = 0; i < N; i++)
		words[i] = forms[i].word;
	if (!km_choose(c, "form of help", form, words, N, &which))
		return KM_EXIT_WRONG;
	km_buf_init(&b, c->mem);
	forms[which].write(&b);
	return print(&b, c->mem);
}

enum km_exit km_cmd_help(struct km_cli *c)
{
	enum km_command_id id;

	if (c->args.value[KM_OPT_FORMAT])
		return print_form(c, c->args.value[KM_OPT_FORMAT]);
	if (c->n_operands == 0)
		return km_help_print(NULL, c->mem);
	if (c->n_operands > 1)
		return km_usage_say(c->command, c->mem);
	if (!km_command_find(c->operands[0], &id, c->mem))
		return KM_EXIT_WRONG;
	return km_help_print(&km_commands[id], c->mem);
}
