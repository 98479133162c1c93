/* SPDX-License-Identifier: MIT */
/*
 * reader - what km_load() carries from file to file.
 */
#ifndef KM_READ_READER_H
#define KM_READ_READER_H

#include "read/bind.h"
#include "read/ids.h"

/* Records read so far, in reading order; in b.scratch. */
struct km_part {
	void *rec;
	uint32_t n;		/* records at rec, where they come in lists */
	struct km_part *next;
};

/* Rows without an id that were seen, by what they say. */
struct km_rows {
	struct km_arena *mem;
	uint64_t *hash;			/* 0: empty */
	uint32_t *index;
	uint32_t room, n;
};

struct km_link;

struct km_reader {
	struct km_bind b;
	struct km_load *load;
	struct km_part *kits, *prices, *machines, *decisions;
	struct km_ids tool_ids;
	struct km_rows rows;
	uint32_t blocks;		/* room of load->bench.block */
	uint64_t n_tools;		/* met, duplicates included */
	bool full;			/* the ceiling of tools was reported */
	char stem[48];			/* of the file, fit for an id */
	uint32_t made_line;		/* of the last made id */
	bool unreadable;		/* an input could not be read */
	struct km_link *link;
};

/* A record at the front of a list; false: memory ran out. */
bool km_part_add(struct km_reader *r, struct km_part **list, void *rec,
		 uint32_t n);

/*
 * Bind one item of a bench and add the tool, or the tools that it stands for.
 * The stem of the file must have been set.
 */
void km_bench_item(struct km_reader *r, const struct km_node *n);
void km_bench_file(struct km_reader *r, const char *name);
/* Enter the ids of all tools, after the last file. */
void km_bench_ids(struct km_reader *r);
void km_bench_release(struct km_reader *r);

/* A CSV bench, whole. */
enum km_status km_csv_read(struct km_reader *r, const struct km_input *in);

/* After all files: join, find duplicates, resolve ids, convert money. */
void km_link(struct km_reader *r);
/* Its last part: sums into minor units of the currency of their record. */
void km_link_money(struct km_reader *r);
/* And the colour words of tools and offers, by the kits of the run. */
void km_link_colours(struct km_reader *r);

#endif
