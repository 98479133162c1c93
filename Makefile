# SPDX-License-Identifier: MIT
# kitmuster - build, test, install.  `make help` lists the targets.

VERSION  = 0.1.0

# Where `make install` puts things; DESTDIR goes in front of all of them.
prefix   = /usr/local
exec_prefix = $(prefix)
bindir   = $(exec_prefix)/bin
libdir   = $(exec_prefix)/lib
includedir = $(prefix)/include
datarootdir = $(prefix)/share
datadir  = $(datarootdir)
mandir   = $(datarootdir)/man
docdir   = $(datarootdir)/doc/kitmuster
INSTALL  = install
INSTALL_PROGRAM = $(INSTALL) -m 755
INSTALL_DATA = $(INSTALL) -m 644

CC      ?= cc
CFLAGS  ?= -O2 -g
VARIANT ?= release
BUILD   ?= build/$(VARIANT)
WARN = -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes \
       -Wmissing-prototypes -Wwrite-strings -Wvla -Wundef
WERROR =
SAN =
# One rounding everywhere, and no trace of the folder it was built in.
STD = -std=c17 -ffp-contract=off -ffile-prefix-map=$(CURDIR)=.
CPP = -Isrc -Iinclude -I. -DKM_VERSION='"$(VERSION)"' -D_POSIX_C_SOURCE=200809L
ALL_CFLAGS = $(STD) $(WARN) $(WERROR) $(SAN) -MMD -MP $(CPP) $(CPPFLAGS) $(CFLAGS)
LIBS = -lyaml -lm
# V=1 shows the commands.
Q = $(if $(V),,@)
say = $(if $(V),@:,@echo)
# SciPy comes with the system's python3.
PYTHON ?= $(firstword $(wildcard /usr/bin/python3) python3)

