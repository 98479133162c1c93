/* SPDX-License-Identifier: MIT */
#include "read/mistake.h"

#include <string.h>

#define MAX_SIMPLE_KEY 1024	/* characters libyaml looks for a ':' */

/* Where the message points to. */
enum where { AT, OPENED };

/*
 * One row a problem of the scanner.  problem or context NULL: any.  The first
 * row that fits is used.  Texts are those of libyaml 0.2.5.
 */
static const struct rule {
	const char *problem, *context;
	enum km_msg msg;
	enum where where;
	const char *hint;
} rules[] = {
	{ NULL, "while scanning an anchor", KM_M_ANCHOR, OPENED,
	  "quote the value if it is meant as text" },
	{ NULL, "while scanning an alias", KM_M_ALIAS, OPENED,
	  "quote the value if it is meant as text" },
	{ NULL, "while scanning a tag", KM_M_TAG, OPENED,
	  "quote the value if it is meant as text" },
	{ NULL, "while parsing a tag", KM_M_TAG, OPENED,
	  "quote the value if it is meant as text" },
	{ "found undefined tag handle", NULL, KM_M_TAG, OPENED,
	  "quote the value if it is meant as text" },
	{ NULL, "while scanning a directive", KM_M_DIRECTIVE, OPENED,
	  "take the line out" },
	{ NULL, "while scanning a %YAML directive", KM_M_DIRECTIVE, OPENED,
	  "take the line out" },
	{ "found incompatible YAML document", NULL, KM_M_DIRECTIVE, AT,
	  "take the line out" },
	{ NULL, "while scanning a block scalar", KM_M_BLOCK_HEADER, AT,
	  "begin the text on the next line, or quote the value" },
	{ NULL, "while parsing a quoted scalar", KM_M_BAD_ESCAPE, AT,
	  "write \\\\ for a backslash, or use single quotes" },
	{ "block sequence entries are not allowed in this context", NULL,
	  KM_M_QUOTE_VALUE, AT,
	  "quote the value, or begin the list on the next line" },
	{ "mapping keys are not allowed in this context", NULL,
	  KM_M_QUOTE_VALUE, AT, "quote the value" },
	{ "found character that cannot start any token", NULL,
	  KM_M_QUOTE_VALUE, AT, "quote the value" },
	{ "found unexpected ':'", NULL, KM_M_YAML_SYNTAX, AT,
	  "put a blank behind the ':'" },
	{ "did not find expected node content", NULL, KM_M_EMPTY_ENTRY, AT,
	  "is there a comma or bracket too many?" },
	{ NULL, NULL, KM_M_YAML_SYNTAX, AT, NULL },
};

static bool is(const char *text, const char *wanted)
{
	return text && !strcmp(text, wanted);
}

static void by_rule(struct km_diags *d, const struct km_mistake *m)
{
	char met[3] = { m->met, '\0', '\0' };
	const struct rule *r = rules;
	struct km_diag *one;

	while ((r->problem && !is(m->problem, r->problem)) ||
	       (r->context && !is(m->context, r->context)))
		r++;
	if (m->met == '-' || m->met == '?')
		met[1] = ' ';
	one = km_diag_add(d, r->msg, r->where == AT ? m->at : m->opened, met);
	if (r->hint)
		km_diag_hint(d, one, "%s", r->hint);
}

static void unclosed(struct km_diags *d, const struct km_mistake *m)
{
	const char *says = m->at_end ? "the file ends here"
				     : "something else stands here";
	struct km_place other = m->at_end ? m->end : m->at;
	struct km_diag *one;

	if (is(m->context, "while scanning a quoted scalar"))
		one = km_diag_add(d, KM_M_UNCLOSED_QUOTE, m->opened);
	else
		one = km_diag_add(d, KM_M_UNCLOSED_BRACKET, m->bracket,
				  m->bracket_is == '[' ? "[" : "{",
				  m->bracket_is == '[' ? "]" : "}");
	km_diag_other(d, one, other, says);
	if (!is(m->context, "while scanning a quoted scalar"))
		km_diag_hint(d, one, "from a '#' behind a blank on, a line is "
			     "a comment: quote a value that starts with #");
}

