#!/bin/sh
# SPDX-License-Identifier: MIT
# each_py.sh NAME PYTHON TOOL SCRIPT... - run test scripts on the tool, with
# the FLAGS of the environment; none at all is a failure.
name=$1 python=$2 tool=$3
shift 3
failed=0
for t; do
	# shellcheck disable=SC2086
	"$python" "$t" "$tool" ${FLAGS:-} || { failed=1; echo "$name: $t failed"; }
done
[ $# -gt 0 ] && [ $failed -eq 0 ]
