/* SPDX-License-Identifier: MIT */
#include "report/outline.h"

#include "trade/typical.h"
#include "unit/length.h"

/* What is drawn where neither the kit nor a table says anything [choice]. */
#define ANGLE_OPEN 15000	/* [tm-9-243] the usual jaw */
#define THICK KM_UM(4)
#define BAR KM_UM(8)
#define BAR_WIDTH KM_UM(10)
#define WALL KM_UM(2)
#define HANDLE KM_UM(90)
#define PLIERS_HEAD KM_UM(24)
#define LONGEST KM_UM(3000)	/* beyond it nothing is drawn */

static struct km_dim recorded(const struct km_slot *s, enum km_attr a)
{
	const struct km_want *w = &s->want[a];
	struct km_dim d = { -1, KM_KNOWN_NOT };

	if (w->state == KM_WANT_ANY_OF && w->n && w->any[0].span.nm > 0) {
		d.um = (w->any[0].span.nm + 500) / 1000;
		d.known = KM_KNOWN_RECORDED;
	}
	return d;
}

static void or_typical(struct km_dim *d, int64_t um)
{
	if (d->known == KM_KNOWN_NOT && um > 0)
		*d = (struct km_dim){ um, KM_KNOWN_TYPICAL };
}

static void or_assume(struct km_dim *d, int64_t um)
{
	if (d->known == KM_KNOWN_NOT)
		*d = (struct km_dim){ um, KM_KNOWN_ASSUMED };
}

static int64_t size_um(const struct km_outline *o, uint32_t end)
{
	return end < o->n_sizes ? o->size[end]->nominal_nm / 1000 : 0;
}

static void take_ends(const struct km_slot *s, struct km_outline *o)
{
	const struct km_want *w = &s->want[KM_A_SIZES];
	const struct km_want *d = &s->want[KM_A_DRIVE];
	const struct km_drive *own = NULL;
	const struct km_want *kind = &s->want[KM_A_TOOL];

	if (w->state == KM_WANT_ANY_OF && w->n)
		for (uint32_t i = 0; i < w->any[0].sizes.n &&
				     o->n_sizes < KM_OUTLINE_ENDS; i++)
			if (w->any[0].sizes.v[i]->nominal_nm > 0)
				o->size[o->n_sizes++] = w->any[0].sizes.v[i];
	if (kind->state == KM_WANT_ANY_OF && kind->n)
		own = kind->any[0].kind->drive;
	for (uint32_t i = 0; i < KM_OUTLINE_ENDS; i++) {
		const struct km_drive *one = own;

		if (d->state == KM_WANT_ANY_OF && d->n && d->any[0].drives.n)
			one = d->any[0].drives.v[i < d->any[0].drives.n
							 ? i : 0];
		o->drive[i] = one ? one->id : KM_DRIVE_NONE;
	}
}

static bool is_ring(enum km_kind_id k, uint32_t end)
{
	return k == KM_KIND_RING_DOUBLE || k == KM_KIND_RING_SINGLE ||
	       (k == KM_KIND_COMBINATION && end == 1);
}

static void heads_of_spanner(struct km_outline *o)
{
	int64_t least;

	for (uint32_t i = 0; i < KM_OUTLINE_ENDS; i++) {
		int64_t s = size_um(o, i < o->n_sizes ? i : 0);

		or_typical(&o->head[i], is_ring(o->kind, i)
				? km_typical_ring_head(s)
				: km_typical_open_head(s));
		/* a head as wide as its jaw could not be drawn */
		if (o->head[i].um < s * 5 / 4)
			o->head[i] = (struct km_dim){ s * 3 / 2,
						      KM_KNOWN_ASSUMED };
	}
	least = o->head[0].um < o->head[1].um ? o->head[0].um : o->head[1].um;
	or_assume(&o->shank, least * 40 / 100);
	if (!is_ring(o->kind, 0))
		or_assume(&o->angle, ANGLE_OPEN);
}

/* Are the heads together longer than the tool?  Then one figure is wrong, and
 * only the length is drawn. */
static void check_heads(struct km_outline *o)
{
	bool one = o->kind == KM_KIND_OPEN_SINGLE ||
		   o->kind == KM_KIND_RING_SINGLE;

	o->bar_only = o->length.um <
		      (one ? o->head[0].um : o->head[0].um + o->head[1].um);
	if (o->bar_only)
		o->head[0] = o->head[1] =
			(struct km_dim){ BAR_WIDTH, KM_KNOWN_ASSUMED };
}

