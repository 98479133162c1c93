# SPDX-License-Identifier: MIT
# kitmuster - build, test, install.  `make help` lists the targets.

VERSION  = 0.1.0
prefix   = /usr/local
exec_prefix = $(prefix)
bindir   = $(exec_prefix)/bin
libdir   = $(exec_prefix)/lib
includedir = $(prefix)/include
datarootdir = $(prefix)/share
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
STD = -std=c17 -ffp-contract=off -ffile-prefix-map=$(CURDIR)=.
CPP = -Isrc -Iinclude -I. -DKM_VERSION='"$(VERSION)"' -D_POSIX_C_SOURCE=200809L
ALL_CFLAGS = $(STD) $(WARN) $(WERROR) $(SAN) -MMD -MP $(CPP) $(CPPFLAGS) $(CFLAGS)
LIBS = -lyaml -lm

LIB_SRC  = $(sort $(filter-out src/cli/%,$(wildcard src/*/*.c)))
CLI_SRC  = $(sort $(wildcard src/cli/*.c))
HDRS     = $(sort $(wildcard include/kitmuster/*.h src/*/*.h))
LIB_OBJ  = $(LIB_SRC:%.c=$(BUILD)/%.o)
CLI_OBJ  = $(CLI_SRC:%.c=$(BUILD)/%.o)
LIB      = $(BUILD)/libkitmuster.a
TOOL     = $(BUILD)/kitmuster

all: $(TOOL) ## the tool

$(TOOL): $(CLI_OBJ) $(LIB)
	$(CC) $(SAN) $(LDFLAGS) -o $@ $(CLI_OBJ) $(LIB) $(LIBS)

$(LIB): $(LIB_OBJ)
	@rm -f $@
	$(AR) rcs $@ $(LIB_OBJ)

$(BUILD)/%.o: %.c
	@mkdir -p $(@D)
	$(CC) $(ALL_CFLAGS) -c -o $@ $<

UNIT_SRC = $(sort $(wildcard tests/unit/*.c tests/standards/*.c))
UNIT_BIN = $(UNIT_SRC:%.c=$(BUILD)/%)

$(BUILD)/tests/%: $(BUILD)/tests/%.o $(LIB)
	$(CC) $(SAN) $(LDFLAGS) -o $@ $< $(LIB) -lcmocka $(LIBS)

lib: $(LIB) ## the library archive

unit: $(UNIT_BIN) ## unit and standards tests
	@fail=0; for t in $(UNIT_BIN); do $$t >$$t.log 2>&1 \
	  || { cat $$t.log; fail=1; }; done; exit $$fail

clean: ## remove what was built
	rm -rf build

help: ## this list
	@grep -hE '^[a-z-]+:.*## ' $(MAKEFILE_LIST) | sed 's/:.*## /\t/' | sort

-include $(LIB_OBJ:.o=.d) $(CLI_OBJ:.o=.d) $(UNIT_BIN:=.d)
.PHONY: all lib unit clean help
.SECONDARY:
