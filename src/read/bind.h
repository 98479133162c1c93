/* SPDX-License-Identifier: MIT */
/*
 * bind - nodes and one field table a record make structs.
 *
 * A record type is a struct plus a table of rows, one row a field.  The rows
 * say the key, how the value is read, where it goes, what it may be, and hold
 * an example and a sentence for the reader, so that the same rows drive
 * reading, the schema, the format reference, the starter file and the words
 * for fuzzing.
 *
 * Owner    structs and texts belong to b->mem, the arena of the load.
 * Errors   what is wrong goes to b->d and binding goes on; a field in error
 *          keeps the value it had.  b->nomem is set when memory ran out.
 */
#ifndef KM_READ_BIND_H
#define KM_READ_BIND_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "base/arena.h"
#include "base/str.h"
#include "kitmuster/load.h"
#include "read/tree.h"
#include "read/words.h"

struct km_bind;
struct km_field;
struct km_record;

enum km_type {
	KM_T_END,
	KM_T_TEXT,	/* const char *, at most word_bytes, kept once */
	KM_T_NOTE,	/* const char *, at most note_bytes */
	KM_T_ID,	/* const char *: an id that is given here */
	KM_T_REF,	/* const char *: an id given elsewhere */
	KM_T_SLOT_REF,	/* two const char *: "kit/slot"; slot in at2 */
	KM_T_INT,	/* int32_t, min to max */
	KM_T_BIG,	/* int64_t, min to max */
	KM_T_SMALL,	/* int8_t, min to max */
	KM_T_BOOL,	/* bool: yes, no, true, false */
	KM_T_MAYBE,	/* int8_t: 1 yes, 0 no */
	KM_T_CHOICE,	/* enum: min + index of the word in choices */
	KM_T_LENGTH,	/* int64_t nm */
	KM_T_SHARE,	/* int32_t hundredths of a per cent */
	KM_T_CENTS,	/* int32_t hundredths of what is counted */
	KM_T_MILLI,	/* int32_t thousandths */
	KM_T_WEIGHT,	/* int64_t mg */
	KM_T_MONEY,	/* struct km_money */
	KM_T_MONEY3,	/* struct km_money3: one sum, or low, likely, high */
	KM_T_CURRENCY,	/* const char *, ISO 4217 */
	KM_T_DATE,	/* struct km_date */
	KM_T_PERIOD,	/* struct km_period; the text in at2 unless 0 */
	KM_T_TEXTS,	/* const char *const *, number in at2 */
	KM_T_REFS,	/* the same, of ids given elsewhere */
	KM_T_DAYS,	/* int32_t least; most in at2 unless 0 */
	KM_T_MAP,	/* a record inside this one */
	KM_T_MAP_NEW,	/* a pointer to a record */
	KM_T_LIST,	/* a pointer to records, number in at2 */
	KM_T_BY_NAME,	/* the same from a map: its keys are the ids */
	KM_T_ATTR,	/* an attribute of a slot, tool or offer */
	KM_T_OWN	/* whatever own() makes of it; `shape` says what */
};

/* What own() takes, for whoever reads the tables; `shape` has it in words. */
enum km_form {
	KM_FORM_TEXT,
	KM_FORM_SLOT,		/* kit/slot */
	KM_FORM_YES,
	KM_FORM_NUMBER,
	KM_FORM_WORD,		/* one of choices */
	KM_FORM_TEXTS,		/* a list, or one */
	KM_FORM_TEXT_MAP,
	KM_FORM_NUMBER_MAP,
	KM_FORM_RECORD,		/* rec */
	KM_FORM_RECORDS,	/* a list of rec */
	KM_FORM_PART,		/* rec, of which nothing is required */
	KM_FORM_WORD_OR_RECORD,
	KM_FORM_WORDS_OR_RECORDS,	/* none, one of choices, or a list */
	KM_FORM_SERIAL,		/* a number, or one with letters */
	KM_FORM_SERIAL_OR_RECORD,
	KM_FORM_VALUE,		/* of the attribute that is spoken of */
	KM_FORM_VALUES		/* a list of them */
};

