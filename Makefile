# girdle: the menu of all work. `make` builds; `make help` lists the rest.
BUILD  ?= build
CC     ?= cc
AR     ?= ar
CFLAGS ?= -O2 -g
Q := $(if $(V),,@)  # V=1 shows whole commands
STRICT  = -std=c11 -ffp-contract=off -fno-math-errno -fvisibility=hidden -fPIC -pthread \
          -Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wstrict-prototypes -Wno-missing-field-initializers
LUA_INCLUDE   = $(shell pkg-config --cflags lua5.4 2>/dev/null || pkg-config --cflags lua-5.4 2>/dev/null || pkg-config --cflags lua54)
LUA_LIBRARY   = $(shell pkg-config --libs lua5.4 2>/dev/null || pkg-config --libs lua-5.4 2>/dev/null || pkg-config --libs lua54)
PAPER_LIBRARY = -lexpat -lhpdf -ljansson
PREFIX ?= /usr/local
VERSION := $(shell sed -n 's/.*return "\([0-9.]*\)";.*/\1/p' lib/base.c)
ABI     := 0

core    := $(patsubst %.c,$(BUILD)/obj/%.o,$(wildcard lib/*.c))
paper   := $(patsubst %.c,$(BUILD)/obj/%.o,$(wildcard lib/paper/*.c))
words   := $(patsubst %.c,$(BUILD)/obj/%.o,$(filter-out bindings/lua/module.c,$(wildcard bindings/lua/*.c)))
module  := $(patsubst %.c,$(BUILD)/obj/%.o,$(wildcard bindings/lua/module.c))
host    := $(patsubst %.c,$(BUILD)/obj/%.o,$(wildcard bindings/host/*.c))
command := $(patsubst %.c,$(BUILD)/obj/%.o,$(wildcard bindings/command/*.c))
common  := $(BUILD)/obj/lib/common.o
statics := $(BUILD)/libgirdle-host.a $(BUILD)/libgirdle-paper.a $(BUILD)/libgirdle.a
shareds := $(BUILD)/libgirdle.so $(BUILD)/libgirdle-paper.so $(BUILD)/libgirdle-host.so
tests   := $(patsubst tests/%.c,$(BUILD)/tests/%,$(wildcard tests/test_*.c tests/reference/test_*.c tests/attack/test_*.c))
specs   := $(wildcard tests/*_spec.lua tests/attack/*_spec.lua)
fuzzers := $(patsubst tests/fuzz/%.c,$(BUILD)/fuzzers/%,$(wildcard tests/fuzz/fuzz_*.c))
benches := $(patsubst tests/%.c,$(BUILD)/tests/%,$(wildcard tests/bench/bench_*.c))
# With `make setup check -j4` nothing is compiled before the packages are there.
first   := $(filter setup,$(MAKECMDGOALS))

.PHONY: all setup setup-check setup-proof setup-peers demo check test programs sanitized fuzzers fuzz bench manual \
        mutants install uninstall dist docs abi abi-record asan tsan valgrind same-bytes endurance coverage proof clean help format
.DELETE_ON_ERROR:

all: $(statics) $(shareds) $(BUILD)/lua/girdle.so $(BUILD)/girdle $(BUILD)/env  ## libraries, Lua module, program

setup:  ## bring the Debian packages that building and running need
	@.ci/setup build

setup-check: | $(first)
	@.ci/setup check || echo "some test packages are missing; the tests that need them are skipped"

setup-proof:  ## bring the Debian packages that proof, docs and coverage need
	@.ci/setup proof

setup-peers:  ## bring what only tests and benchmarks need from npm into build/peers
	@command -v npm >/dev/null || { echo "npm is missing (Debian: apt-get install npm)" >&2; exit 1; }
	@mkdir -p $(BUILD)/peers && cp tests/outside/package*.json tests/outside/.npmrc $(BUILD)/peers && \
	  npm --prefix $(BUILD)/peers ci --ignore-scripts

demo: all  ## work the demo club into build/demo
	@$(BUILD)/girdle club recipes/demo --today 2031-01-06 --out $(BUILD)/demo

check: all setup-check sanitized fuzzers  ## every test, the C tests looking for bad memory and undefined behaviour
	@. $(BUILD)/env && BUILD=$(BUILD) tests/run $(patsubst $(BUILD)/%,$(BUILD)/sanitized/%,$(tests)) $(specs)

test: all setup-check $(tests)  ## the tests as the libraries are shipped: quicker, without fuzzing
	@. $(BUILD)/env && BUILD=$(BUILD) tests/run $(tests) $(filter-out %/fuzz_spec.lua,$(specs))

bench: all $(benches)  ## speed beside peers: figures as they come, then one table (and bench.csv) with the goals
	@BUILD=$(BUILD); export BUILD; lua5.4 tests/bench/table.lua begin; \
	  for b in $(benches); do if [ -x $$b ]; then $$b || exit 1; fi; done; lua5.4 tests/bench/table.lua end

manual: all  ## the recipe manual, the editor's stub and the linter's list anew
	@. $(BUILD)/env && lua5.4 bindings/lua/manual.lua

mutants: all $(tests)  ## change one sign of lib/ at a time: do the tests notice?
	@BUILD=$(BUILD) lua5.4 tests/mutants.lua

install: all  ## headers, libraries, module, recipes, program under PREFIX (and DESTDIR)
	@BUILD='$(BUILD)' PREFIX='$(PREFIX)' DESTDIR='$(DESTDIR)' VERSION=$(VERSION) ABI=$(ABI) bindings/install add

uninstall:  ## remove what install put there, and nothing else
	@BUILD='$(BUILD)' PREFIX='$(PREFIX)' DESTDIR='$(DESTDIR)' VERSION=$(VERSION) ABI=$(ABI) bindings/install remove

dist:  ## a source archive of the last commit; the same commit gives the same bytes
	@mkdir -p $(BUILD)
	git archive --format=tar --prefix=girdle-$(VERSION)/ HEAD | gzip -9n > $(BUILD)/girdle-$(VERSION).tar.gz

docs:  ## the headers as pages, build/docs/html
	@mkdir -p $(BUILD)/docs
	@{ cat .ci/doxygen; echo 'OUTPUT_DIRECTORY = "$(BUILD)/docs"'; } | doxygen -

# ---- proof: slower looks at the same code, each built in a folder of its own
AGAIN = +@$(MAKE) --no-print-directory BUILD=$(BUILD)/$@
CHECKED = $(AGAIN) CFLAGS='-O1 -g -fno-omit-frame-pointer -fno-sanitize-recover=all -fsanitize=$(1)' LDFLAGS=-fsanitize=$(1)
comma = ,
programs: $(tests)
sanitized: | $(first)
	$(call CHECKED,address$(comma)undefined) programs
fuzzers: | $(first)
	+@mkdir -p $(BUILD); if echo 'int main(void) { return 0; }' | clang -x c - -fsanitize=address -o $(BUILD)/clang-links 2>/dev/null; then $(MAKE) --no-print-directory BUILD=$(BUILD)/fuzzing CC=clang \
	  CFLAGS='-O1 -g -fno-sanitize-recover=all -fsanitize=fuzzer-no-link$(comma)address$(comma)undefined' hostile; \
	else echo 'skipped: fuzzing (needs clang and libclang-rt-dev)'; fi
fuzz: fuzzers  ## a million hostile inputs for each reader and verb
	@tests/fuzz/run $(BUILD)/fuzzing -runs=1000000
asan: export GIRDLE_RECIPES ?= $(CURDIR)/recipes
asan:  ## C tests and the program's specs, looking for bad memory and undefined behaviour
	$(call CHECKED,address$(comma)undefined) specs='$(wildcard tests/command_*_spec.lua)' test
tsan:  ## eight threads that share what is immutable, looking for races
	$(call CHECKED,thread) specs= tests='$$(BUILD)/tests/test_threads' test
valgrind: all  ## the Lua words in stock lua5.4 and the program, looking for bad memory and leaks
	@. $(BUILD)/env && BUILD=$(BUILD) .ci/valgrind $(wildcard tests/lua*_spec.lua)
abi:  ## hold the libraries against the recorded ABI
	$(AGAIN) CC=gcc CFLAGS='-O0 -g' shared
	@BUILD=$(BUILD)/$@ .ci/abi compare
abi-record:  ## record the ABI, after a change that is meant
	$(AGAIN) CC=gcc CFLAGS='-O0 -g' shared
	@BUILD=$(BUILD)/$@ .ci/abi record
coverage: export GIRDLE_RECIPES ?= $(CURDIR)/recipes
coverage:  ## which lines and branches the tests reach
	-$(AGAIN) CFLAGS='-O0 -g --coverage -DGIRDLE_COVERAGE' LDFLAGS=--coverage specs='$(filter-out %/install_spec.lua %/command_attack_spec.lua,$(specs))' test
	@gcovr --root . --filter lib/ --filter bindings/ $(BUILD)/$@ -o $(BUILD)/$@/lines.txt; cat $(BUILD)/$@/lines.txt
	@gcovr --root . --filter lib/ --filter bindings/ --branches $(BUILD)/$@ -o $(BUILD)/$@/branches.txt
	@for room in lib bindings; do echo "$$room:"; \
	  gcovr --root . --filter $$room/ $(BUILD)/$@ --print-summary -o /dev/null | grep -v functions; done
	@echo 'guards that only a fault of our own could reach, left out above:'; grep -rn 'GIRDLE_NEVER(' lib bindings | grep -v '#define' || echo none
same-bytes:  ## the recipes' placements from several compilers, levels and processors
	@tests/old/same_bytes $(BUILD)/$@
endurance: all  ## a million jobs, one in a hundred hostile, through the stream
	@BUILD=$(BUILD) lua5.4 tests/endurance.lua
proof: asan tsan abi docs valgrind same-bytes endurance  ## all of that, and every test with more random cases
	@GIRDLE_PROOF=1 $(MAKE) test

format:
	clang-format -i $$(git ls-files '*.c' '*.h')

clean:  ## remove what was built
	rm -rf $(BUILD)

help:
	@sed -n 's/^\([a-z-]*\):.*## /\1	/p' Makefile | expand -t 14

# ---- libraries, module, program
shared: $(shareds)
$(BUILD)/libgirdle.a: $(core)
$(BUILD)/libgirdle-paper.a: $(paper)
$(BUILD)/libgirdle-host.a: $(host) $(words)
$(statics):
	@mkdir -p $(@D); rm -f $@; echo '  archive $(@F)'
	$(Q)$(AR) rcs $@ $^

# A shared library shows what lib/girdle.map lets through and carries its soname.
SHARED = $(CC) -shared $(LDFLAGS) -Wl,--version-script=lib/girdle.map -Wl,-soname,$(@F).$(ABI) -Wl,-z,defs
$(BUILD)/libgirdle.so: $(core) lib/girdle.map
	@echo '  share   $(@F)'
	$(Q)$(SHARED) -o $@ $(core) -lm
	@ln -sf $(@F) $@.$(ABI)
$(BUILD)/libgirdle-paper.so: $(paper) $(common) $(BUILD)/libgirdle.so
	@echo '  share   $(@F)'
	$(Q)$(SHARED) -o $@ $(paper) $(common) -L$(BUILD) -lgirdle $(PAPER_LIBRARY) -lm
	@ln -sf $(@F) $@.$(ABI)
$(BUILD)/libgirdle-host.so: $(host) $(words) $(common) $(BUILD)/libgirdle.so
	@echo '  share   $(@F)'
	$(Q)$(SHARED) -o $@ $(host) $(words) $(common) -L$(BUILD) -lgirdle $(LUA_LIBRARY) -lm
	@ln -sf $(@F) $@.$(ABI)
$(BUILD)/lua/girdle.so: $(words) $(module) $(core) bindings/lua/module.map
	@mkdir -p $(@D)
	@echo '  share   lua/$(@F)'
	$(Q)$(CC) -shared $(LDFLAGS) -Wl,--version-script=bindings/lua/module.map -o $@ $(words) $(module) $(core) -lm

$(BUILD)/girdle: $(command) $(statics)
	@echo '  link    $(@F)'
	$(Q)$(CC) $(LDFLAGS) -o $@ $(command) $(statics) $(LUA_LIBRARY) $(PAPER_LIBRARY) -lm

$(BUILD)/env: Makefile
	@mkdir -p $(BUILD)
	@printf 'LUA_CPATH_5_4="%s/?.so;$${LUA_CPATH_5_4:-$${LUA_CPATH:-;}}"\nexport LUA_CPATH_5_4\n' '$(abspath $(BUILD))/lua' > $@

# ---- objects and tests
$(BUILD)/obj/bindings/%.o: STRICT += -D_POSIX_C_SOURCE=200809L $(LUA_INCLUDE)
$(BUILD)/obj/%.o: %.c Makefile | $(first)
	@mkdir -p $(@D); echo '  compile $<'
	$(Q)$(CC) $(STRICT) $(CPPFLAGS) $(CFLAGS) -Iinclude -Ilib -MMD -MP -c -o $@ $<
# A test may need more than the product does: a first line "/* needs: PACKAGE -lLIBRARY ... */". Where that cannot be
# linked, the test is left out and named.
$(BUILD)/tests/%: tests/%.c $(statics) | setup-check
	@mkdir -p $(@D); rm -f $@.skipped; \
	needs="$$(sed -n '1,6s|^/\* needs: *\(.*[^ ]\) *\*/$$|\1|p' $<)"; \
	libraries="-lcmocka $$(printf '%s\n' $$needs | grep ^- | tr '\n' ' ')"; \
	if echo 'int main(void) { return 0; }' | $(CC) -x c - -o $@ $$libraries 2>/dev/null; then echo '  test    $<'; \
	  $(CC) $(STRICT) -D_POSIX_C_SOURCE=200809L $(CPPFLAGS) $(CFLAGS) $(LUA_INCLUDE) -Iinclude -Ilib -Itests -MMD -MP \
	    -o $@ $< $(LDFLAGS) $(statics) $(LUA_LIBRARY) $(PAPER_LIBRARY) $$libraries -lm; \
	else echo "skipped: $< (needs libcmocka-dev $$needs)" | tee $@.skipped; fi
hostile: $(fuzzers)
$(BUILD)/fuzzers/%: tests/fuzz/%.c tests/fuzz/fuzz.h $(statics)
	@mkdir -p $(@D); echo '  fuzzer  $<'
	$(Q)$(CC) $(STRICT) -D_POSIX_C_SOURCE=200809L $(CPPFLAGS) $(CFLAGS) -fsanitize=fuzzer $(LUA_INCLUDE) -Iinclude -Ilib \
	  -o $@ $< $(LDFLAGS) $(statics) $(LUA_LIBRARY) $(PAPER_LIBRARY) -lm

-include $(patsubst %.o,%.d,$(core) $(paper) $(words) $(module) $(host) $(command)) $(addsuffix .d,$(tests) $(benches))
