/* SPDX-License-Identifier: MIT */
#include "cli/input.h"

#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/arena.h"

static bool is_stdin(const char *path)
{
	return strcmp(path, "-") == 0;
}

static void close_file(struct km_input_file *f)
{
	if (f->fd > STDERR_FILENO)
		close(f->fd);
	f->fd = -1;
}

/* As struct km_input wants it; the caller repeats it after EINTR. */
static ptrdiff_t read_file(void *ctx, void *buf, size_t n)
{
	struct km_input_file *f = ctx;
	ssize_t got;

	if (!f->begun) {
		f->fd = is_stdin(f->path)
				? STDIN_FILENO
				: open(f->path, O_RDONLY | O_CLOEXEC | O_NOCTTY);
		if (f->fd < 0)
			return -1;
		f->begun = true;
	}
	if (f->fd < 0)
		return 0;
	got = read(f->fd, buf, n);
	if (got == 0)
		close_file(f);
	return got;
}

static int compare_files(const void *one, const void *two)
{
	const struct km_input_file *a = *(const struct km_input_file *const *)one;
	const struct km_input_file *b = *(const struct km_input_file *const *)two;

	if (a->exists != b->exists)
		return a->exists ? -1 : 1;
	if (a->exists && a->device != b->device)
		return a->device < b->device ? -1 : 1;
	if (a->exists && a->inode != b->inode)
		return a->inode < b->inode ? -1 : 1;
	return a < b ? -1 : a > b;	/* in the order of the operands */
}

static bool same_file(const struct km_input_file *a,
		      const struct km_input_file *b)
{
	if (is_stdin(a->path) && is_stdin(b->path))
		return true;
	return a->exists && b->exists && a->device == b->device &&
	       a->inode == b->inode;
}

/* [choice] A file read twice would only repeat all its ids. */
static enum km_exit refuse_twice(struct km_input_file *files, uint32_t n,
				 struct km_arena *mem)
{
	struct km_input_file **by = km_arena_alloc(mem, n, sizeof(*by));

	if (!by) {
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	for (uint32_t i = 0; i < n; i++)
		by[i] = &files[i];
	qsort(by, n, sizeof(*by), compare_files);
	for (uint32_t i = 1; i < n; i++) {
		if (!same_file(by[i - 1], by[i]))
			continue;
		if (strcmp(by[i - 1]->path, by[i]->path) == 0)
			km_say("'%s' is given twice", by[i]->path);
		else
			km_say("'%s' and '%s' are the same file",
			       by[i - 1]->path, by[i]->path);
		return KM_EXIT_WRONG;
	}
	return KM_EXIT_GOOD;
}

enum km_exit km_inputs_init(struct km_inputs *in, const char *const *paths,
			    uint32_t n, enum km_input_form form,
			    struct km_arena *mem)
{
	in->n = n;
	in->in = km_arena_alloc(mem, n, sizeof *in->in);
	in->files = km_arena_alloc(mem, n, sizeof *in->files);
	if (!in->in || !in->files) {
		in->n = 0;
		km_say("out of memory");
		return KM_EXIT_TROUBLE;
	}
	for (uint32_t i = 0; i < n; i++) {
		struct km_input_file *f = &in->files[i];
		bool std = is_stdin(paths[i]);
		struct stat st;

		f->path = paths[i];
		f->fd = -1;
		if ((std ? fstat(STDIN_FILENO, &st) : stat(f->path, &st)) == 0) {
			f->exists = true;
			f->device = st.st_dev;
			f->inode = st.st_ino;
		}
		in->in[i].name = std ? "<stdin>" : f->path;
		in->in[i].form = std ? form : KM_INPUT_BY_NAME;
		in->in[i].read = read_file;
		in->in[i].ctx = f;
	}
	return refuse_twice(in->files, n, mem);
}

bool km_inputs_has_stdin(const struct km_inputs *in)
{
	for (uint32_t i = 0; i < in->n; i++)
		if (is_stdin(in->files[i].path))
			return true;
	return false;
}

bool km_inputs_hold(const struct km_inputs *in, dev_t device, ino_t inode)
{
	for (uint32_t i = 0; i < in->n; i++)
		if (in->files[i].exists && in->files[i].device == device &&
		    in->files[i].inode == inode)
			return true;
	return false;
}

void km_inputs_release(struct km_inputs *in)
{
	for (uint32_t i = 0; i < in->n; i++)
		close_file(&in->files[i]);
}
