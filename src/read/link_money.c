/* SPDX-License-Identifier: MIT */
/*
 * Sums of money are read as ten-thousandths of a unit; here each becomes
 * minor units of the currency of its record, when all currencies are known.
 */
#include <string.h>

#include "base/num.h"
#include "read/link.h"
#include "unit/money.h"

/* Prices say what money a run speaks of, else its kits, else its workshop. */
static const char *run_currency(const struct km_load *l)
{
	uint32_t i;

	if (l->prices && l->prices->currency)
		return l->prices->currency;
	for (i = 0; i < l->n_kits; i++)
		if (l->kits[i]->currency)
			return l->kits[i]->currency;
	return l->workshop ? l->workshop->currency : NULL;
}

/* Where none of them does, the code written with a sum, of several the first
 * in the alphabet: sums in another one are refused, since no rate is known. */
static const char *written_currency(const struct km_reader *r)
{
	const char *code = NULL;

	for (const struct km_money_fix *f = r->b.money; f; f = f->next)
		if (f->code && (!code || strcmp(f->code, code) < 0))
			code = f->code;
	return code;
}

static const struct km_rate *rate_of(const struct km_load *l,
				     const char *currency)
{
	uint32_t i;

	for (i = 0; l->prices && i < l->prices->n_rates; i++)
		if (!strcmp(l->prices->rates[i].currency, currency))
			return &l->prices->rates[i];
	return NULL;
}

static bool same(const char *a, const char *b)
{
	return !a || !b || !strcmp(a, b);
}

/* The currency the sum will be kept in, NULL if nothing names one; false
 * after a message. */
static bool settle(struct km_reader *r, const struct km_money_fix *fix,
		   const char *run, const char **currency)
{
	const char *scope = fix->scope && *fix->scope ? *fix->scope : run;

	if (!fix->keeps) {
		*currency = scope ? scope : fix->code;
		return true;
	}
	if (fix->code && !*fix->keeps)
		*fix->keeps = fix->code;
	if (!same(fix->code, *fix->keeps)) {
		km_diag_add(r->b.d, KM_M_MIXED_CURRENCY, fix->at, fix->code,
			    *fix->keeps);
		return false;
	}
	*currency = *fix->keeps ? *fix->keeps : scope;
	return true;
}

static void say_no_rate(struct km_reader *r, const struct km_money_fix *fix,
			const char *currency, const char *run)
{
	struct km_diag *one;

	if (r->b.rates_wrong)
		return;
	one = km_diag_add(r->b.d, KM_M_NO_RATE, fix->at, currency, run);
	km_diag_hint(r->b.d, one, "write 'rates: {%s: ...}' under 'prices', "
		     "in %s for one %s", currency, run, currency);
}

/* To minor units of `to`; a written code that differs is converted, rounded
 * half up, if there is a rate both ways. */
static bool convert(struct km_reader *r, struct km_money_fix *fix,
		    const char *to, const char *run)
{
	static const int64_t power[] = { 1, 10, 100, 1000, 10000 };
	int decimals = to ? km_currency_decimals(to) : 2;
	int written = fix->code ? km_currency_decimals(fix->code) : decimals;
	const struct km_rate *from;
	int64_t den;

	if (*fix->minor % power[4 - written]) {
		km_diag_add(r->b.d, KM_M_MONEY_DECIMALS, fix->at,
			    fix->code ? fix->code : to ? to : "a currency",
			    written);
		return false;
	}
	if (same(fix->code, to)) {
		*fix->minor /= power[4 - decimals];
		return true;
	}
	from = rate_of(r->load, fix->code);
	if (!from || !same(to, run)) {
		say_no_rate(r, fix, fix->code, to);
		return false;
	}
	if (km_mul(from->den, power[4 - decimals], &den) &&
	    km_mul_div(*fix->minor, from->num, den, fix->minor))
		return true;
	km_diag_add(r->b.d, KM_M_MONEY_SUM, fix->at, fix->code);
	return false;
}

/* Totals are checked when they are made; a file whose prices alone pass what
 * a total may hold is refused here, where a place can be named. */
static void check_sum(struct km_reader *r)
{
	const struct km_prices *p = r->load->prices;
	int64_t sum = 0;
	uint32_t i;

	for (i = 0; p && i < p->n_offers; i++) {
		if (r->link->offer[i]->price.high > 0 &&
		    !km_add(sum, r->link->offer[i]->price.high, &sum)) {
			km_diag_add(r->b.d, KM_M_MONEY_SUM,
				    r->link->offer[i]->at, p->currency);
			return;
		}
	}
}

/* A limit of a kit is only held against prices: without any, kits of several
 * currencies may be laid side by side. */
static bool stays_put(const struct km_load *l, const struct km_money_fix *fix)
{
	return !l->prices && fix->scope && *fix->scope;
}

void km_link_money(struct km_reader *r)
{
	const char *run = run_currency(r->load), *to;
	struct km_money_fix *fix;
	struct km_place said = { NULL, 0, 0 };
	bool again;

	if (!run && r->load->n_kits)	/* a bench alone is not added up */
		run = r->load->currency = written_currency(r);
	/* one sum stands for low, likely and high: one message */
	for (fix = r->b.money; fix; fix = fix->next) {
		again = said.line == fix->at.line && said.file == fix->at.file &&
			said.column == fix->at.column;
		if (again)
			continue;
		if (!settle(r, fix, run, &to) || !convert(r, fix, to, run)) {
			said = fix->at;
		} else if (!same(to, run) && !rate_of(r->load, to) &&
			   !stays_put(r->load, fix)) {
			say_no_rate(r, fix, to, run);
			said = fix->at;
		}
	}
	check_sum(r);
}
