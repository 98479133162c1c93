/* SPDX-License-Identifier: MIT */
/*
 * One audit, written out by hand: a kit of twelve slots for an invented
 * tractor, with a slot for every verdict.  The figures are literals; no code
 * of the audit made them.
 */
#ifndef TEST_REPORT_FIXTURE_H
#define TEST_REPORT_FIXTURE_H

#include <string.h>

#include "kitmuster/report.h"
#include "trade/finish.h"
#include "trade/kind.h"
#include "trade/size.h"

#define COUNT(a) (sizeof(a) / sizeof *(a))
#define MM(n) ((int64_t)(n) * 1000000)

/* What a sheet wrote. */
struct page { char text[65536]; size_t n; bool refuse; };

static inline bool page_write(void *ctx, const char *text, size_t n)
{
	struct page *p = ctx;

	if (p->refuse || p->n + n >= sizeof p->text)
		return false;
	memcpy(p->text + p->n, text, n);
	p->n += n;
	p->text[p->n] = '\0';
	return true;
}

static inline enum km_status page_of(struct page *p, const struct km_audit *a,
				     enum km_sheet s, enum km_format f,
				     const struct km_report_options *o)
{
	struct km_sink to = { page_write, p };

	p->n = 0;
	p->text[0] = '\0';
	return km_report(a, s, f, o, &to);
}

/* --- rows of tables --------------------------------------------------- */

static const struct km_kind spanner = { .name = "double open-ended spanner",
					.ends = 2, .sized = true };
static const struct km_kind pliers = { .name = "combination pliers" };
static const struct km_kind driver = { .name = "screwdriver" };
static const struct km_kind box = { .name = "box spanner" };
static const struct km_kind bar = { .name = "tommy bar" };
static const struct km_kind lever = { .name = "tyre lever" };
static const struct km_kind bulb = { .name = "bulb" };

/* 0.525 and 0.600 in across flats [bs-1083-1965, old heads] */
static const struct km_size w14 = { .system = KM_SYS_W, .number = -1,
	.text = "1/4 W", .nominal_nm = 13335000 };
static const struct km_size w516 = { .system = KM_SYS_W, .number = -1,
	.text = "5/16 W", .nominal_nm = 15240000 };
static const struct km_size bs516 = { .system = KM_SYS_BS, .number = -1,
	.text = "5/16 BS", .nominal_nm = 13335000 };
static const struct km_size m10 = { .system = KM_SYS_METRIC, .number = -1,
	.text = "10 mm", .nominal_nm = 10000000 };
static const struct km_size m12 = { .system = KM_SYS_METRIC, .number = -1,
	.text = "12 mm", .nominal_nm = 12000000 };
static const struct km_size m13 = { .system = KM_SYS_METRIC, .number = -1,
	.text = "13 mm", .nominal_nm = 13000000 };
static const struct km_size af12 = { .system = KM_SYS_AF, .number = -1,
	.text = "1/2 AF", .nominal_nm = 12700000 };
static const struct km_size tip = { .system = KM_SYS_SLOTTED, .number = -1,
	.text = "0.8 x 5.5 mm", .nominal_nm = 800000, .b_nm = 5500000 };

static const struct km_finish black = { .name = "black oxide", .bright = 1 };
static const struct km_finish chrome = { .name = "nickel chrome",
					 .bright = 3 };

/* --- values ----------------------------------------------------------- */

static const struct km_size *const two_w[] = { &w14, &w516 };
static const struct km_size *const one_tip[] = { &tip };

static const union km_value v_spanner = { .kind = &spanner };
static const union km_value v_pliers = { .kind = &pliers };
static const union km_value v_driver = { .kind = &driver };
static const union km_value v_box = { .kind = &box };
static const union km_value v_bar = { .kind = &bar };
static const union km_value v_lever = { .kind = &lever };
static const union km_value v_bulb = { .kind = &bulb };
static const union km_value v_two_w = { .sizes = { two_w, 2 } };
static const union km_value v_tip = { .sizes = { one_tip, 1 } };
static const union km_value v_148 = { .span = { MM(148), MM(3), MM(3) } };
static const union km_value v_165 = { .span = { MM(165), MM(3), MM(3) } };
static const union km_value v_black = { .finish = { &black, NULL } };
static const union km_value v_chrome = { .finish = { &chrome, NULL } };
static const union km_value v_amber = { .colour = { "amber", 0xc47a1c } };
static const union km_value v_green = { .colour = { "green", 0x008000 } };
static const union km_value v_marks[] = { { .text = "LARKMOOR" },
					  { .text = "LM" } };
static const union km_value v_part = { .text = "54-702" };

#define WANT(value) { .state = KM_WANT_ANY_OF, .n = 1, .any = &(value) }
#define WANT_MARKS { .state = KM_WANT_ANY_OF, .n = 2, .any = v_marks }