/* A box spanner goes over the hexagon of its nut by twice the wall. */
static void heads_of_tube(struct km_outline *o)
{
	or_assume(&o->wall, WALL);
	for (uint32_t i = 0; i < KM_OUTLINE_ENDS; i++) {
		int64_t s = size_um(o, i < o->n_sizes ? i : 0);

		or_typical(&o->head[i], s + 2 * o->wall.um);
		if (o->head[i].um < s)		/* that cannot be its width */
			o->head[i].um = s + 2 * o->wall.um;
		o->head[i].known = o->wall.known < o->head[i].known
					   ? o->wall.known : o->head[i].known;
	}
	or_assume(&o->hole, size_um(o, 0) * 45 / 100);
	/* an end seen head on is not wider than the tool is long */
	o->bar_only = o->length.um * 5 < o->head[0].um * 6 ||
		      o->length.um * 5 < o->head[1].um * 6;
}

static void of_driver(struct km_outline *o, const struct km_typical *t)
{
	int64_t b = o->n_sizes ? o->size[0]->b_nm / 1000 : 0;

	or_typical(&o->blade, t->blade);
	if (o->blade.known != KM_KNOWN_RECORDED && o->length.um > 0 &&
	    o->blade.um > o->length.um * 7 / 10)
		o->blade = (struct km_dim){ o->length.um * 6 / 10,
					    KM_KNOWN_ASSUMED };
	if (o->length.known != KM_KNOWN_NOT)
		or_assume(&o->blade, o->length.um * 6 / 10);
	else if (o->blade.known != KM_KNOWN_NOT)
		o->length = (struct km_dim){ o->blade.um + HANDLE,
					     KM_KNOWN_ASSUMED };
	or_typical(&o->shank, t->shank);
	or_assume(&o->shank, b ? b * 7 / 10 : KM_UM(6));
	or_assume(&o->head[0], KM_UM(24));
	if (o->head[0].um < b)		/* the blade is the widest */
		o->head[0] = (struct km_dim){ b, KM_KNOWN_RECORDED };
	o->bar_only = o->length.um < o->blade.um + KM_UM(10);
}

/* A handle has to be left when the arc is drawn. */
static void of_hook(struct km_outline *o)
{
	int64_t d = KM_UM(50);

	or_assume(&o->shank, KM_UM(14));
	if (o->n_sizes) {
		const struct km_size *s = o->size[0];

		or_assume(&o->hook, s->nominal_nm / 14000);
		d = (s->b_nm ? s->b_nm : s->nominal_nm) / 1000;
	}
	or_assume(&o->head[0], BAR_WIDTH);
	o->bar_only = o->length.um < d * 3 / 2 || o->hook.um > d / 3;
}

/* The jaw is to scale; the head around it is a habit. */
static void of_adjustable(struct km_outline *o)
{
	if (o->jaw.known == KM_KNOWN_RECORDED) {
		or_assume(&o->head[0], o->jaw.um * 2);
		o->bar_only = o->length.um < 4 * o->jaw.um ||
			      o->head[0].um < o->jaw.um * 3 / 2;
		return;
	}
	o->bar_only = true;
	or_assume(&o->head[0], BAR_WIDTH);
}

static void of_spanner(struct km_outline *o)
{
	if (o->n_sizes) {
		heads_of_spanner(o);
		check_heads(o);
		return;
	}
	o->bar_only = o->head[0].known == KM_KNOWN_NOT;
	or_assume(&o->head[0], BAR_WIDTH);
}

/* Of a kind that has no shape of its own here.  true: it has a head. */
static bool of_another(struct km_outline *o, const struct km_typical *t)
{
	if (t->head > 0) {
		or_typical(&o->head[0], t->head);
		o->bar_only = o->length.um < 2 * o->head[0].um ||
			      o->jaw.um < o->head[0].um / 4;
		return true;
	}
	or_typical(&o->head[0], t->width);
	o->bar_only = o->head[0].known == KM_KNOWN_NOT ||
		      !km_outline_is_sketch(o);
	or_assume(&o->head[0], BAR_WIDTH);
	return false;
}

static void fill(struct km_outline *o, const struct km_typical *t)
{
	or_typical(&o->length, t->length);
	or_typical(&o->thick, t->thick);
	or_typical(&o->arm, t->short_arm);
	or_typical(&o->jaw, t->jaw);
	or_typical(&o->tip, t->tip);
	or_typical(&o->wall, t->wall);
	switch (o->kind) {
	case KM_KIND_OPEN_DOUBLE:
	case KM_KIND_OPEN_SINGLE:
	case KM_KIND_RING_DOUBLE:
	case KM_KIND_RING_SINGLE:
	case KM_KIND_COMBINATION:
		of_spanner(o);
		break;
	case KM_KIND_BOX_SPANNER:
	case KM_KIND_PLUG_SPANNER:
		if (o->n_sizes)
			heads_of_tube(o);
		break;
	case KM_KIND_SCREWDRIVER:
	case KM_KIND_SCREWDRIVER_REVERSIBLE:
		of_driver(o, t);
		break;
	case KM_KIND_HEX_KEY:
		or_assume(&o->arm, o->length.um * 35 / 100);
		or_assume(&o->head[0], BAR_WIDTH);
		o->bar_only = o->length.um < 4 * size_um(o, 0);
		break;
	case KM_KIND_TOMMY_BAR:
		or_assume(&o->bar, BAR);
		break;
	case KM_KIND_HOOK_SPANNER:
		of_hook(o);
		break;
	case KM_KIND_ADJUSTABLE:
		of_adjustable(o);
		break;
	default:
		if (!of_another(o, t))
			return;		/* no thickness by habit */
	}
	if (!o->bar_only)
		or_assume(&o->thick, THICK);
}