/* A ':' where no key can end. */
static void stray_colon(struct km_diags *d, const struct km_mistake *m)
{
	struct km_diag *one;

	if (m->at.column > MAX_SIMPLE_KEY) {
		km_diag_add(d, KM_M_LONG_KEY, m->at, (unsigned)MAX_SIMPLE_KEY);
	} else if (m->last_line < m->last_end_line) {
		one = km_diag_add(d, KM_M_INDENTATION, m->at);
		km_diag_hint(d, one, "this line goes on with the text of line "
			     "%lu: it is indented too far, or quotes are "
			     "missing", (unsigned long)m->last_line);
	} else {
		one = km_diag_add(d, KM_M_STRAY_COLON, m->at);
		km_diag_hint(d, one, "quote the value if the colon belongs to "
				     "it");
	}
}

static void missing_colon(struct km_diags *d, const struct km_mistake *m)
{
	struct km_diag *one;

	if (m->at.line == m->opened.line && !m->at_end) {
		km_diag_add(d, KM_M_LONG_KEY, m->opened,
			    (unsigned)MAX_SIMPLE_KEY);
		return;
	}
	one = km_diag_add(d, KM_M_MISSING_COLON, m->opened);
	km_diag_hint(d, one, "write 'key: value'; a text that goes on is "
			     "indented further than its key");
}

/* Something else where a key or '-' of the open map or list is due. */
static void not_a_key(struct km_diags *d, const struct km_mistake *m)
{
	struct km_diag *one;

	if (is(m->problem, "did not find expected key") &&
	    m->at.column == m->opened.column) {
		km_diag_add(d, KM_M_KEY_NOT_TEXT, m->at);
	} else if (m->last_end_line < m->at.line) {
		one = km_diag_add(d, KM_M_INDENTATION, m->at);
		km_diag_hint(d, one, "indent it as its neighbours from line "
			     "%lu on", (unsigned long)m->opened.line);
	} else {
		one = km_diag_add(d, KM_M_TRAILING_TEXT, m->at);
		if (m->last_quoted && m->last_line < m->last_end_line)
			km_diag_hint(d, one, "the quoted text began on line "
				     "%lu; its closing quote may be missing",
				     (unsigned long)m->last_line);
		else
			km_diag_hint(d, one, "put the whole value into one "
					     "pair of quotes");
	}
}

static void tab(struct km_diags *d, const struct km_mistake *m)
{
	struct km_diag *one = km_diag_add(d, KM_M_TAB_INDENT, m->at);

	km_diag_hint(d, one, "use blanks");
}

/* Something behind the document, or a directive without a document. */
static void no_document(struct km_diags *d, const struct km_mistake *m)
{
	struct km_diag *one;

	if (m->in_document) {
		km_diag_add(d, KM_M_SECOND_DOCUMENT, m->at);
		return;
	}
	one = km_diag_add(d, KM_M_DIRECTIVE, m->at);
	km_diag_hint(d, one, "a line --- must follow a directive");
}

void km_mistake_report(struct km_diags *d, const struct km_mistake *m)
{
	const char *p = m->problem ? m->problem : "";

	if (is(m->context, "while scanning a quoted scalar") ||
	    (m->bracket.line && (m->at_end || strstr(p, "expected ',' or") ||
				 (m->met == '-' &&
				  m->bracket.line < m->at.line))))
		unclosed(d, m);
	else if (strstr(p, "tab character") ||
		 (m->met == '\t' && strstr(p, "cannot start any token")))
		tab(d, m);
	else if (is(p, "mapping values are not allowed in this context"))
		stray_colon(d, m);
	else if (is(p, "could not find expected ':'"))
		missing_colon(d, m);
	else if (is(p, "did not find expected key") ||
		 is(p, "did not find expected '-' indicator"))
		not_a_key(d, m);
	else if (is(p, "did not find expected <document start>"))
		no_document(d, m);
	else
		by_rule(d, m);
}