/* --- slots ------------------------------------------------------------ */

enum { S01, S02, S03, S04, S05, S06, S07, S08, S09, S10, S11, S12, SLOTS };

struct sample {
	struct km_kit kit;
	struct km_machine machine;
	struct km_slot slot[SLOTS];
	struct km_tool tool[SLOTS];
	struct km_tool_more more[SLOTS];
	struct km_condition condition[SLOTS];
	union km_value value[SLOTS][4];
	struct km_match match[SLOTS];
	struct km_piece piece[SLOTS + 1];
	struct km_slot_audit slots[SLOTS];
	const struct km_match *candidates[2];
	struct km_remark remark[4];
	struct km_kit_audit k;
	struct km_offer offer[2];
	struct km_match bought[2];
	struct km_way way[3];
	struct km_seller seller;
	struct km_purchase line[3];
	struct km_parcel parcel[2];
	struct km_load load;
	struct km_prices prices;
	struct km_audit audit;
};

static inline void sample_slots(struct sample *s)
{
	static const union km_value *const kinds[SLOTS] = {
		&v_spanner, &v_spanner, &v_spanner, &v_spanner, &v_box, &v_bar,
		&v_pliers, &v_driver, &v_lever, &v_bulb, &v_spanner, &v_bulb
	};
	static const char *const ids[SLOTS] = {
		"S-01", "S-02", "S-03", "S-04", "S-05", "S-06", "S-07", "S-08",
		"S-09", "S-10", "S-11", "S-12"
	};

	for (uint32_t i = 0; i < SLOTS; i++) {
		struct km_slot *slot = &s->slot[i];

		*slot = (struct km_slot){ .id = ids[i], .kit = &s->kit,
			.index = i, .count = 1, .durable = true, .points = -1,
			.most = { -1 } };
		slot->want[KM_A_TOOL] = (struct km_want){
			.state = KM_WANT_ANY_OF, .n = 1, .any = kinds[i] };
		if (kinds[i] == &v_spanner)
			slot->want[KM_A_SIZES] = (struct km_want)WANT(v_two_w);
	}
	s->slot[S01].want[KM_A_LENGTH] = (struct km_want)WANT(v_148);
	s->slot[S01].want[KM_A_MARK] = (struct km_want)WANT_MARKS;
	s->slot[S03].want[KM_A_MARK] = (struct km_want)WANT_MARKS;
	s->slot[S04].want[KM_A_FINISH] = (struct km_want)WANT(v_black);
	s->slot[S07].want[KM_A_LENGTH] = (struct km_want)WANT(v_165);
	s->slot[S08].want[KM_A_SIZES] = (struct km_want)WANT(v_tip);
	s->slot[S08].want[KM_A_HANDLE_COLOUR] = (struct km_want){
		.state = KM_WANT_ANY_OF, .n = 1, .any = &v_amber,
		.certainty = KM_POSSIBLE };
	s->slot[S06].want[KM_A_PART] = (struct km_want)WANT(v_part);
	s->slot[S09].count = 2;
	s->slot[S10].durable = false;
	s->slot[S11].exists = KM_DISPUTED;
	s->slot[S12].unused = true;
}

/* A tool given to a slot, with no trait but those added later. */
static inline void sample_give(struct sample *s, int i, const char *id,
			       enum km_verdict v)
{
	struct km_match *m = &s->match[i];

	s->more[i] = (struct km_tool_more){ .paid = { -1 }, .value = { -1 } };
	s->condition[i] = (struct km_condition){ .rust = -1, .plate_left = -1,
		.pit_nm = -1, .mark_depth_nm = -1 };
	s->tool[i] = (struct km_tool){ .id = id, .more = &s->more[i],
		.traits = { .v = s->value[i] },
		.condition = &s->condition[i] };
	*m = (struct km_match){ .slot = &s->slot[i], .tool = &s->tool[i],
		.verdict = v, .headline = KM_ASPECTS, .score = 1000,
		.dimension = 1000, .marking = 1000, .condition = 1000,
		.finish = 1000, .colour = 1000 };
	s->piece[i].match = m;
	s->slots[i].worst = m;
	s->slots[i].verdict = v;
	s->slots[i].filled = 1;
}

static inline void sample_fault(struct sample *s, int i, enum km_aspect a,
				enum km_finding f, enum km_letter l)
{
	s->match[i].on[a] = (struct km_comparison){ .outcome = KM_DIFFERS,
		.finding = f, .letter = l };
	s->match[i].headline = a;
}

