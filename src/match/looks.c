/* SPDX-License-Identifier: MIT */
/*
 * looks - finish, handle material and handle colour.
 */
#include "match/aspects.h"

#include "base/str.h"
#include "trade/colour.h"
#include "trade/finish.h"

/* Scores of a finish that only passes for the one wanted, and of a colour
 * that is off by little; choices, for ordering alone. */
#define SCORE_NEAR 800
#define SCORE_AT_DISTANCE 400
#define SCORE_OFF 600

struct pass { enum km_finding finding; int score; };

static struct pass pass_of(const struct km_finish *have,
			   const struct km_finish *wanted)
{
	switch (km_finish_passes(have, wanted)) {
	case KM_PASS_SAME:
		return (struct pass){ KM_F_FINISH_SAME, KM_SCORE_AGREES };
	case KM_PASS_NEAR:
		return (struct pass){ km_finish_is_cadmium(wanted)
				      ? KM_F_FINISH_NEAR_CADMIUM
				      : KM_F_FINISH_NEAR, SCORE_NEAR };
	case KM_PASS_AT_DISTANCE:
		return (struct pass){ KM_F_FINISH_OTHER, SCORE_AT_DISTANCE };
	default:
		return (struct pass){ KM_F_FINISH_OTHER, 0 };
	}
}

static bool is_worse(const struct km_case *c, struct pass a, struct pass b)
{
	enum km_standard s = c->rules->standard;
	enum km_letter x = km_rules_letter(a.finding, s);
	enum km_letter y = km_rules_letter(b.finding, s);

	return x != y ? x > y : a.score < b.score;
}

/* Body and faces, as far as each is wanted: the worse of the two. */
static struct pass compare_finish(const struct km_case *c,
				  const union km_value *have,
				  const union km_value *wanted)
{
	const struct km_finish *h[2] = { have->finish.body,
					 have->finish.faces };
	const struct km_finish *w[2] = { wanted->finish.body,
					 wanted->finish.faces };
	struct pass worst = { KM_F_FINISH_SAME, KM_SCORE_AGREES };

	for (int i = 0; i < 2; i++) {
		struct pass p = { KM_F_FINISH_UNRECORDED,
				  KM_SCORE_UNRECORDED };

		if (!w[i])
			continue;
		if (h[i])
			p = pass_of(h[i], w[i]);
		if (is_worse(c, p, worst))
			worst = p;
	}
	return worst;
}

static bool is_brighter(const union km_value *have,
			const union km_value *wanted)
{
	const struct km_finish *faces = have->finish.faces;

	if (have->finish.body && wanted->finish.body &&
	    km_finish_brighter(have->finish.body, wanted->finish.body))
		return true;
	return faces && wanted->finish.faces &&
	       km_finish_brighter(faces, wanted->finish.faces);
}

static void judge_finish(struct km_case *c)
{
	static const struct km_findings findings = {
		KM_F_FINISH_SAME, KM_F_FINISH_OTHER, KM_F_FINISH_UNRECORDED,
	};
	const struct km_want *w = &c->slot->want[KM_A_FINISH];
	struct pass best = { KM_F_NOTHING, 0 };
	enum km_outcome outcome = KM_DIFFERS;
	const union km_value *have, *nearest = NULL;

	if (km_case_settle(c, KM_ASP_FINISH, KM_A_FINISH, &findings))
		return;
	have = km_trait(c->thing->traits, KM_A_FINISH);
	for (uint32_t i = 0; i < w->n; i++) {
		struct pass p = compare_finish(c, have, &w->any[i]);

		if (nearest && !is_worse(c, best, p))
			continue;
		best = p;
		nearest = &w->any[i];
	}
	if (best.finding == KM_F_FINISH_SAME)
		outcome = KM_AGREES;
	else if (best.finding == KM_F_FINISH_UNRECORDED)
		outcome = KM_NOT_RECORDED;
	km_case_set(c, KM_ASP_FINISH, KM_A_FINISH, outcome, best.finding,
		    best.score);
	c->out->over_restored = outcome == KM_DIFFERS &&
				is_brighter(have, nearest);
}

