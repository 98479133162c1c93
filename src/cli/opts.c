/* SPDX-License-Identifier: MIT */
#include "cli/opts.h"

#include <string.h>

#include "base/near.h"

#define ON(c) (1u << KM_CMD_##c)
#define KITS (ON(COMPARE) | ON(WHICH))
#define READERS (ON(AUDIT) | ON(CHECK) | ON(IMPORT) | KITS)
#define PRINTERS (ON(AUDIT) | ON(GAUGE) | ON(CHANGES) | KITS)
#define WRITERS (PRINTERS | ON(IMPORT) | ON(SCHEMA) | ON(START))
#define EVERY ((1u << KM_COMMANDS) - 1)

const struct km_option km_options[KM_OPTS] = {
	[KM_OPT_SHEET] = { 0, "sheet", "NAME", .once = true,
		.commands = ON(AUDIT),
		.help = "the sheet to print; one sheet a run (summary)" },
	[KM_OPT_FORMAT] = { 0, "format", "NAME",
		.commands = PRINTERS | ON(CHECK) | ON(IMPORT) | ON(SCHEMA) |
			ON(HELP),
		.help = "how to write it" },
	[KM_OPT_JSON] = { 0, "json", .means = KM_OPT_FORMAT,
		.means_value = "json", .commands = PRINTERS | ON(CHECK),
		.help = "short for --format json" },
	[KM_OPT_KIT] = { 0, "kit", "ID", .repeats = true,
		.commands = ON(AUDIT) | KITS,
		.help = "only this kit; may be given again" },
	[KM_OPT_STANDARD] = { 0, "standard", "WORD", .once = true,
		.commands = ON(AUDIT),
		.help = "what is aimed at, whatever the kits say: as-delivered,\n"
			"period-correct, usable or as-found" },
	[KM_OPT_BUDGET] = { 0, "budget", "MONEY", .once = true,
		.commands = ON(AUDIT),
		.help = "plan for the fewest points lost within this sum" },
	[KM_OPT_POINTS] = { 0, "points", "POINTS", .once = true,
		.commands = ON(AUDIT),
		.help = "plan for the least money that loses no more points" },
	[KM_OPT_MUST_FIT] = { 0, "must-fit", .commands = ON(AUDIT),
		.help = "plan only with what goes into its pocket or pouch;\n"
			"what is not measured is let pass, and said" },
	[KM_OPT_TODAY] = { 0, "today", "YYYY-MM-DD", .once = true,
		.commands = ON(AUDIT),
		.help = "the day to reckon from; else that of\n"
			"SOURCE_DATE_EPOCH; else nothing that needs a date is\n"
			"worked out" },
	[KM_OPT_PAPER] = { 0, "paper", "SIZE", .once = true,
		.commands = ON(AUDIT),
		.help = "of what is printed as html: a4 or letter (a4)" },
	[KM_OPT_MEASURED_BAR] = { 0, "measured-bar", "MM", .once = true,
		.commands = ON(AUDIT),
		.help = "only say at what percentage to print again, when\n"
			"the bar of 100 mm on a printed sheet measures this" },
	[KM_OPT_STDIN_FORM] = { 0, "stdin-form", "FORM", .once = true,
		.commands = READERS,
		.help = "what '-' holds: yaml or csv (yaml); import: csv, notes\n"
			"or yaml (csv)" },
	[KM_OPT_UNIT] = { 0, "unit", "UNIT", .once = true,
		.commands = ON(IMPORT),
		.help = "of lengths and sizes that stand without one: mm or in" },
	[KM_OPT_DRY_RUN] = { 'n', "dry-run", .commands = ON(IMPORT),
		.help = "write nothing; say what would be read" },
	[KM_OPT_OUTPUT] = { 'o', "output", "FILE", .once = true,
		.commands = WRITERS,
		.help = "write there instead of standard output; a file is\n"
			"replaced whole or not at all" },
	[KM_OPT_PLAIN] = { 0, "plain", .commands = PRINTERS,
		.help = "text: one record a line, nothing wrapped or cut" },
	[KM_OPT_CSV_BOM] = { 0, "csv-bom",
		.commands = ON(AUDIT) | ON(CHANGES) | KITS,
		.help = "csv, tsv: begin with a byte order mark" },
	[KM_OPT_COLOR] = { 0, "color", "WHEN", .without = "always",
		.commands = PRINTERS,
		.help = "colour in text: always, never or auto (auto)" },
	[KM_OPT_NO_COLOR] = { 0, "no-color", .means = KM_OPT_COLOR,
		.means_value = "never", .commands = PRINTERS,
		.help = "short for --color=never" },
	[KM_OPT_VERBOSE] = { 'v', "verbose", .commands = PRINTERS,
		.help = "every reason, and the limits in force" },
	[KM_OPT_QUIET] = { 'q', "quiet", .commands = READERS,
		.help = "no warnings; from check, nothing when all is good" },
	[KM_OPT_HELP] = { 'h', "help", .commands = EVERY,
		.help = "this help" },
	[KM_OPT_VERSION] = { 0, "version", .commands = EVERY,
		.help = "the version" },
};

