/* SPDX-License-Identifier: MIT */
/*
 * completion - what shells offer while a command line is typed.  Nothing is
 * written anywhere; ids of kits are asked of the files named so far.
 */
#include <string.h>

#include "cli/cmds.h"
#include "cli/manual.h"

/* The ids of the kits in the files typed so far: only names of files, and not
 * the one that is to be written. */
static const char kit_ids[] =
	"local -a files=()\n"
	"\t\tlocal last=\n"
	"\t\tfor word in \"${COMP_WORDS[@]:1}\"; do\n"
	"\t\t\tcase $last,$word in\n"
	"\t\t\t-o,*|--output,*|*,-*) ;;\n"
	"\t\t\t*.yaml|*.yml) [ -f \"$word\" ] && files+=(\"$word\");;\n"
	"\t\t\tesac\n"
	"\t\t\tlast=$word\n"
	"\t\tdone\n"
	"\t\t[ ${#files[@]} -eq 0 ] || words=$(kitmuster audit -q \\\n"
	"\t\t    --sheet slots --format csv \"${files[@]}\" \\\n"
	"\t\t    </dev/null 2>/dev/null | sed 1d | cut -d, -f1 | sort -u)";

static void add_all(struct km_buf *b, int n, const char *(*word)(int i))
{
	for (int i = 0; i < n; i++)
		km_buf_printf(b, "%s%s", i ? " " : "", word(i));
}

static const char *sheet_word(int i)
{
	return km_sheet_info((enum km_sheet)i)->word;
}

static const char *format_word(int i)
{
	return km_format_word((enum km_format)i);
}

static const char *standard_word(int i)
{
	return km_standard_word((enum km_standard)i);
}

static const char *paper_word(int i)
{
	return km_paper_word((enum km_paper_size)i);
}

static const char *command_word(int i)
{
	return km_commands[i].name;
}

/* The words that an option's value is one of; nothing for a free value. */
static void add_values(struct km_buf *b, enum km_opt opt)
{
	switch (opt) {
	case KM_OPT_SHEET:
		add_all(b, KM_SHEETS, sheet_word);
		break;
	case KM_OPT_FORMAT:
		add_all(b, KM_FORMATS, format_word);
		break;
	case KM_OPT_STANDARD:
		add_all(b, KM_STANDARDS, standard_word);
		break;
	case KM_OPT_PAPER:
		add_all(b, KM_PAPER_SIZES, paper_word);
		break;
	case KM_OPT_STDIN_FORM:
		km_buf_str(b, "yaml csv notes");
		break;
	case KM_OPT_UNIT:
		km_buf_str(b, "mm in");
		break;
	case KM_OPT_COLOR:
		km_buf_str(b, "always never auto");
		break;
	default:
		break;
	}
}

/* Within '...': a quote in the text ends them, stands alone, begins again. */
static void quoted(struct km_buf *b, const char *text, size_t n)
{
	km_buf_char(b, '\'');
	for (size_t i = 0; i < n; i++) {
		if (text[i] == '\'')
			km_buf_str(b, "'\\''");
		else
			km_buf_char(b, text[i]);
	}
	km_buf_char(b, '\'');
}

static size_t first_line(const char *text)
{
	return strcspn(text, "\n");
}

static bool takes(const struct km_option *o, int command)
{
	return o->commands >> command & 1;
}

/* ------------------------------------------------------------------ */
/* bash                                                                */

static void bash_values(struct km_buf *b, enum km_opt opt)
{
	struct km_buf values;

	if (!km_options[opt].value)
		return;
	km_buf_init(&values, b->mem);
	add_values(&values, opt);
	b->failed |= km_buf_failed(&values);
	km_buf_printf(b, "\t--%s) ", km_options[opt].name);
	if (opt == KM_OPT_KIT)
		km_buf_str(b, kit_ids);
	else if (values.len)
		km_buf_printf(b, "words='%s'", values.text);
	else	/* a free value: files, if anything */
		km_buf_str(b, "COMPREPLY=(); return");
	km_buf_str(b, ";;\n");
}

void km_completion_bash(struct km_buf *b)
{
	km_buf_str(b, "# bash completion for kitmuster\n_kitmuster() {\n"
		   "\tlocal cur=${COMP_WORDS[COMP_CWORD]}\n"
		   "\tlocal prev=${COMP_WORDS[COMP_CWORD-1]}\n"
		   "\tlocal word command= words=\n"
		   "\tfor word in \"${COMP_WORDS[@]:1:COMP_CWORD-1}\"; do\n"
		   "\t\tcase \" ");
	add_all(b, KM_COMMANDS, command_word);
	km_buf_str(b, " \" in *\" $word \"*) command=$word; break;; esac\n"
		   "\tdone\n\tcase $prev in\n");
	for (int i = 0; i < KM_OPTS; i++)
		bash_values(b, (enum km_opt)i);
	km_buf_str(b, "\tesac\n\tif [ -z \"$words\" ]; then\n"
		   "\t\tcase $cur,$command in\n");
	for (int c = 0; c < KM_COMMANDS; c++) {
		km_buf_printf(b, "\t\t-*,%s) words='", km_commands[c].name);
		for (int i = 0; i < KM_OPTS; i++)
			if (takes(&km_options[i], c))
				km_buf_printf(b, "--%s ", km_options[i].name);
		km_buf_str(b, "';;\n");
	}
	km_buf_str(b, "\t\t-*,) words='--help --version';;\n\t\t*,|*,help) "
		   "words='");
	add_all(b, KM_COMMANDS, command_word);
	km_buf_str(b, "';;\n\t\tesac\n\tfi\n"
		   "\tCOMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n}\n"
		   "complete -o bashdefault -o default -F _kitmuster "
		   "kitmuster\n");
}