bool km_outline_of_slot(const struct km_slot *s, struct km_outline *o)
{
	const struct km_want *kind = &s->want[KM_A_TOOL];
	const struct km_want *angle = &s->want[KM_A_ANGLE];
	const struct km_dim none = { -1, KM_KNOWN_NOT };
	struct km_typical t;

	*o = (struct km_outline){ .kind = KM_KIND_UNLISTED };
	if (kind->state == KM_WANT_ANY_OF && kind->n)
		o->kind = kind->any[0].kind->id;
	take_ends(s, o);
	o->head[0] = o->head[1] = recorded(s, KM_A_WIDTH);
	o->length = recorded(s, KM_A_LENGTH);
	o->thick = recorded(s, KM_A_THICKNESS);
	o->bar = recorded(s, KM_A_BAR);
	o->hole = recorded(s, KM_A_HOLE);
	o->blade = recorded(s, KM_A_BLADE);
	o->jaw = recorded(s, KM_A_JAW);
	o->hook = recorded(s, KM_A_HOOK);
	o->depth = recorded(s, KM_A_DEPTH);
	o->shank = o->arm = o->wall = o->tip = o->angle = none;
	if (angle->state == KM_WANT_ANY_OF && angle->n &&
	    angle->any[0].span.nm <= 9000)	/* hundredths of a degree */
		o->angle = (struct km_dim){ angle->any[0].span.nm * 10,
					    KM_KNOWN_RECORDED };
	t = km_typical_of(o->kind, o->size, o->n_sizes, o->length.um);
	fill(o, &t);
	return o->length.known != KM_KNOWN_NOT && o->length.um < LONGEST &&
	       o->length.um > KM_UM(5);
}

/* ------------------------------------------------------------------ */
/* In words                                                            */

static void add_dim(struct km_buf *b, const char *what, struct km_dim d,
		    const char *after)
{
	static const char *const how[] = {
		[KM_KNOWN_ASSUMED] = " (assumed)",
		[KM_KNOWN_TYPICAL] = " (typical)", [KM_KNOWN_RECORDED] = "",
	};

	if (d.known == KM_KNOWN_NOT)
		return;
	km_buf_printf(b, "%s%s ", b->len ? "; " : "", what);
	km_buf_mm(b, d.um * 1000, 1);
	km_buf_printf(b, " %s%s", after, how[d.known]);
}

void km_outline_words(struct km_buf *b, const struct km_outline *o)
{
	bool two = o->n_sizes > 1 && o->head[0].um != o->head[1].um;

	add_dim(b, "length", o->length, "mm");
	if (o->bar_only) {
		bool wide = o->head[0].known == KM_KNOWN_RECORDED;

		add_dim(b, "thickness", o->thick, "mm");
		if (wide)
			add_dim(b, "width", o->head[0], "mm");
		km_buf_printf(b, "; shape not drawn: a bar of that length%s",
			      wide ? " and width" : "");
		return;
	}
	add_dim(b, two ? "left head" : "width", o->head[0], "mm");
	if (two)
		add_dim(b, "right head", o->head[1], "mm");
	add_dim(b, "bar", o->bar, "mm");
	add_dim(b, "hole", o->hole, "mm");
	add_dim(b, "blade", o->blade, "mm");
	add_dim(b, "jaw", o->jaw, "mm");
	add_dim(b, "short arm", o->arm, "mm");
	add_dim(b, "hook", o->hook, "mm");
	add_dim(b, "depth", o->depth, "mm");
	add_dim(b, "jaw angle", o->angle, "degrees");
	if (o->kind != KM_KIND_HEX_KEY && o->kind != KM_KIND_TOMMY_BAR &&
	    o->kind != KM_KIND_BOX_SPANNER && o->kind != KM_KIND_PLUG_SPANNER &&
	    o->kind != KM_KIND_SCREWDRIVER &&
	    o->kind != KM_KIND_SCREWDRIVER_REVERSIBLE)
		add_dim(b, "thickness", o->thick, "mm");
}
