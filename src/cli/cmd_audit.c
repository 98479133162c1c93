/* SPDX-License-Identifier: MIT */
/*
 * audit - read, audit, print one sheet.
 */
#include <stdlib.h>
#include <string.h>

#include "base/str.h"
#include "cli/cmds.h"
#include "kitmuster/questions.h"
#include "unit/date.h"
#include "unit/money.h"

/* What the options ask for. */
struct order {
	enum km_sheet sheet;
	enum km_format format;
	struct km_options options;
	bool questions;
	enum km_paper_size paper;
};

static bool choose_sheet(struct km_cli *c, enum km_sheet *out)
{
	const char *words[KM_SHEETS];
	const char *word = c->args.value[KM_OPT_SHEET];
	uint32_t which = KM_SHEET_SUMMARY;

	for (uint32_t i = 0; i < KM_SHEETS; i++)
		words[i] = km_sheet_info((enum km_sheet)i)->word;
	if (word && !km_choose(c, "sheet", word, words, KM_SHEETS, &which))
		return false;
	*out = (enum km_sheet)which;
	return true;
}

/* The summary, or, in a format that it does not have, the first sheet that
 * has it. */
static void default_sheet(const struct km_cli *c, struct order *o)
{
	if (c->args.value[KM_OPT_SHEET])
		return;
	for (int i = 0; i < KM_SHEETS; i++)
		if (km_report_has((enum km_sheet)i, o->format)) {
			o->sheet = (enum km_sheet)i;
			return;
		}
}

/* Text, or the one format that the sheet has. */
static void default_format(const struct km_cli *c, struct order *o)
{
	uint32_t formats = km_sheet_info(o->sheet)->formats;

	if (c->args.value[KM_OPT_FORMAT])
		return;
	for (int i = 0; i < KM_FORMATS; i++)
		if (formats == 1u << i)
			o->format = (enum km_format)i;
}

static bool check_pair(struct km_cli *c, const struct order *o)
{
	const struct km_sheet_info *info = km_sheet_info(o->sheet);
	const char *between = "";
	struct km_buf b;

	if (km_report_has(o->sheet, o->format))
		return true;
	km_buf_init(&b, c->mem);
	for (int i = 0; i < KM_FORMATS; i++) {
		if (!km_report_has(o->sheet, (enum km_format)i))
			continue;
		km_buf_printf(&b, "%s%s", between,
			      km_format_word((enum km_format)i));
		between = ", ";
	}
	km_say("the sheet '%s' has no format '%s'; it has %s", info->word,
	       km_format_word(o->format), km_buf_failed(&b) ? "" : b.text);
	return false;
}

static bool choose_standard(struct km_cli *c, struct km_options *o)
{
	const char *words[KM_STANDARDS];
	const char *word = c->args.value[KM_OPT_STANDARD];
	uint32_t which;

	if (!word)
		return true;
	for (uint32_t i = 0; i < KM_STANDARDS; i++)
		words[i] = km_standard_word((enum km_standard)i);
	if (!km_choose(c, "standard", word, words, KM_STANDARDS, &which))
		return false;
	o->standard_given = true;
	o->standard = (enum km_standard)which;
	return true;
}

/* [source-date-epoch] decimal seconds since 1970, here up to the year 9999. */
static bool date_of_epoch(const char *text, struct km_date *out)
{
	const int64_t most = INT64_C(253402300799);
	int64_t seconds = 0;

	if (!*text)
		return false;
	for (; *text; text++) {
		if (*text < '0' || *text > '9')
			return false;
		seconds = seconds * 10 + (*text - '0');
		if (seconds > most)
			return false;
	}
	*out = km_date_of_days((int32_t)(seconds / 86400));
	return true;
}

static bool choose_today(struct km_cli *c, struct km_options *o)
{
	const char *word = c->args.value[KM_OPT_TODAY];
	const char *epoch = getenv("SOURCE_DATE_EPOCH");

	if (word) {
		if (km_date_parse(km_slice_of(word), &o->today))
			return true;
		km_say("--today: '%s' is no day; write it as 2026-04-01", word);
		return false;
	}
	if (!epoch || date_of_epoch(epoch, &o->today))
		return true;
	km_say("SOURCE_DATE_EPOCH: '%s' is no number of seconds since 1970",
	       epoch);
	return false;
}

/* A budget or a limit of points, not both. */
static bool choose_aim(struct km_cli *c, struct km_options *o)
{
	if (c->args.value[KM_OPT_BUDGET] && c->args.value[KM_OPT_POINTS]) {
		km_say("--budget and --points do not go together");
		return false;
	}
	o->must_fit = c->args.times[KM_OPT_MUST_FIT] > 0;
	if (c->args.value[KM_OPT_BUDGET])
		o->aim = KM_AIM_BUDGET;
	if (c->args.value[KM_OPT_POINTS])
		o->aim = KM_AIM_POINTS;
	return true;
}