LIB_SRC  = $(sort $(filter-out src/cli/%,$(wildcard src/*/*.c)))
CLI_SRC  = $(sort $(wildcard src/cli/*.c))
HDRS     = $(sort $(wildcard include/kitmuster/*.h src/*/*.h))
LIB_OBJ  = $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ  = $(CLI_SRC:%.c=$(BUILD)/%.o)
LIB      = $(BUILD)/libkitmuster.a
TOOL     = $(BUILD)/kitmuster

UNIT_SRC   = $(sort $(wildcard tests/unit/*.c tests/standards/*.c))
ORACLE_SRC = $(sort $(wildcard tests/oracle/*.c))
BENCH_SRC  = $(sort $(wildcard tests/bench/*.c))
FUZZ_SRC   = $(sort $(wildcard tests/fuzz/fuzz_*.c))
UNIT_BIN   = $(UNIT_SRC:%.c=$(BUILD)/%)
ORACLE_BIN = $(ORACLE_SRC:%.c=$(BUILD)/%)
BENCH_BIN  = $(BENCH_SRC:%.c=$(BUILD)/%)
REPLAY_BIN = $(FUZZ_SRC:%.c=$(BUILD)/%)
TEST_OBJ   = $(UNIT_BIN:=.o) $(ORACLE_BIN:=.o) $(BENCH_BIN:=.o) \
	     $(REPLAY_BIN:=.o) $(BUILD)/tests/fuzz/replay.o

all: $(TOOL) ## the tool

lib: $(LIB) ## the library archive

$(TOOL): $(CLI_OBJ) $(LIB)
	$(say) "  link     $@"
	$(Q)$(CC) $(SAN) $(LDFLAGS) -o $@ $(CLI_OBJ) $(LIB) $(LIBS)

$(LIB): $(LIB_OBJ)
	@rm -f $@
	$(say) "  archive  $@"
	$(Q)$(AR) rcsD $@ $(LIB_OBJ)

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(say) "  compile  $<"
	$(Q)$(CC) $(ALL_CFLAGS) -c -o $@ $<

$(UNIT_BIN): $(BUILD)/%: $(BUILD)/%.o $(LIB)
	$(say) "  link     $@"
	$(Q)$(CC) $(SAN) $(LDFLAGS) -o $@ $< $(LIB) -lcmocka $(LIBS)

$(ORACLE_BIN) $(BENCH_BIN): $(BUILD)/%: $(BUILD)/%.o $(LIB)
	$(say) "  link     $@"
	$(Q)$(CC) $(SAN) $(LDFLAGS) -o $@ $< $(LIB) $(LIBS)

$(REPLAY_BIN): $(BUILD)/%: $(BUILD)/%.o $(BUILD)/tests/fuzz/replay.o $(LIB)
	$(say) "  link     $@"
	$(Q)$(CC) $(SAN) $(LDFLAGS) -o $@ $< $(BUILD)/tests/fuzz/replay.o $(LIB) $(LIBS)

# ---- a fresh clone -------------------------------------------------------

setup: ## install what a build and its tests need, if it is missing
	@CC='$(CC)' sh .ci/setup

# `make setup test`: nothing is compiled before setup is through, -j or not.
ifneq ($(filter setup,$(MAKECMDGOALS)),)
$(LIB_OBJ) $(CLI_OBJ) $(TEST_OBJ): | setup
endif

demo: $(TOOL) ## audit each demo machine and print its summary
	@sh demo/run $(abspath $(TOOL))

# ---- tests ---------------------------------------------------------------

test: unit bad golden oracle replay ## all tests: a few minutes
	@echo "test: all good"

tests: $(UNIT_BIN) $(ORACLE_BIN) $(BENCH_BIN) $(REPLAY_BIN) ## build all, run nothing

unit: $(UNIT_BIN) ## unit tests, and tests against published standards
	@sh tests/each.sh unit $(UNIT_BIN)

standards: $(filter $(BUILD)/tests/standards/%,$(UNIT_BIN)) ## those alone
	@sh tests/each.sh standards $^

bad: $(TOOL) ## broken inputs, and the command line in bad weather
	@FLAGS='$(if $(SAN),--no-limits)' sh tests/each_py.sh bad $(PYTHON) \
	  $(TOOL) $(sort $(wildcard tests/bad/*.py))

golden: $(TOOL) ## whole runs; the consoles of README and docs
	@$(PYTHON) tests/golden/run.py $(TOOL)
	@$(PYTHON) tests/golden/shuffle.py $(TOOL)

golden-update: $(TOOL) ## rewrite what the runs print; review the difference
	@$(PYTHON) tests/golden/run.py --update $(TOOL)

oracle: $(TOOL) $(ORACLE_BIN) ## second opinions
	@sh tests/each.sh oracle $(ORACLE_BIN)
	@for py in $(sort $(wildcard tests/oracle/*.py)); do \
	   own=$(BUILD)/$${py%.py}_oracle; [ -x $$own ] || own=$(TOOL); \
	   $(PYTHON) $$py $$own; st=$$?; \
	   case $$st in 0|77) ;; *) echo "$$py: exit $$st"; exit 1;; esac; done

replay: $(REPLAY_BIN) ## the fuzz corpus, demo and bad files without the fuzzer
	@[ -n "$(REPLAY_BIN)" ] || { echo "replay: no targets"; exit 1; }
	@for t in $(REPLAY_BIN); do \
	   $$t tests/fuzz/corpus/*/* demo/*.* tests/bad/*.* || exit 1; done

# ---- other ways to build -------------------------------------------------

# build/san beside build/release; beside a BUILD of one's own: BUILD-san
beside = $(if $(filter build/%,$(BUILD)),build/$(1),$(BUILD)-$(1))

san: ## build with AddressSanitizer and UBSan, run the whole suite
	@$(MAKE) --no-print-directory VARIANT=san BUILD=$(call beside,san) \
	  CFLAGS='-O1 -g -fno-omit-frame-pointer' \
	  SAN='-fsanitize=address,undefined -fno-sanitize-recover=all' test

VALGRIND = valgrind -q --leak-check=full --errors-for-leak-kinds=definite \
	   --error-exitcode=99
VALGRIND_SLOW = %/test_assign %/names-stay-home.console
CONSOLES = $(wildcard tests/golden/*.console tests/golden/*/*.console) \
	   README.md DEVELOPERS.md $(wildcard docs/*.md)
valgrind: valgrind-unit valgrind-golden ## unit tests and golden runs under valgrind
valgrind-unit: $(UNIT_BIN)
	@UNDER='$(VALGRIND)' sh tests/each.sh valgrind \
	  $(filter-out $(VALGRIND_SLOW),$(UNIT_BIN))
valgrind-golden: $(TOOL)
	@$(PYTHON) tests/golden/run.py --under '$(VALGRIND)' $(TOOL) \
	  $(filter-out $(VALGRIND_SLOW),$(CONSOLES))

cov: ## line coverage of the suite, file by file
	@$(MAKE) --no-print-directory VARIANT=cov BUILD=$(call beside,cov) \
	  CFLAGS='-O0 -g --coverage' LDFLAGS='--coverage' test
	@$(PYTHON) tests/checks/coverage.py $(call beside,cov)

FUZZ_SECONDS = 60
FUZZ_DIR = $(call beside,fuzz)
fuzz: ## run each fuzz target for FUZZ_SECONDS (needs clang)
	@$(MAKE) --no-print-directory VARIANT=fuzz BUILD=$(FUZZ_DIR) CC=clang \
	  CFLAGS='-O1 -g' SAN='-fsanitize=address,undefined -fsanitize=fuzzer-no-link' \
	  lib $(FUZZ_SRC:%.c=$(FUZZ_DIR)/%.o)
	@for t in $(basename $(notdir $(FUZZ_SRC))); do n=$${t#fuzz_}; \
	  mkdir -p $(FUZZ_DIR)/corpus/$$n && \
	  clang -fsanitize=address,undefined,fuzzer -o $(FUZZ_DIR)/$$t \
	    $(FUZZ_DIR)/tests/fuzz/$$t.o $(FUZZ_DIR)/libkitmuster.a $(LIBS) && \
	  $(FUZZ_DIR)/$$t -max_total_time=$(FUZZ_SECONDS) -max_len=65536 \
	    -timeout=2 -rss_limit_mb=512 -print_final_stats=1 \
	    -artifact_prefix=$(FUZZ_DIR)/ \
	    $(FUZZ_DIR)/corpus/$$n tests/fuzz/corpus/$$n || exit 1; done

bench: $(TOOL) $(BENCH_BIN) ## speed and size as ratios; BENCHMARKS=FOLDER adds published instances
	@$(PYTHON) tests/bench/run.py $(BUILD)
	@[ -z "$(BENCHMARKS)" ] || $(PYTHON) tests/oracle/assign.py \
	  --bench $(BENCHMARKS)/assign $(BUILD)/tests/bench/assign_bench
	@[ -z "$(BENCHMARKS)" ] || $(PYTHON) tests/bench/plan_bench.py \
	  $(BENCHMARKS) $(BUILD)/tests/bench/plan_bench

pictures: $(TOOL) ## make the pictures of the README again (chromium, poppler)
	@sh docs/pictures.sh $(abspath $(TOOL))

# ---- checks of the tree itself -------------------------------------------

CHECKS = layers headers docs-check manual-check diag-check sources-check spdx-check \
	 alloc-check words-check
checks: $(CHECKS) ## all checks of the tree

layers: ## an include may only point where src/LAYERS allows
	@grep -HoE '^#include "[a-z]+/' src/*/*.[ch] | awk -F'[/:"]' ' \
	    FNR == NR { n = split($$0, w, /[: ]+/); for (i = 1; i <= n; i++) \
	                ok[w[1], w[i]] = 1; next } \
	    !ok[$$2, $$5] && $$5 != "kitmuster" && $$5 != "data" { \
	                print $$2 "/" $$3 " includes " $$5; bad = 1 } \
	    END { exit bad || NR == FNR }' src/LAYERS -
	@! grep -n '^#include "' include/kitmuster/*.h | grep -v '"kitmuster/'

headers: $(HDRS:%=$(BUILD)/%.ok) ## every header compiles alone
$(BUILD)/%.h.ok: %.h
	@mkdir -p $(@D)
	@printf '#include "%s"\nextern int km_alone;\n' '$(patsubst include/%,%,$(patsubst src/%,%,$<))' | \
	  $(CC) $(CPP) $(CPPFLAGS) -std=c17 $(WARN) -Werror -MMD -MP -MT $@ \
	  -MF $@.d -fsyntax-only -x c -
	@touch $@

docs-check: $(TOOL) ## options, commands and sheets as the docs tell them
	@$(PYTHON) tests/checks/docs.py $(TOOL)

manual-check: $(TOOL) ## manual pages and completions, as their readers take them
	@$(PYTHON) tests/checks/manual.py $(TOOL)

diag-check: ## message ids: in the list, in the docs, in a test
	@$(PYTHON) tests/checks/diags.py

sources-check: ## every source id is listed, every listed one is used
	@$(PYTHON) tests/checks/sources.py

spdx-check: ## every file names its licence
	@! git ls-files -co --exclude-standard -- '*.[ch]' '*.def' '*.py' '*.sh' \
	  '*.yaml' Makefile .ci/run .ci/setup demo/run | \
	  grep -vE '^tests/(bad|fuzz/corpus)/.*\.yaml$$' | while read -r f; do \
	    [ ! -e "$$f" ] || head -3 "$$f" | grep -q SPDX-License-Identifier \
	    || echo "$$f: no SPDX line"; done | grep .

alloc-check: ## memory comes from the arena, in the whole tool
	@! grep -nE '\b(malloc|calloc|realloc|reallocarray|free|strn?dup|v?asprintf|getline)[[:space:]]*\(' \
	  $(filter-out src/base/arena.c,$(wildcard src/*/*.[ch]))

words-check: ## no loose ends, no path of one machine
	@! git grep -nIE 'TO[D]O|FIX[M]E|\bX{3}[:(]|/wor[k]/|/(ho[m]e|ro[o]t)/[a-z]|/tm[p]/[a-z]'

# Style and suspicion; tools that are not there are skipped.
TIDY = clang-tidy --quiet --warnings-as-errors='*' --checks='-*,bugprone-*,\
clang-analyzer-*,-bugprone-easily-swappable-parameters,\
-bugprone-assignment-in-if-condition,-bugprone-narrowing-conversions,\
-clang-analyzer-security.insecureAPI.DeprecatedOrUnsafeBufferHandling'
lint: cppcheck ## clang-tidy and cppcheck, where present
	@! command -v clang-tidy >/dev/null || \
	  $(TIDY) $(LIB_SRC) $(CLI_SRC) -- $(STD) $(CPP)

cppcheck: ## cppcheck, where present
	@! command -v cppcheck >/dev/null || cppcheck -q --std=c11 --error-exitcode=1 \
	  --enable=warning,portability --inline-suppr $(CPP) src

ci: ## what the project's own checks run
	@.ci/run

# ---- install -------------------------------------------------------------

PC = $(BUILD)/kitmuster.pc
$(PC): Makefile
	@mkdir -p $(@D)
	@printf '%s\n' 'prefix=$(prefix)' 'libdir=$(libdir)' \
	  'includedir=$(includedir)' '' 'Name: kitmuster' \
	  'Description: audit the tool kit of an old machine' \
	  'Version: $(VERSION)' 'Cflags: -I$${includedir}' \
	  'Libs: -L$${libdir} -lkitmuster -lm' 'Requires: yaml-0.1' > $@

# What the tool writes of itself: manual pages, completions.
MANUALS = $(BUILD)/kitmuster.1 $(BUILD)/kitmuster-files.5
SHELLS = bash zsh fish
COMPLETIONS = $(SHELLS:%=$(BUILD)/completion.%)
$(BUILD)/kitmuster.1: $(TOOL)
	$(TOOL) help --format mdoc > $@
$(BUILD)/kitmuster-files.5: $(TOOL)
	$(TOOL) schema --format mdoc > $@
$(COMPLETIONS): $(TOOL)
	$(TOOL) help --format $(@:$(BUILD)/completion.%=%) > $@

BASH_TO = $(datadir)/bash-completion/completions
ZSH_TO = $(datadir)/zsh/site-functions
FISH_TO = $(datadir)/fish/vendor_completions.d

install: $(TOOL) $(LIB) $(PC) $(MANUALS) $(COMPLETIONS) ## into $(DESTDIR)$(prefix)
	$(INSTALL) -d $(DESTDIR)$(bindir) $(DESTDIR)$(libdir)/pkgconfig \
	  $(DESTDIR)$(includedir)/kitmuster $(DESTDIR)$(docdir)
	$(INSTALL_PROGRAM) $(TOOL) $(DESTDIR)$(bindir)/kitmuster
	$(INSTALL_DATA) $(LIB) $(DESTDIR)$(libdir)/libkitmuster.a
	$(INSTALL_DATA) $(PC) $(DESTDIR)$(libdir)/pkgconfig/kitmuster.pc
	$(INSTALL_DATA) $(wildcard include/kitmuster/*.h) $(DESTDIR)$(includedir)/kitmuster
	$(INSTALL_DATA) LICENSE README.md $(wildcard docs/*.md) $(DESTDIR)$(docdir)
	$(INSTALL) -d $(DESTDIR)$(mandir)/man1 $(DESTDIR)$(mandir)/man5 \
	  $(DESTDIR)$(BASH_TO) $(DESTDIR)$(ZSH_TO) $(DESTDIR)$(FISH_TO)
	$(INSTALL_DATA) $(BUILD)/kitmuster.1 $(DESTDIR)$(mandir)/man1
	$(INSTALL_DATA) $(BUILD)/kitmuster-files.5 $(DESTDIR)$(mandir)/man5
	$(INSTALL_DATA) $(BUILD)/completion.bash $(DESTDIR)$(BASH_TO)/kitmuster
	$(INSTALL_DATA) $(BUILD)/completion.zsh $(DESTDIR)$(ZSH_TO)/_kitmuster
	$(INSTALL_DATA) $(BUILD)/completion.fish $(DESTDIR)$(FISH_TO)/kitmuster.fish

uninstall: ## remove what install put there
	rm -f $(DESTDIR)$(bindir)/kitmuster $(DESTDIR)$(libdir)/libkitmuster.a \
	  $(DESTDIR)$(libdir)/pkgconfig/kitmuster.pc \
	  $(DESTDIR)$(mandir)/man1/kitmuster.1 \
	  $(DESTDIR)$(mandir)/man5/kitmuster-files.5 \
	  $(DESTDIR)$(BASH_TO)/kitmuster $(DESTDIR)$(ZSH_TO)/_kitmuster \
	  $(DESTDIR)$(FISH_TO)/kitmuster.fish
	rm -rf $(DESTDIR)$(includedir)/kitmuster $(DESTDIR)$(docdir)

installcheck: ## run the installed tool, build against the installed library
	@CC='$(CC)' sh tests/checks/installed.sh '$(DESTDIR)' '$(bindir)' \
	  '$(libdir)' '$(includedir)' '$(VERSION)'

dist: ## the files of the last commit, as an archive
	@mkdir -p build
	git archive --format=tar --prefix=kitmuster-$(VERSION)/ HEAD | \
	  gzip -n > build/kitmuster-$(VERSION).tar.gz

clean: ## remove what was built
	rm -rf build

help: ## this list
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | sort | \
	  awk -F'\t' '{ printf "%-15s %s\n", $$1, $$2 }'

-include $(LIB_OBJ:.o=.d) $(CLI_OBJ:.o=.d) $(TEST_OBJ:.o=.d) \
	 $(HDRS:%=$(BUILD)/%.ok.d)
.PHONY: all lib setup demo test unit standards bad golden golden-update oracle \
	replay san valgrind valgrind-unit valgrind-golden cov fuzz bench pictures checks $(CHECKS) lint cppcheck tests ci install \
	uninstall installcheck dist clean help
.SECONDARY:
.DELETE_ON_ERROR:
