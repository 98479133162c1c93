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
	X(STRAY_COMMA, ERROR, "stray-comma", "a comma ends a value inside { }") \
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
	/* records */ \
	X(MISSING_KEY, ERROR, "missing-key", "a %s needs the key '%s'") \
	X(NOT_FOR_EVERY_SLOT, ERROR, "not-for-every-slot", \
	  "'%s' belongs to one slot and not to every_slot") \
	X(WRONG_TYPE, ERROR, "wrong-type", "'%s' takes %s, not %s") \
	X(NOT_A_CHOICE, ERROR, "not-a-choice", "'%s' is no word for '%s'") \
	X(NOT_A_NUMBER, ERROR, "not-a-number", \
	  "'%s' is not the kind of number that '%s' takes") \
	X(OUT_OF_RANGE, ERROR, "out-of-range", "%s is out of range for '%s'") \
	X(REVERSED, ERROR, "reversed", "'%s' lies behind '%s'") \
	X(LIST_LENGTH, ERROR, "list-length", "'%s' takes 1 to %u entries") \
	X(EMPTY_LIST, ERROR, "empty-list", "'%s' lists nothing") \
	X(BAD_PATTERN, ERROR, "bad-pattern", \
	  "'%s' is no form of serial numbers") \
	X(SERIAL_LETTERS, ERROR, "serial-letters", \
	  "'%s' is no number, and no kit says what form its serials have") \
	X(SERIAL_FORM, ERROR, "serial-form", \
	  "'%s' is no serial number of the form %s") \
	X(BAD_ID, ERROR, "bad-id", "'%s' cannot be an id") \
	X(BAD_SLOT_REF, ERROR, "bad-slot-ref", "'%s' names no slot of a kit") \
	X(BAD_DATE, ERROR, "bad-date", "'%s' is no date for '%s'") \
	X(SECOND_RECORD, ERROR, "second-record", "a run has one %s") \
	/* measures and money */ \
	X(LENGTH_WITHOUT_UNIT, ERROR, "length-without-unit", \
	  "'%s' has no unit, for '%s'") \
	X(DECIMAL_COMMA, ERROR, "decimal-comma", \
	  "'%s' has a decimal comma, for '%s'") \
	X(BAD_LENGTH, ERROR, "bad-length", "'%s' is no length for '%s'") \
	X(BAD_ANGLE, ERROR, "bad-angle", "'%s' is no angle for '%s'") \
	X(BAD_WEIGHT, ERROR, "bad-weight", "'%s' is no weight for '%s'") \
	X(BAD_MONEY, ERROR, "bad-money", "'%s' is no sum of money for '%s'") \
	X(NEGATIVE_MONEY, ERROR, "negative-money", \
	  "'%s' is less than nothing, for '%s'") \
	X(MONEY_ORDER, ERROR, "money-order", "%s must rise in this order") \
	X(MONEY_DECIMALS, ERROR, "money-decimals", \
	  "%s has %d decimals, this sum has more") \
	X(MONEY_SUM, ERROR, "money-sum", \
	  "the sums in %s up to here are too large to be added") \
	X(UNKNOWN_CURRENCY, ERROR, "unknown-currency", \
	  "'%s' names no currency") \
	X(MIXED_CURRENCY, ERROR, "mixed-currency", \
	  "a sum in %s where the others are in %s") \
	X(NO_RATE, ERROR, "no-rate", "there is no rate between %s and %s") \
	X(ZERO_RATE, ERROR, "zero-rate", "the rate of %s is 0") \
	X(ZERO_PRICE, ERROR, "zero-price", "nothing is to be paid, for '%s'") \
	X(TWO_RATES, ERROR, "two-rates", \
	  "the rate of %s differs from that in other prices") \
	/* what tools are like */ \
	X(AMBIGUOUS_SIZE, ERROR, "ambiguous-size", \
	  "'%s' may be a size across flats or of a thread") \
	X(SIZE_PAIR, ERROR, "size-pair", "'%s' is two sizes in one entry") \
	X(BAD_SIZE, ERROR, "bad-size", "'%s' is no size for this tool") \
	X(MORE_SIZES, WARNING, "more-sizes", \
	  "a %s has at most %u sizes, here are %u") \
	X(CONTRADICTS_ITSELF, WARNING, "contradicts-itself", \
	  "'%s' contradicts '%s'") \
	X(UNLIKELY_LENGTH, WARNING, "unlikely-length", \
	  "a tool %s long is unlikely") \
	X(NO_KIND, WARNING, "no-kind", \
	  "nothing says what kind of tool this is, so no slot can want it") \
	X(UNITS_DISAGREE, ERROR, "units-disagree", \
	  "the two lengths of '%s' are not the same, for '%s'") \
	X(SHEET_DAMAGE, ERROR, "sheet-damage", \
	  "'%s' looks like %s, for '%s'") \
	X(BAD_COLOUR, ERROR, "bad-colour", "'%s' is no colour") \
	X(UNLISTED_COLOUR, WARNING, "unlisted-colour", \
	  "the colour '%s' is not listed") \
	X(UNLISTED_KIND, WARNING, "unlisted-kind", \
	  "the kind of tool '%s' is not listed") \
	X(UNLISTED_FINISH, WARNING, "unlisted-finish", \
	  "the finish '%s' is not listed") \
	X(UNLISTED_MATERIAL, WARNING, "unlisted-material", \
	  "the handle material '%s' is not listed") \
	X(UNKNOWN_PROCESS, ERROR, "unknown-process", \
	  "there is no process '%s'") \
	/* kits */ \
	X(KIT_WITHOUT_SLOTS, ERROR, "kit-without-slots", \
	  "the kit '%s' has no slots") \
	X(NO_SUCH_POCKET, ERROR, "no-such-pocket", \
	  "there is no pocket %d in a pouch of %d") \
	X(POCKET_WIDTHS, ERROR, "pocket-widths", \
	  "%u widths for %d pockets") \
	X(CLAIM_VALUE, ERROR, "claim-value", \
	  "a claim on '%s' needs either 'is' or 'any_of'") \
	X(NO_MAKER_MARKS, ERROR, "no-maker-marks", \
	  "the mark is 'maker', but the kit lists no '%s'") \
	X(GOES_WITH_CYCLE, ERROR, "goes-with-cycle", \
	  "slot '%s' goes with '%s', which leads back to it") \
	X(SOURCE_CYCLE, ERROR, "source-cycle", \
	  "source '%s' rests on '%s', which leads back to it") \
	X(BOTH_SIDES, ERROR, "both-sides", \
	  "source '%s' stands under two of 'for', 'against' and 'silent'") \
	X(LESS_SUPPORT, NOTE, "less-support", \
	  "'%s' is stated %s; %s: supports %s") \
	/* across records */ \
	X(DUPLICATE_ID, ERROR, "duplicate-id", "the %s id '%s' is used twice") \
	X(UNRESOLVED_ID, ERROR, "unresolved-id", "there is no %s '%s'") \
	X(NO_SUCH_SLOT, ERROR, "no-such-slot", "kit '%s' has no slot '%s'") \
	X(PINNED_TWICE, ERROR, "pinned-twice", \
	  "tool '%s' is pinned to a place that another tool has") \
	X(DECIDED_TWICE, ERROR, "decided-twice", \
	  "'%s' is decided for a place that has a decision") \
	X(PIN_AND_DECISION, WARNING, "pin-and-decision", \
	  "'%s' is decided for the place that tool '%s' is pinned to") \
	X(PIN_NOT_OURS, WARNING, "pin-not-ours", \
	  "tool '%s' is pinned, but belongs to '%s'") \
	X(SAME_ROW, WARNING, "same-row", \
	  "a %s without id says the same as another") \
	X(PHOTO_TWICE, WARNING, "photo-twice", \
	  "the photo '%s' is named for two tools") \
	X(NO_PRICE, ERROR, "no-price", "the offer '%s' has no price") \
	X(OTHER_SELLER, ERROR, "other-seller", \
	  "the job lot holds '%s', which another seller offers") \
	X(SUPERSESSION_LOOP, ERROR, "supersession-loop", \
	  "part '%s' gives way to '%s', which leads back to it") \
	X(TOO_MANY_TOOLS, ERROR, "too-many-tools", \
	  "more than %u tools in one run") \
	X(TOO_MANY_SLOTS, ERROR, "too-many-slots", \
	  "more than %u slots in one run") \
	/* CSV */ \
	X(CSV_UNCLOSED, ERROR, "csv-unclosed", \
	  "the quotation mark opened here is not closed") \
	X(CSV_QUOTE, ERROR, "csv-quote", \
	  "text behind the closing quotation mark of a cell") \
	X(CSV_HEADER, ERROR, "csv-header", \
	  "the first line names no column that is known") \
	X(CSV_MIXED, ERROR, "csv-mixed", \
	  "the first line has '%c' between its cells, and here '%c'") \
	X(CSV_COLUMN_TWICE, ERROR, "csv-column-twice", \
	  "two columns for '%s'") \
	X(CSV_RAGGED, ERROR, "csv-ragged", \
	  "this row has %u cells, the first line has %u") \
	X(CSV_COLUMNS, ERROR, "csv-columns", "more than %u columns") \
	/* JSON */ \
	X(JSON_SYNTAX, ERROR, "json-syntax", \
	  "this is not JSON: expected %s here") \
	X(NOT_AN_AUDIT, ERROR, "not-an-audit", \
	  "expected a sheet 'slots' or 'summary' of an audit in JSON: %s") \
	/* import */ \
	X(COLUMN_KEPT, NOTE, "column-kept", \
	  "the column '%s' is kept under 'extra'") \
	X(NO_SCALE, WARNING, "no-scale", \
	  "the column '%s' does not say on which scale it grades") \
	X(MANY_AS_ONE, WARNING, "many-as-one", \
	  "'%s' stands for %d tools: how each is marked is not recorded") \
	X(NOTE_WORD, ERROR, "note-word", "'%s' is not understood here") \
	X(NO_BENCH, ERROR, "no-bench", "there is no list of tools in this file") \
	/* a run */ \
	X(NO_SUCH_KIT, ERROR, "no-such-kit", "there is no kit '%s'") \
	X(NO_KIT, WARNING, "no-kit", \
	  "there is no kit to hold the bench against") \
	X(NO_KIT_FITS, ERROR, "no-kit-fits", \
	  "no kit covers this machine") \
	X(OUTSIDE_RANGE, WARNING, "outside-range", \
	  "%s lies outside the range of kit '%s'%s") \
	X(POINTS_ELSEWHERE, WARNING, "points-elsewhere", \
	  "%s points %s, %s") \
	/* kits beside each other */ \
	X(NO_KITS, ERROR, "no-kits", "there is no kit among the files") \
	X(KITS_TOO_LARGE, ERROR, "kits-too-large", \
	  "kit '%s' of %u slots beside '%s' of %u: more than %u pairs of slots") \
	X(ONE_KIT, ERROR, "one-kit", \
	  "there is nothing to compare the kit '%s' with") \
	X(NO_TOOLS, ERROR, "no-tools", "no tool tells which kit it was: %s")
/* clang-format on */

#endif