/* What a sheet needs to have worked out; the report, what all its parts do. */
static void want(struct order *order, enum km_sheet s)
{
	const struct km_sheet_info *info = km_sheet_info(s);
	struct km_options *o = &order->options;

	order->questions |= info->needs_questions;
	o->want_money |= info->needs_money;
	o->want_frontier |= info->needs_frontier;
	o->want_ceilings |= info->needs_ceilings;
	o->want_problem |= info->needs_problem;
	o->want_pouch |= info->needs_pouch;
	o->want_jobs |= info->needs_jobs;
	o->want_surplus |= info->needs_surplus;
	o->want_worth |= info->needs_worth;
	o->want_margins |= info->needs_margins;
	o->want_evidence |= info->needs_evidence;
}

static bool take_order(struct km_cli *c, struct order *o)
{
	memset(o, 0, sizeof *o);
	o->options.kits = c->args.kits;
	o->options.n_kits = c->args.n_kits;
	if (!choose_sheet(c, &o->sheet) || !km_choose_format(c, &o->format) ||
	    !km_choose_colour(c))
		return false;
	default_sheet(c, o);
	default_format(c, o);
	if (!check_pair(c, o) ||
	    !km_choose_paper(c, &o->paper) ||
	    !choose_standard(c, &o->options) ||
	    !choose_aim(c, &o->options) || !choose_today(c, &o->options))
		return false;
	for (int i = 0; i < KM_SHEETS; i++)
		if ((enum km_sheet)i == o->sheet ||
		    (o->sheet == KM_SHEET_REPORT &&
		     km_report_takes((enum km_sheet)i)))
			want(o, (enum km_sheet)i);
	o->options.want_fates = true;
	return true;
}

static enum km_exit print_sheet(struct km_cli *c, const struct order *o,
				const struct km_audit *a,
				struct km_output *out)
{
	struct km_report_options paper = km_paper(c);
	struct km_sink to = { km_output_write, out };
	enum km_status st;

	paper.paper = o->paper;
	st = km_report(a, o->sheet, o->format, &paper, &to);
	if (st != KM_OK && st != KM_EIO)	/* close tells of KM_EIO */
		return km_cli_exit(st, NULL);
	return km_output_close(out);
}

/* Decimals of the run's money, by the same order as the audit goes. */
static int decimals_of(const struct km_load *l)
{
	const char *code = l->prices ? l->prices->currency : NULL;

	if (!code && l->workshop)
		code = l->workshop->currency;
	for (uint32_t i = 0; !code && i < l->n_kits; i++)
		code = l->kits[i]->currency;
	if (!code)
		code = l->currency;
	return code ? km_currency_decimals(code) : 2;
}

/* The figure of an option, once it is known how many decimals it may have. */
static bool figure(const char *option, const char *text, int decimals,
		   const char *what, int64_t *out)
{
	if (km_money_parse(km_slice_of(text), decimals, false, out) ==
	    KM_MONEY_OK)
		return true;
	km_say("--%s: '%s' is no %s; write a number with at most %d decimals",
	       option, text, what, decimals);
	return false;
}

static bool set_aim(struct km_cli *c, const struct km_load *l,
		    struct km_options *o)
{
	if (o->aim == KM_AIM_BUDGET)
		return figure("budget", c->args.value[KM_OPT_BUDGET],
			      decimals_of(l), "sum of money", &o->budget);
	if (o->aim == KM_AIM_POINTS)
		return figure("points", c->args.value[KM_OPT_POINTS], 2,
			      "number of points", &o->points_limit);
	return true;
}

/* Load and audit, and tell all there is to tell; out holds KM_EXIT_GOOD's. */
static enum km_exit audit_files(struct km_cli *c, struct order *o,
				const struct km_inputs *in,
				struct km_load **load, struct km_audit **audit)
{
	struct km_diags *d = km_diags_new(NULL);
	enum km_status st = KM_ENOMEM;
	enum km_exit e = KM_EXIT_GOOD;

	if (d)
		st = km_load(in->in, in->n, NULL, d, load);
	if (st == KM_OK && !set_aim(c, *load, &o->options)) {
		km_diags_free(d);
		return KM_EXIT_WRONG;
	}
	if (st == KM_OK)
		st = km_audit_run(*load, &o->options, d, audit);
	if (st == KM_OK && o->questions)
		st = km_questions_ask(*load, *audit);
	if (d)
		e = km_cli_tell(c, d);
	if (e == KM_EXIT_GOOD)
		e = km_cli_exit(st, d);
	km_diags_free(d);
	return e;
}

enum km_exit km_cmd_audit(struct km_cli *c)
{
	struct km_output out = { .fd = -1 };
	struct km_audit *audit = NULL;
	struct km_load *load = NULL;
	struct km_inputs in = { 0 };
	struct order o;
	enum km_exit e;

	if (c->args.times[KM_OPT_MEASURED_BAR])
		return km_reprint(c);
	if (!take_order(c, &o))
		return KM_EXIT_WRONG;
	e = km_cli_inputs(c, &in);
	if (e == KM_EXIT_GOOD)
		e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT], &in,
				   c->mem);
	if (e == KM_EXIT_GOOD)
		e = audit_files(c, &o, &in, &load, &audit);
	if (e == KM_EXIT_GOOD)
		e = print_sheet(c, &o, audit, &out);
	if (e == KM_EXIT_GOOD && !audit->meets)
		e = KM_EXIT_DIFFERS;
	km_output_drop(&out);
	km_inputs_release(&in);
	km_audit_free(audit);
	km_load_free(load);
	return e;
}
