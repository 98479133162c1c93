#!/bin/sh
# SPDX-License-Identifier: MIT
# pictures.sh TOOL - make docs/outline.png and docs/report.png again from the
# demo machines; `make pictures` runs it.  Wants chromium, and pdftoppm of
# poppler-utils.
set -e
tool=$1
cd "$(dirname "$0")/.."
at=$(mktemp -d)
trap 'rm -rf "$at"' EXIT

sheet() {	# MACHINE SHEET: an html file
	"$tool" audit -q --today 2026-06-01 --sheet "$2" --format html \
		-o "$at/$2.html" demo/"$1".* || [ $? = 1 ]
}
browse() {
	chromium --headless --no-sandbox --disable-gpu --hide-scrollbars \
		--user-data-dir="$at/profile" "$@" >"$at/log" 2>&1
}

sheet boat outline
browse --no-pdf-header-footer --print-to-pdf="$at/outline.pdf" \
	"file://$at/outline.html"
pdftoppm -r 80 -gray -png -singlefile -f 1 -l 1 "$at/outline.pdf" docs/outline
sheet tractor report
browse --window-size=1000,1060 --screenshot="$PWD/docs/report.png" \
	"file://$at/report.html"