static inline void sample_findings(struct sample *s)
{
	sample_give(s, S01, "T-014", KM_RIGHT);
	sample_give(s, S02, "T-009", KM_RIGHT);
	s->tool[S02].status = KM_LENT;
	s->more[S02].lent_to = "a friend";
	s->more[S02].since = (struct km_date){ 2026, 3, 3 };
	sample_give(s, S03, "T-005", KM_UNVERIFIED);
	s->tool[S03].traits.unread = 1u << KM_A_MARK;
	sample_fault(s, S03, KM_ASP_MARK, KM_F_MARK_UNREAD, KM_NOT_KNOWN);
	s->piece[S03].care = KM_CARE_MARK_UNREAD;
	sample_give(s, S04, "T-011", KM_SUBSTITUTE);
	s->value[S04][0] = v_chrome;
	s->tool[S04].traits.has = 1u << KM_A_FINISH;
	sample_fault(s, S04, KM_ASP_FINISH, KM_F_FINISH_OTHER, KM_FAILS);
	s->match[S04].over_restored = true;
	sample_give(s, S05, "T-022", KM_AFTER_WORK);
	s->condition[S05].rust = 3;
	sample_fault(s, S05, KM_ASP_RUST, KM_F_RUST_ABOVE, KM_CURABLE);
	s->match[S05].on[KM_ASP_RUST].over = 2;
	sample_give(s, S07, "T-031", KM_SUBSTITUTE);
	/* wanted 165 +-3, measured 178: 13 longer, 10 of that too much */
	sample_fault(s, S07, KM_ASP_LENGTH, KM_F_DIMENSION_OUTSIDE, KM_FAILS);
	s->match[S07].on[KM_ASP_LENGTH].by = MM(13);
	s->match[S07].on[KM_ASP_LENGTH].over = MM(10);
	s->match[S07].dimension = 0;
	s->match[S07].score = 636;	/* (4 x 0 + 3 + 2 + 1 + 1) / 11 */
	sample_give(s, S08, "T-050", KM_EXPECTED);
	s->tool[S08].status = KM_ORDERED;
	s->more[S08].due = (struct km_date){ 2026, 4, 16 };
	s->piece[S08].expected = true;
	s->slots[S08].filled = 0;
	sample_give(s, S09, "T-020", KM_SHORT);
	sample_give(s, S10, "T-060", KM_RIGHT);
	s->slots[S06].verdict = s->slots[S11].verdict = KM_GAP;
	s->slots[S12].verdict = KM_GAP;
}

static inline void sample_counts(struct sample *s)
{
	s->k.counts = (struct km_counts){ .firm = 9, .on_paper = 2, .today = 1,
		.after_work = 3, .lent = 1, .expected = 1, .doubtful = 1,
		.durable = 10, .durable_on_paper = 2, .consumables = 1,
		.consumables_there = 1,
		.exists = { [KM_CERTAIN] = 9, [KM_DISPUTED] = 1 },
		.verdict = { [KM_RIGHT] = 2, [KM_AFTER_WORK] = 1,
			[KM_UNVERIFIED] = 1, [KM_SUBSTITUTE] = 2,
			[KM_SHORT] = 1, [KM_EXPECTED] = 1, [KM_GAP] = 1 } };
	s->remark[0] = (struct km_remark){ .what = KM_REMARK_LENT,
		.slot = &s->slot[S02], .tool = &s->tool[S02],
		.aspect = KM_ASPECTS };
	s->remark[1] = (struct km_remark){ .what = KM_REMARK_OVERDUE,
		.slot = &s->slot[S08], .tool = &s->tool[S08],
		.aspect = KM_ASPECTS, .a = 4 };
	s->remark[2] = (struct km_remark){ .what = KM_REMARK_MATCH_LIKE,
		.slot = &s->slot[S09], .tool = &s->tool[S09],
		.aspect = KM_ASPECTS };
	s->k.remarks = s->remark;
	s->k.n_remarks = 3;
}

/*
 * Money: restoring S-05 9.00 (7.00 to 12.00); from one seller the bar 6.40
 * and one lever 9.00 (8.00 to 11.00), postage 4.80:
 *   low 6.40 + 8.00 + 4.80 = 19.20, likely 20.20, high 22.20;
 * with the restoration 26.20, 29.20, 34.20.
 */
