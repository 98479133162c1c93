/* SPDX-License-Identifier: MIT */
/*
 * schema, start - what files may hold, and files to begin with.
 */
#include "cli/cmds.h"
#include "kitmuster/schema.h"

static bool add(void *buf, const char *text, size_t n)
{
	km_buf_add(buf, text, n);
	return !km_buf_failed(buf);
}

/* The whole text at once, so that a mistake writes nothing. */
static enum km_exit print(struct km_cli *c, enum km_status st,
			  const struct km_buf *text)
{
	struct km_output out;
	enum km_exit e;

	if (st != KM_OK)
		return km_cli_exit(st == KM_EIO ? KM_ENOMEM : st, NULL);
	e = km_output_open(&out, c->args.value[KM_OPT_OUTPUT], NULL, c->mem);
	if (e != KM_EXIT_GOOD)
		return e;
	km_output_write(&out, text->text, text->len);
	return km_output_close(&out);
}

/* The first operand, one of what name() lists; false after saying so. */
static bool choose_record(struct km_cli *c, const char *(*name)(size_t i),
			  const char **record)
{
	enum { MOST = 64 };
	const char *words[MOST];
	uint32_t n = 0, which;

	if (c->n_operands > 1) {
		km_say("one record a run");
		return false;
	}
	while (n < MOST && name(n)) {
		words[n] = name(n);
		n++;
	}
	if (!km_choose(c, "record", c->operands[0], words, n, &which))
		return false;
	*record = words[which];
	return true;
}

enum km_exit km_cmd_schema(struct km_cli *c)
{
	static const char *const forms[] = { "json", "markdown", "mdoc" };
	const char *format = c->args.value[KM_OPT_FORMAT];
	const char *record = NULL;
	uint32_t form = KM_SCHEMA_JSON;
	struct km_buf b;
	struct km_sink to = { add, &b };
	enum km_status st;

	if (format && !km_choose(c, "format of a schema", format, forms, 3,
				 &form))
		return KM_EXIT_WRONG;
	if (c->n_operands == 1)
		record = c->operands[0];
	km_buf_init(&b, c->mem);
	st = km_schema(record, (enum km_schema_form)form, &to);
	if ((st == KM_EINPUT || c->n_operands > 1) &&
	    !choose_record(c, km_schema_record, &record))
		return KM_EXIT_WRONG;
	return print(c, st, &b);
}

enum km_exit km_cmd_start(struct km_cli *c)
{
	const char *record;
	struct km_buf b;
	struct km_sink to = { add, &b };

	if (!choose_record(c, km_starter_record, &record))
		return KM_EXIT_WRONG;
	km_buf_init(&b, c->mem);
	return print(c, km_starter(record, &to), &b);
}
