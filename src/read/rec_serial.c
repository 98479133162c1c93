/* SPDX-License-Identifier: MIT */
/* Serial numbers: the range of a kit, its pattern, the number of a machine. */
#include "read/rec_serial.h"

#include <string.h>

#include "read/measure.h"
#include "read/rec.h"
#include "unit/serial.h"

static bool has_letter(struct km_slice s)
{
	for (size_t i = 0; i < s.n; i++)
		if ((s.p[i] >= 'A' && s.p[i] <= 'Z') ||
		    (s.p[i] >= 'a' && s.p[i] <= 'z'))
			return true;
	return false;
}

/* More than digits and points, which may be a slip of the pen. */
static bool has_form(struct km_slice s)
{
	for (size_t i = 0; i < s.n; i++)
		if (s.p[i] == '-' || s.p[i] == '/' || s.p[i] == ' ')
			return true;
	return has_letter(s);
}

static int64_t most_of(const char *pattern)
{
	int64_t most = 1;

	for (; pattern && *pattern; pattern++)
		most *= *pattern == '#' ? 10 : 1;
	return pattern ? most - 1 : KM_SERIAL_MOST;
}

/* A number of the range: as the pattern has it, or digits alone.  An empty
 * pattern is one in error, of which enough was said. */
static bool read_number(struct km_bind *b, const struct km_field *f,
			const char *pattern, const struct km_node *n,
			int64_t *out)
{
	struct km_field row = { .key = f->key, .type = KM_T_BIG,
				.max = most_of(pattern) };
	struct km_slice text = km_node_slice(n);
	struct km_diag *one;
	int64_t number;

	if (pattern && !*pattern)
		return false;
	if (!km_want_scalar(b, n, f->key, f->shape))
		return false;
	number = pattern ? km_serial_number(pattern, text) : -1;
	if (number >= 0) {
		*out = number;
		return true;
	}
	if (!has_letter(text))
		return km_read_value(b, &row, out, NULL, n);
	if (pattern) {
		KM_SAY(b, n, SERIAL_FORM, km_clip(b, n), pattern);
		return false;
	}
	one = KM_SAY(b, n, SERIAL_LETTERS, km_clip(b, n));
	KM_HINT(b, one, "add the form of the numbers beside from and to, such "
		"as pattern: \"LM####\"");
	return false;
}

/* ------------------------------------------------------------------ */
/* An end that is not sure                                             */

struct serial_end { int64_t earliest, latest; const char *pattern; };

static void own_number(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n)
{
	const struct serial_end *e = rec;
	int64_t v;

	if (read_number(b, f, e->pattern, n, &v))
		memcpy((char *)rec + f->at, &v, sizeof v);
}

static void check_end(struct km_bind *b, void *rec, const struct km_node *n)
{
	const struct serial_end *e = rec;

	if (e->latest >= 0 && e->earliest > e->latest)
		KM_SAY(b, n, REVERSED, "earliest", "latest");
}