static void judge_material(struct km_case *c)
{
	static const struct km_findings findings = {
		KM_F_MATERIAL_SAME, KM_F_MATERIAL_OTHER,
		KM_F_MATERIAL_UNRECORDED,
	};
	const struct km_want *w = &c->slot->want[KM_A_HANDLE_MATERIAL];
	const union km_value *have;
	bool same = false;

	if (km_case_settle(c, KM_ASP_HANDLE_MATERIAL, KM_A_HANDLE_MATERIAL,
			   &findings))
		return;
	have = km_trait(c->thing->traits, KM_A_HANDLE_MATERIAL);
	for (uint32_t i = 0; i < w->n && !same; i++)
		same = km_material_same(have->material, w->any[i].material);
	km_case_set(c, KM_ASP_HANDLE_MATERIAL, KM_A_HANDLE_MATERIAL,
		    same ? KM_AGREES : KM_DIFFERS,
		    same ? KM_F_MATERIAL_SAME : KM_F_MATERIAL_OTHER,
		    same ? KM_SCORE_AGREES : 0);
}

static bool same_word(const char *a, const char *b)
{
	return a && b && !km_fold_compare(km_slice_of(a), km_slice_of(b));
}

/* The difference to the nearest colour that is wanted, thousandths; -1: it is
 * another, and only the words are known. */
static int32_t colour_off(const struct km_want *w, const union km_value *have)
{
	uint32_t rgb = have->colour.rgb;
	int32_t least = -1;

	for (uint32_t i = 0; i < w->n && least; i++) {
		uint32_t want = w->any[i].colour.rgb;
		bool known = want != KM_COLOUR_WORD_ONLY &&
			     rgb != KM_COLOUR_WORD_ONLY;
		int32_t d;

		if (known ? want == rgb
			  : same_word(w->any[i].colour.word, have->colour.word))
			return 0;
		if (!known)
			continue;
		d = km_colour_difference(want, rgb);
		if (least < 0 || d < least)
			least = d;
	}
	return least;
}

static void judge_colour(struct km_case *c)
{
	static const struct km_findings findings = {
		KM_F_COLOUR_SAME, KM_F_COLOUR_WRONG, KM_F_COLOUR_UNRECORDED,
	};
	const struct km_rules *r = c->rules;
	struct km_comparison *on = &c->out->on[KM_ASP_HANDLE_COLOUR];
	enum km_outcome outcome = KM_DIFFERS;
	enum km_finding finding = KM_F_COLOUR_WRONG;
	int score = 0;
	int32_t off;

	if (km_case_settle(c, KM_ASP_HANDLE_COLOUR, KM_A_HANDLE_COLOUR,
			   &findings))
		return;
	off = colour_off(&c->slot->want[KM_A_HANDLE_COLOUR],
			 km_trait(c->thing->traits, KM_A_HANDLE_COLOUR));
	if (off >= 0 && off <= r->colour_pass) {
		outcome = off ? KM_WITHIN : KM_AGREES;
		finding = KM_F_COLOUR_SAME;
		score = off ? km_score_within(off, r->colour_pass)
			    : KM_SCORE_AGREES;
	} else if (off >= 0 && off <= r->colour_note) {
		finding = KM_F_COLOUR_OFF;
		score = SCORE_OFF;
	}
	km_case_set(c, KM_ASP_HANDLE_COLOUR, KM_A_HANDLE_COLOUR, outcome,
		    finding, score);
	on->by = off;
	on->over = off > r->colour_pass ? off - r->colour_pass : 0;
}

void km_compare_looks(struct km_case *c)
{
	judge_finish(c);
	judge_material(c);
	judge_colour(c);
}