void km_buf_near(struct km_buf *b, const struct km_near *n, const char *dashes)
{
	for (size_t i = 0; i < n->n; i++)
		km_buf_printf(b, "%s'%s%s'",
			      i == 0 ? "; did you mean "
			      : i + 1 < n->n ? ", " : " or ",
			      dashes, n->best[i]);
	if (n->n > 0)
		km_buf_char(b, '?');
}

/* Only the first mistake is told; the buffer holds it. */
static bool first_fault(const struct km_args *a)
{
	return a->fault.len == 0;
}

static void take(struct km_args *a, enum km_opt opt, const char *value)
{
	const struct km_option *o = &km_options[opt];

	a->times[opt]++;
	if (value && *value == '\0' && first_fault(a))
		km_buf_printf(&a->fault, "--%s has an empty value", o->name);
	if (o->once && a->times[opt] == 2 && first_fault(a))
		km_buf_printf(&a->fault, "--%s is given twice", o->name);
	if (o->repeats)
		a->kits[a->n_kits++] = value;
	if (o->means_value)
		a->value[o->means] = o->means_value;
	else
		a->value[opt] = value;
}

static void unknown_long(struct km_args *a, const char *name, size_t n)
{
	char word[KM_NEAR_WORD + 1] = "";
	struct km_near near;

	if (!first_fault(a))
		return;
	if (n < sizeof word)
		memcpy(word, name, n);
	km_near_init(&near, word);
	for (int i = 0; i < KM_OPTS && *word; i++)
		km_near_offer(&near, km_options[i].name);
	km_buf_str(&a->fault, "no such option: '--");
	km_buf_add(&a->fault, name, n);
	km_buf_char(&a->fault, '\'');
	km_buf_near(&a->fault, &near, "--");
}

static void missing_value(struct km_args *a, const struct km_option *o)
{
	if (first_fault(a))
		km_buf_printf(&a->fault, "--%s needs a value: %s", o->name,
			      o->value);
}

/* One long option; returns true when it took next as its value. */
static bool take_long(struct km_args *a, const char *text, const char *next)
{
	size_t n = strcspn(text, "=");
	const char *value = text[n] ? text + n + 1 : NULL;
	enum km_opt opt = 0;

	while (opt < KM_OPTS && (strlen(km_options[opt].name) != n ||
				 memcmp(km_options[opt].name, text, n) != 0))
		opt++;
	if (opt == KM_OPTS) {
		unknown_long(a, text, n);
	} else if (!km_options[opt].value) {
		if (value && first_fault(a))
			km_buf_printf(&a->fault, "--%s takes no value",
				      km_options[opt].name);
		take(a, opt, NULL);
	} else if (value || km_options[opt].without) {
		take(a, opt, value ? value : km_options[opt].without);
	} else if (next) {
		take(a, opt, next);
		return true;
	} else {
		missing_value(a, &km_options[opt]);
	}
	return false;
}

/* A group of letters; returns true when it took next as a value. */
static bool take_letters(struct km_args *a, const char *text, const char *next)
{
	for (; *text; text++) {
		enum km_opt opt = 0;

		while (opt < KM_OPTS && km_options[opt].letter != *text)
			opt++;
		if (opt == KM_OPTS) {
			if (first_fault(a))
				km_buf_printf(&a->fault,
					      "no such option: '-%s'", text);
			return false;
		}
		if (!km_options[opt].value) {
			take(a, opt, NULL);
			continue;
		}
		if (text[1]) {
			take(a, opt, text + 1);
			return false;
		}
		if (next)
			take(a, opt, next);
		else
			missing_value(a, &km_options[opt]);
		return next != NULL;
	}
	return false;
}

bool km_args_parse(struct km_args *a, int argc, char *const *argv,
		   struct km_arena *mem)
{
	size_t most = argc > 0 ? (size_t)argc : 1;
	bool options = true;

	memset(a, 0, sizeof *a);
	km_buf_init(&a->fault, mem);
	a->kits = km_arena_alloc(mem, most, sizeof *a->kits);
	a->operands = km_arena_alloc(mem, most, sizeof *a->operands);
	if (!a->kits || !a->operands)
		return false;
	for (int i = 1; i < argc; i++) {
		const char *text = argv[i];
		const char *next = i + 1 < argc ? argv[i + 1] : NULL;
		bool used = false;

		if (!options || text[0] != '-' || text[1] == '\0')
			a->operands[a->n_operands++] = text;
		else if (strcmp(text, "--") == 0)
			options = false;
		else if (text[1] == '-')
			used = take_long(a, text + 2, next);
		else
			used = take_letters(a, text + 1, next);
		i += used;
	}
	return !km_buf_failed(&a->fault);
}

bool km_args_allow(struct km_args *a, enum km_command_id c,
		   const char *command)
{
	for (int i = 0; i < KM_OPTS && first_fault(a); i++)
		if (a->times[i] && !(km_options[i].commands & (1u << c)))
			km_buf_printf(&a->fault, "--%s does not go with '%s'",
				      km_options[i].name, command);
	return first_fault(a);
}