/* ------------------------------------------------------------------ */
/* zsh                                                                 */

static void zsh_option(struct km_buf *b, enum km_opt opt)
{
	const struct km_option *o = &km_options[opt];
	struct km_buf spec;

	km_buf_init(&spec, b->mem);
	km_buf_printf(&spec, "--%s%s[", o->name,
		      !o->value ? "" : o->without ? "=-" : "=");
	for (size_t i = 0; i < first_line(o->help); i++) {
		if (strchr("[]:\\", o->help[i]))
			km_buf_char(&spec, '\\');
		km_buf_char(&spec, o->help[i]);
	}
	km_buf_char(&spec, ']');
	if (o->value) {
		struct km_buf values;

		km_buf_init(&values, b->mem);
		add_values(&values, opt);
		spec.failed |= km_buf_failed(&values);
		km_buf_printf(&spec, "%s%s:", o->without ? "::" : ":",
			      o->name);
		if (values.len)
			km_buf_printf(&spec, "(%s)", values.text);
		else if (opt == KM_OPT_OUTPUT)
			km_buf_str(&spec, "_files");
	}
	if (km_buf_failed(&spec)) {
		b->failed = true;
		return;
	}
	km_buf_str(b, "\t\t\t");
	quoted(b, spec.text, spec.len);
	km_buf_str(b, " \\\n");
}

void km_completion_zsh(struct km_buf *b)
{
	km_buf_str(b, "#compdef kitmuster\n\n_kitmuster() {\n"
		   "\tlocal context state line\n\ttypeset -A opt_args\n"
		   "\tlocal -a commands\n\tcommands=(\n");
	for (int c = 0; c < KM_COMMANDS; c++) {
		km_buf_str(b, "\t\t");
		km_buf_printf(b, "%s:", km_commands[c].name);
		quoted(b, km_commands[c].job, strlen(km_commands[c].job));
		km_buf_char(b, '\n');
	}
	km_buf_str(b, "\t)\n\t_arguments -C '--help[how it is used]' "
		   "'--version[the version]' '1: :->command' '*:: :->rest'\n"
		   "\tcase $state in\n\tcommand) _describe command commands;;\n"
		   "\trest)\n\t\tcase $words[1] in\n");
	for (int c = 0; c < KM_COMMANDS; c++) {
		km_buf_printf(b, "\t\t%s) _arguments \\\n",
			      km_commands[c].name);
		for (int i = 0; i < KM_OPTS; i++)
			if (takes(&km_options[i], c))
				zsh_option(b, (enum km_opt)i);
		km_buf_str(b, c == KM_CMD_HELP
			   ? "\t\t\t'1:command:->command';;\n"
			   : "\t\t\t'*:file:_files';;\n");
	}
	km_buf_str(b, "\t\tesac;;\n\tesac\n}\n\n_kitmuster \"$@\"\n");
}

/* ------------------------------------------------------------------ */
/* fish                                                                */

static void fish_option(struct km_buf *b, enum km_opt opt)
{
	const struct km_option *o = &km_options[opt];
	struct km_buf values;

	km_buf_init(&values, b->mem);
	add_values(&values, opt);
	b->failed |= km_buf_failed(&values);
	km_buf_str(b, "complete -c kitmuster -n "
		   "'__fish_seen_subcommand_from");
	for (int c = 0; c < KM_COMMANDS; c++)
		if (takes(o, c))
			km_buf_printf(b, " %s", km_commands[c].name);
	km_buf_printf(b, "' -l %s", o->name);
	if (o->letter)
		km_buf_printf(b, " -s %c", o->letter);
	if (o->value)
		km_buf_str(b, opt == KM_OPT_OUTPUT ? " -r" : " -x");
	if (values.len)
		km_buf_printf(b, " -a '%s'", values.text);
	km_buf_str(b, " -d ");
	quoted(b, o->help, first_line(o->help));
	km_buf_char(b, '\n');
}

void km_completion_fish(struct km_buf *b)
{
	km_buf_str(b, "# fish completion for kitmuster\n");
	for (int c = 0; c < KM_COMMANDS; c++) {
		km_buf_printf(b, "complete -c kitmuster -n __fish_use_subcommand "
			      "-f -a %s -d ", km_commands[c].name);
		quoted(b, km_commands[c].job, strlen(km_commands[c].job));
		km_buf_char(b, '\n');
	}
	for (int i = 0; i < KM_OPTS; i++)
		fish_option(b, (enum km_opt)i);
}
