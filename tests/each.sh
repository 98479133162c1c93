#!/bin/sh
# SPDX-License-Identifier: MIT
# each.sh NAME PROGRAM... - run test programs, show the log of those that
# fail, count.  UNDER="valgrind ..." runs them under something.
name=$1
shift
passed=0 failed=0
for t; do
	case $t in /*) ;; *) t=./$t ;; esac
	if ${UNDER:-} "$t" >"$t.log" 2>&1; then
		passed=$((passed + 1))
	else
		status=$?
		failed=$((failed + 1))
		cat "$t.log"
		echo "$name: $t: exit $status"
	fi
done
echo "$name: $passed programs passed, $failed failed"
[ $failed -eq 0 ] && [ $passed -gt 0 ]
