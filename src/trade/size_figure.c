/* SPDX-License-Identifier: MIT */
#include "trade/size_figure.h"

#include <string.h>

#define WIDTH_MAX KM_MM(1000)

/* ------------------------------------------------------------------ */
/* Letters and signs                                                   */

/* A multiplication sign between two figures. */
bool km_figure_times(struct km_slice *s)
{
	return km_slice_eat(s, 'x') || km_slice_eat(s, 'X')
	       || km_slice_eat_word(s, "\xC3\x97");
}

static bool is_digit(char c)
{
	return c >= '0' && c <= '9';
}

/* Does a number start here, perhaps behind blanks? */
bool km_figure_follows(struct km_slice s)
{
	struct km_slice rest = s;
	struct km_rational r;
	bool fraction;
	int places;

	km_slice_skip_blanks(&rest);
	return km_mixed_eat(&rest, false, &r, &fraction, &places)
	       != KM_EINPUT;
}

/* Between the ends of a tool: x, or a dash or stroke before a number. */
bool km_figure_pair(struct km_slice s)
{
	km_slice_skip_blanks(&s);
	if (km_figure_times(&s))
		return km_figure_follows(s);
	if (km_slice_eat(&s, '-') || km_slice_eat(&s, '/')
	    || km_slice_eat_word(&s, "..")
	    || km_slice_eat_word(&s, "\xE2\x80\x93"))	/* en dash */
		return km_figure_follows(s);
	return false;
}

/* Inch signs: straight, curly, double prime, two primes or apostrophes. */
static bool eat_inch_sign(struct km_slice *s)
{
	static const char *const signs[] = {
		"\"", "\xE2\x80\x9D", "\xE2\x80\xB3",
		"\xE2\x80\xB2\xE2\x80\xB2", "''"
	};

	for (size_t i = 0; i < sizeof signs / sizeof *signs; i++)
		if (km_slice_eat_word(s, signs[i]))
			return true;
	return false;
}

bool km_letters_are(struct km_slice a, const char *b, size_t n)
{
	if (a.n != n)
		return false;
	for (size_t i = 0; i < n; i++) {
		char c = a.p[i];

		if (c >= 'a' && c <= 'z')
			c = (char)(c - 'a' + 'A');
		if (c != b[i])
			return false;
	}
	return true;
}

/* The system that letters name; KM_SYSTEMS: none. */
static enum km_system system_of(struct km_slice letters)
{
	static const struct { enum km_system system; const char *list; } m[] = {
#define SYSTEM_MARK(system, list, source) { KM_SYS_##system, list },
#include "data/size_marks.def"
#undef SYSTEM_MARK
	};

	for (size_t i = 0; i < sizeof m / sizeof *m; i++) {
		const char *p = m[i].list;

		while (*p) {
			size_t n = strcspn(p, "|");

			if (km_letters_are(letters, p, n))
				return m[i].system;
			p += n + (p[n] == '|');
		}
	}
	return KM_SYSTEMS;
}

/* "mm left": is a system's name followed by more words? */
static bool known_and_more(struct km_slice letters)
{
	const char *gap = memchr(letters.p, ' ', letters.n);

	if (!gap)
		return false;
	letters.n = (size_t)(gap - letters.p);
	return system_of(letters) != KM_SYSTEMS;
}

/* Letters up to the next figure, the end, or the sign between two ends. */
static struct km_slice eat_letters(struct km_slice *s)
{
	struct km_slice word = { s->p, 0 };

	while (s->n && !is_digit(*s->p) && !km_figure_pair(*s)
	       && (unsigned char)*s->p < 0x80) {
		s->p++;
		s->n--;
		word.n++;
	}
	return km_slice_trim(word);
}

/* ------------------------------------------------------------------ */
/* Figures                                                             */

enum km_size_fault km_figure_number(struct km_slice *s,
				    const struct km_size_rules *rules,
				    struct km_figure *f)
{
	int places;
	enum km_status st;

	km_slice_skip_blanks(s);
	f->point_first = s->n && *s->p == '.';
	st = km_mixed_eat(s, rules->comma, &f->n, &f->fraction, &places);
	if (st == KM_EINPUT)
		return KM_SIZE_NO_NUMBER;
	if (st != KM_OK)
		return KM_SIZE_RANGE;
	if (s->n > 1 && *s->p == ',' && is_digit(s->p[1]))
		return KM_SIZE_COMMA;
	return KM_SIZE_OK;
}

/* The unit and letters behind a number. */
enum km_size_fault km_figure_suffix(struct km_slice *s,
				    const struct km_size_rules *rules,
				    struct km_figure *f)
{
	bool sign;

	km_slice_skip_blanks(s);
	sign = eat_inch_sign(s);
	f->system = KM_SYSTEMS;
	f->inch = sign;
	f->letters = eat_letters(s);
	if (f->letters.n) {
		f->system = system_of(f->letters);
		if (f->system == KM_SYSTEMS)
			return known_and_more(f->letters) ? KM_SIZE_TRAILING
							  : KM_SIZE_LETTERS;
		/* 5/16" W: the sign adds nothing to a thread's name */
		f->inch |= f->system == KM_SYS_AF;
		if (sign && f->system == KM_SYS_METRIC)
			return KM_SIZE_LETTERS;
	} else if (sign) {
		f->system = KM_SYS_AF;
	}
	f->unit_given = f->system != KM_SYSTEMS;
	if (!f->unit_given)
		f->inch = rules->bare == KM_UNIT_IN;
	return KM_SIZE_OK;
}

/* A figure as an exact length. */
enum km_size_fault km_figure_length(const struct km_figure *f, int64_t *nm)
{
	int64_t unit = f->inch ? KM_NM_PER_IN : KM_NM_PER_MM, v;

	if (!km_mul(f->n.num, unit, &v) || v % f->n.den)
		return KM_SIZE_RANGE;
	v /= f->n.den;
	if (v <= 0 || v > WIDTH_MAX)
		return KM_SIZE_RANGE;
	*nm = v;
	return KM_SIZE_OK;
}