static inline void sample_money(struct sample *s)
{
	static const union km_value lever_part = { .text = "54-709" };

	s->seller = (struct km_seller){ .id = "north", .postage = { 480 },
		.free_over = { -1 }, .minimum_order = { -1 }, .days_least = 3,
		.days_most = 7 };
	for (int i = 0; i < 2; i++) {
		s->offer[i] = (struct km_offer){ .id = i ? "o2" : "o1",
			.seller = &s->seller, .stock = -1, .chance = -1 };
		s->bought[i] = (struct km_match){ .offer = &s->offer[i],
			.slot = &s->slot[i ? S09 : S06],
			.headline = KM_ASPECTS };
		s->way[i] = (struct km_way){ .kind = KM_WAY_OFFER,
			.match = &s->bought[i], .acceptable = true,
			.priced = true };
	}
	s->offer[1].traits = (struct km_traits){ .has = 1u << KM_A_PART,
		.v = &lever_part };
	s->offer[1].as_of = (struct km_date){ 2023, 12, 1 };
	s->way[0].alone = (struct km_money3){ 1120, 1120, 1120 };
	s->way[1].alone = (struct km_money3){ 1280, 1380, 1580 };
	s->way[2] = (struct km_way){ .kind = KM_WAY_WORK, .acceptable = true,
		.priced = true, .match = &s->match[S05],
		.alone = { 700, 900, 1200 } };
	s->slots[S05].restore = &s->way[2];
	s->slots[S06].buy = &s->way[0];
	s->slots[S09].buy = &s->way[1];
	s->slots[S05].margin = 350;
	s->slots[S05].close_call = true;
	s->line[0] = (struct km_purchase){ .kit = &s->k, .pieces = 1,
		.slot = &s->slots[S06], .way = &s->way[0],
		.price = { 640, 640, 640 }, .amount = { 640, 640, 640 } };
	s->line[1] = (struct km_purchase){ .kit = &s->k, .pieces = 1,
		.slot = &s->slots[S09], .way = &s->way[1],
		.price = { 800, 900, 1100 }, .amount = { 800, 900, 1100 },
		.old_price = true };
	s->line[2] = (struct km_purchase){ .kit = &s->k, .pieces = 1,
		.slot = &s->slots[S07] };
	s->parcel[0] = (struct km_parcel){ .seller = &s->seller,
		.lines = s->line, .n_lines = 2,
		.goods = { 1440, 1540, 1740 }, .postage = { 480, 480, 480 },
		.total = { 1920, 2020, 2220 } };
	s->parcel[1] = (struct km_parcel){ .lines = &s->line[2],
		.n_lines = 1 };
	s->k.restore_total = (struct km_money3){ 700, 900, 1200 };
	s->k.buy_total = (struct km_money3){ 1440, 1540, 1740 };
	s->k.postage_total = (struct km_money3){ 480, 480, 480 };
	s->k.total = (struct km_money3){ 2620, 2920, 3420 };
	s->k.own_min[1] = 40;
	s->k.n_restore = 1;
	s->k.n_work = 1;
	s->k.n_buy = 2;
	s->k.n_unpriced = 1;
	s->load.prices = &s->prices;
	s->audit.parcels = s->parcel;
	s->audit.n_parcels = 2;
	s->audit.shopping_total = s->parcel[0].total;
	s->audit.prices_old = 1;
	s->audit.options.want_money = true;
	s->audit.currency = "GBP";
	s->audit.decimals = 2;
}

/* Fill s; money tells whether costs are known. */
static inline void sample_make(struct sample *s, bool money)
{
	static const enum km_decide decide[SLOTS] = {
		[S03] = KM_DECIDE_READ, [S04] = KM_DECIDE_LEAVE,
		[S05] = KM_DECIDE_RESTORE, [S06] = KM_DECIDE_BUY,
		[S07] = KM_DECIDE_LEAVE, [S08] = KM_DECIDE_WAIT,
		[S09] = KM_DECIDE_BUY, [S11] = KM_DECIDE_QUESTION
	};

	memset(s, 0, sizeof *s);
	s->kit = (struct km_kit){ .id = "larkmoor-54-first", .revision = 3,
		.title = "Larkmoor 54 light tractor, on-board kit",
		.slots = s->slot, .n_slots = SLOTS,
		.serials = { .from_earliest = 1001, .from_latest = 1001,
			     .to_earliest = 8120, .to_latest = 8120,
			     .given = true } };
	s->machine = (struct km_machine){ .serial = 4417, .built_text = "1954",
					  .market = "home" };
	sample_slots(s);
	for (int i = 0; i < SLOTS; i++) {
		s->slots[i].slot = &s->slot[i];
		s->slots[i].firm = i != S11;
		s->slots[i].pieces = &s->piece[i + (i > S09)];
		s->slots[i].decide = decide[i];
		s->slots[i].margin = -1;
	}
	s->k = (struct km_kit_audit){ .kit = &s->kit, .machine = &s->machine,
		.slots = s->slots,
		.limits = { 1, 0, 9000, 3500, 6000, 1000 } };
	sample_findings(s);
	s->piece[S10 + 1] = s->piece[S10];
	s->piece[S10] = (struct km_piece){ 0 };	/* the second of S-09 */
	sample_counts(s);
	s->candidates[0] = &s->match[S07];
	s->slots[S07].candidates = s->candidates;
	s->slots[S07].n_candidates = 1;
	s->audit.load = &s->load;
	s->audit.kits = &s->k;
	s->audit.n_kits = 1;
	s->audit.tools = 64;
	if (money)
		sample_money(s);
}

#endif