static const struct km_field serial_end_fields[] = {
	{ .key = "earliest", .type = KM_T_OWN, .form = KM_FORM_SERIAL,
	  .flags = KM_REQUIRED, .own = own_number, .shape = "a serial number",
	  .at = KM_AT(struct serial_end, earliest, int64_t),
	  .example = "8000",
	  .doc = "The first number at which the change may have come." },
	{ .key = "latest", .type = KM_T_OWN, .form = KM_FORM_SERIAL,
	  .flags = KM_REQUIRED, .own = own_number, .shape = "a serial number",
	  .at = KM_AT(struct serial_end, latest, int64_t),
	  .example = "8200",
	  .doc = "The last number at which it may have come." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_serial_end = {
	.no = KM_REC_SERIAL_END, .name = "end of serial numbers",
	.size = sizeof(struct serial_end), .fields = serial_end_fields,
	.check = check_end,
	.doc = "An end of a range of serial numbers that is not sure.",
};

/* ------------------------------------------------------------------ */
/* The range of a kit                                                  */

static void own_pattern(struct km_bind *b, const struct km_field *f, void *rec,
			const struct km_node *n)
{
	struct km_serials *s = rec;
	struct km_diag *one;

	s->pattern = "";
	if (!km_want_scalar(b, n, f->key, f->shape))
		return;
	if (km_serial_pattern_ok(km_node_slice(n))) {
		s->pattern = km_bind_text(b, n->text, n->n);
		return;
	}
	one = KM_SAY(b, n, BAD_PATTERN, km_clip(b, n));
	KM_HINT(b, one, "write the number with # for each digit, at most %d "
		"of them, such as \"LM####\"", KM_SERIAL_DIGITS);
}

/* A number, or {earliest: , latest: }; at is the earliest, at2 the latest. */
static void own_end(struct km_bind *b, const struct km_field *f, void *rec,
		    const struct km_node *n)
{
	const struct km_serials *s = rec;
	struct serial_end e = { -1, -1, s->pattern };

	if (n->type == KM_NODE_MAP) {
		km_bind_record(b, &km_rec_serial_end, &e, n);
	} else {
		if (!read_number(b, f, s->pattern, n, &e.earliest))
			return;
		e.latest = e.earliest;
	}
	memcpy((char *)rec + f->at, &e.earliest, sizeof e.earliest);
	memcpy((char *)rec + f->at2, &e.latest, sizeof e.latest);
}

static void check_serials(struct km_bind *b, void *rec,
			  const struct km_node *n)
{
	struct km_serials *s = rec;

	s->given = true;
	s->open_start = s->from_earliest < 0;
	s->open_end = s->to_latest < 0;
	if (s->open_start)
		s->from_earliest = s->from_latest = 0;
	if (s->open_end)
		s->to_earliest = s->to_latest = INT64_MAX;
	if (s->from_earliest > s->to_latest)
		KM_SAY(b, n, REVERSED, "from", "to");
}

static const struct km_field serials_fields[] = {
	{ .key = "pattern", .type = KM_T_OWN, .form = KM_FORM_TEXT,
	  .flags = KM_FIRST, .own = own_pattern,
	  .shape = "letters and # for digits",
	  .at = KM_AT(struct km_serials, pattern, const char *),
	  .example = "\"LM####\"",
	  .doc = "The form of serial numbers with letters: a # for each digit "
		 "that counts; digits alone if absent." },
	{ .key = "from", .type = KM_T_OWN, .form = KM_FORM_SERIAL_OR_RECORD,
	  .rec = &km_rec_serial_end, .own = own_end,
	  .shape = "a serial number, or {earliest: , latest: }",
	  .at = KM_AT(struct km_serials, from_earliest, int64_t),
	  .at2 = KM_AT(struct km_serials, from_latest, int64_t),
	  .example = "1001",
	  .doc = "The first serial number; open if absent." },
	{ .key = "to", .type = KM_T_OWN, .form = KM_FORM_SERIAL_OR_RECORD,
	  .rec = &km_rec_serial_end, .own = own_end,
	  .shape = "a serial number, or {earliest: , latest: }",
	  .at = KM_AT(struct km_serials, to_earliest, int64_t),
	  .at2 = KM_AT(struct km_serials, to_latest, int64_t),
	  .example = "{earliest: 8000, latest: 8200}",
	  .doc = "The last serial number; open if absent." },
	{ .type = KM_T_END }
};

const struct km_record km_rec_serials = {
	.no = KM_REC_SERIALS, .name = "range of serial numbers",
	.size = sizeof(struct km_serials), .fields = serials_fields,
	.check = check_serials,
	.doc = "The machines that left the factory with the kit.",
};

void km_own_serials(struct km_bind *b, const struct km_field *f, void *rec,
		    const struct km_node *n)
{
	struct km_serials s = { .from_earliest = -1, .from_latest = -1,
				.to_earliest = -1, .to_latest = -1 };

	if (!km_want_map(b, n, f->key))
		return;
	km_bind_record(b, &km_rec_serials, &s, n);
	memcpy((char *)rec + f->at, &s, sizeof s);
}

/* ------------------------------------------------------------------ */
/* The number of a machine; whether a kit takes it is seen at the end   */

void km_own_serial(struct km_bind *b, const struct km_field *f, void *rec,
		   const struct km_node *n)
{
	struct km_field row = { .key = f->key, .type = KM_T_BIG,
				.max = KM_SERIAL_MOST };
	struct km_slice text = km_node_slice(n);
	struct km_machine *m = rec;
	int64_t number;

	m->serial_at = km_bind_at(b, n);
	if (!km_want_scalar(b, n, f->key, f->shape))
		return;
	number = km_serial_number(NULL, text);
	if (number < 0 && (!km_serial_text_ok(text) || !has_form(text))) {
		km_read_value(b, &row, &number, NULL, n);
		return;
	}
	m->serial = number;
	m->serial_text = km_bind_text(b, n->text, n->n);
}