enum km_field_flags {
	KM_REQUIRED = 1,	/* must be there */
	KM_FIRST = 2,		/* read before the others, in table order */
	KM_MINUS = 4,		/* -1 where absent (integers, money) */
	KM_APART = 8,		/* the member is in record->part() */
	KM_ZERO = 16,		/* a length or share of 0 is allowed */
	KM_SLOT_ONLY = 32,	/* not in every_slot */
	KM_LIST_OR_ONE = 64,	/* texts: one text stands for a list of one */
	KM_STARTER = 128	/* stands in a starter file, not commented out */
};

typedef void km_own_fn(struct km_bind *b, const struct km_field *f, void *rec,
		       const struct km_node *n);

struct km_field {
	const char *key;
	const char *was;		/* other spellings, "|" between */
	enum km_type type;
	unsigned flags;			/* enum km_field_flags */
	size_t at, at2;
	const char *const *choices;	/* NULL-ended */
	const struct km_record *rec;
	km_own_fn *own;			/* reads the value if not NULL */
	enum km_attr attr;
	int64_t min, max;		/* both 0: no bounds */
	enum km_form form;		/* KM_T_OWN: what it takes, */
	const char *shape;		/* and in words */
	const char *example;		/* a value as written in a file */
	const char *doc;		/* one sentence */
};

/* The numbers of the records, for the index of their keys. */
enum km_record_no {
	KM_REC_KIT, KM_REC_SERIALS, KM_REC_SERIAL_END, KM_REC_KIT_LIMITS,
	KM_REC_SOURCE, KM_REC_POUCH, KM_REC_SLOT, KM_REC_EXISTS, KM_REC_CLAIM,
	KM_REC_TOOL, KM_REC_CONDITION, KM_REC_DAMAGE, KM_REC_HISTORY,
	KM_REC_PRICES, KM_REC_SELLER, KM_REC_OFFER, KM_REC_JOB_LOT,
	KM_REC_SUPERSESSION, KM_REC_MONEY3, KM_REC_WORKSHOP, KM_REC_TERMS,
	KM_REC_OPEN_LOT, KM_REC_RUBRIC, KM_REC_MACHINE, KM_REC_DECISION,
	KM_REC_FINISH, KM_RECORDS
};

/* The nodes of the attributes of one record, until all are known. */
struct km_attr_nodes {
	uint32_t has;			/* bits 1 << enum km_attr */
	const struct km_node *v[KM_ATTRS];	/* of those in has only */
};

struct km_record {
	enum km_record_no no;
	const char *name;	/* "slot" */
	size_t size;
	const struct km_field *fields;
	bool attrs;		/* takes km_attr_fields as well */
	/* Reads the attributes, after the other fields. */
	void (*traits)(struct km_bind *b, void *rec,
		       const struct km_attr_nodes *nodes);
	/* The struct of members flagged KM_APART, made when first needed. */
	void *(*part)(struct km_bind *b, void *rec);
	/* What no row can say; n is the map. */
	void (*check)(struct km_bind *b, void *rec, const struct km_node *n);
	const char *doc;
};

/* The offset of rec.member, refused by the compiler unless it has type t. */
#define KM_AT(rec, member, t)                                                  \
	(offsetof(rec, member) +                                               \
	 0 * sizeof(_Generic(&((rec *)0)->member, t *: 1)))

enum { KM_KEY_ROOM = 128, KM_PATH_DEPTH = 24 };

struct km_key_index {
	bool built;
	uint8_t n_own;			/* rows of the record itself */
	uint8_t place[KM_KEY_ROOM];	/* row + 1, 0 empty */
	uint8_t word[KM_KEY_ROOM];	/* 0 key, else number of the old name */
	uint8_t length[KM_KEY_ROOM];	/* of the key or old name */
	uint8_t after[64];		/* place + 1 of the key that followed
					 * the key of a row last time */
	uint64_t required;
};

/* Sums of money whose currency is known only after all files are read. */
struct km_money_fix {
	int64_t *minor;			/* holds ten-thousandths until then */
	const char *code;		/* written with the sum, or NULL */
	const char *const *scope;	/* currency of the record, or NULL */
	const char **keeps;		/* offer, seller: takes over the code */
	struct km_place at;
	struct km_money_fix *next;
};

