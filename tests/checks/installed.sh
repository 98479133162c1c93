#!/bin/sh
# SPDX-License-Identifier: MIT
# installed.sh DESTDIR BINDIR LIBDIR INCLUDEDIR VERSION - does what was
# installed run, and can a program be built against it?
set -e
dest=$1 bin=$2 lib=$3 include=$4 version=$5

first=$("$dest$bin/kitmuster" --version | head -n 1)
[ "$first" = "kitmuster $version" ] || { echo "says '$first'"; exit 1; }

dir=$(mktemp -d)
trap 'rm -rf "$dir"' EXIT
cat >"$dir/try.c" <<'C'
#include <stdio.h>
#include <kitmuster/load.h>
#include <kitmuster/report.h>

int main(void)
{
	struct km_diags *d = km_diags_new(NULL);

	puts(d ? km_sheet_info(KM_SHEET_SUMMARY)->word : "no memory");
	km_diags_free(d);
	return 0;
}
C
${CC:-cc} -std=c17 -Wall -Werror -I"$dest$include" -o "$dir/try" "$dir/try.c" \
    -L"$dest$lib" -lkitmuster -lyaml -lm
[ "$("$dir/try")" = summary ]
if command -v pkg-config >/dev/null 2>&1; then
	got=$(PKG_CONFIG_PATH=$dest$lib/pkgconfig pkg-config --modversion kitmuster)
	[ "$got" = "$version" ] || { echo "pkg-config says '$got'"; exit 1; }
fi
echo "installcheck: the tool runs, a program builds"
