/* SPDX-License-Identifier: MIT */
/*
 * messages - the one list of message ids.  X(enumerator, severity, id, text):
 * the id lasts for ever and has a heading in docs/diagnostics.md and a case
 * in tests/bad; the text is a printf format in lower case without full stop.
 */
#ifndef KITMUSTER_MESSAGES_H
#define KITMUSTER_MESSAGES_H

/* clang-format off */
#define KM_MESSAGES(X) \
	/* the bytes of a file */ \
	X(CANNOT_READ, ERROR, "cannot-read", "cannot read this file: %s") \
	X(FILE_TOO_LARGE, ERROR, "file-too-large", \
	  "the file is longer than %llu bytes") \
	X(NOT_UTF8, ERROR, "not-utf8", "byte 0x%02x is not UTF-8 text here") \
	X(UTF_16, ERROR, "utf-16", "the file is UTF-16 or UTF-32, not UTF-8") \
	X(STRAY_BOM, ERROR, "stray-bom", \
	  "a byte order mark stands after the start of the file") \
	X(CONTROL_CHARACTER, ERROR, "control-character", \
	  "control character U+%04X in the text") \
	X(LINE_SEPARATOR, ERROR, "line-separator", \
	  "line separator U+%04X: it may hide a line") \
	X(BIDI_CONTROL, ERROR, "bidi-control", \
	  "U+%04X turns the direction of the text around it") \
	/* the form of a file */ \
	X(EMPTY_FILE, ERROR, "empty-file", "the file is empty") \
	X(NOT_A_MAPPING, ERROR, "not-a-mapping", \
	  "expected keys with values at the top of the file, not %s") \
	X(SECOND_DOCUMENT, ERROR, "second-document", \
	  "text after the end of the document") \
	X(DIRECTIVE, ERROR, "directive", \
	  "no directive is read but one %%YAML 1.1 or %%YAML 1.2") \
	X(TOO_DEEP, ERROR, "too-deep", "nested more than %u deep") \
	X(ITEM_TOO_LONG, ERROR, "item-too-long", \
	  "what follows is longer than %llu bytes") \
	X(ENTRY_TOO_LARGE, ERROR, "entry-too-large", \
	  "more than %u keys and values in one entry") \
	/* parts of YAML that are not read */ \
	X(ANCHOR, ERROR, "anchor", "anchors (&name) are not read") \
	X(ALIAS, ERROR, "alias", "aliases (*name) are not read") \
	X(MERGE_KEY, ERROR, "merge-key", "merge keys (<<) are not used") \
	X(TAG, ERROR, "tag", "tags (!name) are not read") \
	/* keys and values */ \
	X(KEY_NOT_TEXT, ERROR, "key-not-text", "a key must be plain text") \
	X(LONG_KEY, ERROR, "long-key", "a key is longer than %u bytes") \
	X(LONG_TEXT, ERROR, "long-text", "a text is longer than %u bytes") \
	X(EMPTY_VALUE, ERROR, "empty-value", "the value is missing") \
	X(UNKNOWN_KEY, ERROR, "unknown-key", "no such key in a %s: '%s'") \
	X(DUPLICATE_KEY, ERROR, "duplicate-key", "key '%s' stands twice") \
	X(TOO_MANY_KEYS, ERROR, "too-many-keys", "more than %u keys in one map") \
	/* mistakes of YAML */ \
	X(QUOTE_VALUE, ERROR, "quote-value", \
	  "a value cannot start with '%s' unless it is quoted") \
	X(STRAY_COLON, ERROR, "stray-colon", \
	  "a second ': ' after the value has begun") \
	X(MISSING_COLON, ERROR, "missing-colon", "a line without a key and ':'") \
	X(UNCLOSED_QUOTE, ERROR, "unclosed-quote", \
	  "the quote opened here is not closed") \
	X(UNCLOSED_BRACKET, ERROR, "unclosed-bracket", \
	  "the '%s' opened here is not closed by '%s'") \
	X(EMPTY_ENTRY, ERROR, "empty-entry", "expected a value here") \
	X(BAD_ESCAPE, ERROR, "bad-escape", \
	  "no such escape inside a double-quoted text") \
	X(BLOCK_HEADER, ERROR, "block-header", \
	  "only +, - or a digit from 1 to 9 may follow '|' or '>'") \
	X(TAB_INDENT, ERROR, "tab-indent", "tab used for indentation") \
	X(INDENTATION, ERROR, "indentation", "the indentation does not fit") \
	X(TRAILING_TEXT, ERROR, "trailing-text", \
	  "text after the end of the value") \
	X(YAML_SYNTAX, ERROR, "yaml-syntax", "this is not YAML") \
	/* a run */ \
	X(NO_SUCH_KIT, ERROR, "no-such-kit", "there is no kit '%s'") \
	X(NO_KIT_FITS, ERROR, "no-kit-fits", \
	  "no kit covers this machine; name one with 'kit:' or --kit")
/* clang-format on */

#endif
