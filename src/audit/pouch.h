/* SPDX-License-Identifier: MIT */
/*
 * pouch - what the audit says of the pouch of a kit.
 */
#ifndef KM_AUDIT_POUCH_H
#define KM_AUDIT_POUCH_H

#include "base/arena.h"
#include "kitmuster/audit.h"
#include "kitmuster/pouch.h"

/*
 * The pouch of one kit whose pieces are filled.
 *
 * scratch   holds nothing else
 * out       NULL where the kit records no pouch
 * errors    KM_ENOMEM, KM_ERANGE
 */
enum km_status km_pouch_make(struct km_arena *mem, struct km_arena *scratch,
			     const struct km_kit_audit *k,
			     const struct km_pouch_audit **out);

/* What a tool takes, or the right tool of a slot; -1: not recorded. */
struct km_extent { int64_t length_nm, width_nm, thick_nm; };
struct km_extent km_extent_of_tool(const struct km_tool *t);
/* Of several that are right, the longest, widest and thickest. */
struct km_extent km_extent_of_slot(const struct km_slot *s);

/* Need against room, and against what the right tool would need. */
struct km_room km_room_test(int64_t need_nm, int64_t room_nm,
			    int64_t right_nm);

/* A thing alone in the pocket that its slot names, or in the pouch.  What may
 * lie elsewhere, like a consumable without a pocket, is never too large. */
void km_pouch_alone(const struct km_slot *slot, const struct km_match *m,
		    struct km_way_fit *out);

/* The pouch of a kit with what the plan puts in.  As km_pouch_make(). */
enum km_status km_pouch_planned(struct km_arena *mem, struct km_arena *scratch,
				const struct km_audit *a, uint32_t kit,
				const struct km_pouch_audit **out);

/* pouch.c: how a pouch is judged, and the room of one pocket; -1: not known. */
enum km_pouch_rule km_pouch_rule_of(const struct km_pouch *p);
int64_t km_pouch_depth_room(const struct km_pouch *p);
int64_t km_pocket_width(const struct km_pouch *p, int32_t number);
int64_t km_pouch_length_room(const struct km_pouch *p);	/* box, wrap */
bool km_pouch_takes(const struct km_slot *s);
struct km_extent km_extent_of_traits(const struct km_traits *t);
/* pouch_bundle.c: flat width and inside length of the cloth. */
void km_pouch_tube(const struct km_pouch *p, int64_t *width_nm,
		   int64_t *length_nm);

/* pouch_bundle.c: the tools of p->pieces together in a tube of cloth. */
void km_pouch_bundle(struct km_pouch_audit *p);

#endif
