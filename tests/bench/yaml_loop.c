/* SPDX-License-Identifier: MIT */
/*
 * yaml_loop - the least that reading YAML can cost: libyaml's event loop over
 * the files, every event thrown away.  What the tool does is measured as a
 * multiple of it.
 */
#include <stdio.h>
#include <yaml.h>

static int loop(FILE *f)
{
	yaml_parser_t parser;
	yaml_event_t event;
	int type = YAML_NO_EVENT;

	if (!yaml_parser_initialize(&parser))
		return 1;
	yaml_parser_set_input_file(&parser, f);
	while (type != YAML_STREAM_END_EVENT) {
		if (!yaml_parser_parse(&parser, &event)) {
			yaml_parser_delete(&parser);
			return 1;
		}
		type = (int)event.type;
		yaml_event_delete(&event);
	}
	yaml_parser_delete(&parser);
	return 0;
}

int main(int argc, char **argv)
{
	int bad = argc < 2;

	for (int i = 1; i < argc && !bad; i++) {
		FILE *f = fopen(argv[i], "rb");

		if (!f) {
			perror(argv[i]);
			return 3;
		}
		bad = loop(f);
		fclose(f);
	}
	return bad;
}
