/* SPDX-License-Identifier: MIT */
/*
 * replay - run a fuzz target over files, without a fuzzer.
 *
 * A target answers 0 or does not come back; no file at all is a failure.
 */
#include <stdio.h>

#include "fuzz.h"

#define MOST 65536

static int replay(const char *path)
{
	static uint8_t data[MOST];
	FILE *f = fopen(path, "rb");
	size_t n;

	if (!f) {
		perror(path);
		return 1;
	}
	n = fread(data, 1, sizeof data, f);
	fclose(f);
	return LLVMFuzzerTestOneInput(data, n);
}

int main(int argc, char **argv)
{
	for (int i = 1; i < argc; i++)
		if (replay(argv[i]) != 0)
			return 1;
	printf("replay: %s: %d inputs\n", argv[0], argc - 1);
	return argc < 2;
}