struct km_bind {
	struct km_arena *mem;		/* of the load */
	struct km_arena *scratch;	/* until the end of the load */
	struct km_diags *d;
	const struct km_limits *lim;
	struct km_words *words;
	const char *file;
	bool partial;			/* every_slot: nothing is required */
	bool nomem;
	bool holes;			/* an id was lost to an error */
	const char *const *currency;	/* of the record being read */
	const char **keeps_currency;	/* offers and sellers: their own */
	const struct km_kit *kit;	/* being read: its colours */
	const struct km_slot *every_slot;	/* of that kit, or NULL */
	bool slots_wrong;		/* of that kit: a message was given */
	uint32_t wrong_attrs;		/* of the slot being read */
	uint64_t seen;			/* rows of the record being checked */
	bool rates_wrong;		/* a rate was lost to an error */
	uint64_t n_slots;		/* of the run */
	struct km_money_fix *money;
	struct { const char *key; int64_t index; } path[KM_PATH_DEPTH];
	unsigned depth;
	struct km_key_index index[KM_RECORDS];
};

/* The attributes that slot, tool and offer share; ends with KM_T_END. */
extern const struct km_field km_attr_fields[];

/* Fill obj, zeroed or holding defaults, from a map. */
void km_bind_record(struct km_bind *b, const struct km_record *r, void *obj,
		    const struct km_node *n);
/* Put -1 where the table says so. */
void km_bind_defaults(const struct km_record *r, void *obj);
/* One value through one row; obj is the record. */
void km_bind_field(struct km_bind *b, const struct km_record *r,
		   const struct km_field *f, void *obj,
		   const struct km_node *n);
/* Row of a key or old name, or NULL. */
const struct km_field *km_bind_find(struct km_bind *b,
				    const struct km_record *r,
				    struct km_slice key);

/* For a record's check(): was the key there, if misspelt or in error? */
bool km_bind_saw(struct km_bind *b, const struct km_record *r,
		 const char *key);

/* All limits, the defaults where there is 0; lim NULL: the defaults. */
struct km_limits km_limits_filled(const struct km_limits *lim);

/* Paths: enter a key or an item, and leave it. */
void km_bind_enter(struct km_bind *b, const char *key, int64_t index);
void km_bind_leave(struct km_bind *b);

/* Room in the arena of the load, zeroed; NULL sets nomem. */
void *km_bind_alloc(struct km_bind *b, size_t n, size_t size);
const char *km_bind_text(struct km_bind *b, const char *p, size_t n);

struct km_place km_bind_at(const struct km_bind *b, const struct km_node *n);
/* Adds the path to a message, which may be NULL. */
struct km_diag *km_bind_said(struct km_bind *b, struct km_diag *one);
#define KM_SAY(b, node, msg, ...)                                              \
	km_bind_said(b, km_diag_add((b)->d, KM_M_##msg, km_bind_at(b, node),   \
				    __VA_ARGS__))
#define KM_HINT(b, one, ...) km_diag_hint((b)->d, one, __VA_ARGS__)

/* Readers of single values; false after a message. */
bool km_read_value(struct km_bind *b, const struct km_field *f, void *to,
		   void *to2, const struct km_node *n);
/* "'length' takes a length, not a map" */
void km_say_type(struct km_bind *b, const struct km_node *n, const char *key,
		 const char *takes);
/* A scalar with something in it, else a message. */
bool km_want_scalar(struct km_bind *b, const struct km_node *n,
		    const char *key, const char *takes);
bool km_want_list(struct km_bind *b, const struct km_node *n, const char *key);
bool km_want_map(struct km_bind *b, const struct km_node *n, const char *key);
bool km_node_is(const struct km_node *n, const char *plain_word);
struct km_slice km_node_slice(const struct km_node *n);
/* An id by the rule; NULL after a message. */
const char *km_read_id(struct km_bind *b, const struct km_node *n,
		       const char *key);
/* An index of choices, or -1 after a message with a hint. */
int km_read_choice(struct km_bind *b, const struct km_node *n, const char *key,
		   const char *const *choices);
bool km_read_length(struct km_bind *b, const struct km_node *n,
		    const char *key, bool zero, int64_t *nm);
/* Notes a sum to be converted at the end; what it points to must stay. */
bool km_read_money(struct km_bind *b, const struct km_node *n, const char *key,
		   int64_t *minor);
/* What is wrong with a length, in words and with a hint. */
void km_say_length(struct km_bind *b, const struct km_node *n, const char *key,
		   int fault);

#endif
