# The commands of the project. `make` alone lists them. Everything is installed into .venv and .cache,
# nothing outside the checkout, except system packages where the tests run as root.

SHELL := bash
.SHELLFLAGS := -eu -o pipefail -c
.DEFAULT_GOAL := help
.DELETE_ON_ERROR:
MAKEFLAGS += --no-print-directory

BIN := .venv/bin
RUN := .venv/ready-run
DEV := .venv/ready-dev
SAY := printf '%s\n' >&2
PROCESSES ?= 2

export NUMBA_CACHE_DIR := $(CURDIR)/.cache/numba
export PIP_DISABLE_PIP_VERSION_CHECK := 1
export PIP_NO_INPUT := 1
export PYTHONUNBUFFERED := 1
unexport PYTHONPATH PYTHONHOME VIRTUAL_ENV

# ---------------------------------------------------------------- what people call

.PHONY: help study serve test test-all test-long coverage test-postgres bench lock units commands messages survey-page catalogue-page pictures tidy clean setup setup-dev check-style

help: ## list the commands
	@sed -n 's/^\([a-z-]*\):.*## \(.*\)/make \1	\2/p' Makefile | expand -t 20

study: $(RUN) ## set up, then study the example site and write its papers to out/
	@$(BIN)/sillwright study examples/ferry-yard.yaml --out out

serve: $(RUN) ## set up, then serve the web application with an invented site; DEMO=1 for invented accounts too
	@exec $(BIN)/sillwright serve $(if $(DEMO),--demo,--example)

test: check-style ## set up, then style, types, import contract and tests
	@$(SAY) "checking: tests"
	@$(BIN)/pytest $(TESTING) -m "not slow"
	@$(SAY) "checking: tests of the web application"
	@$(BIN)/pytest $(WEB_TESTING) -m "not slow"

test-all: check-style ## the same with the slow tests, and the web application's on PostgreSQL
	@$(SAY) "checking: all tests"
	@$(BIN)/pytest $(TESTING)
	@$(SAY) "checking: all tests of the web application"
	@$(BIN)/pytest $(WEB_TESTING)
	@$(MAKE) test-postgres

test-long: $(DEV) ## what the tests compare by the thousand, by the ten thousand
	@$(SAY) "checking: what is compared by the thousand"
	@SILLWRIGHT_LONG=1 $(BIN)/pytest -n $(PROCESSES) -q -m long

coverage: $(DEV) ## the lines and branches of the core that no test runs; takes nearly three times as long
	@$(BIN)/pytest $(TESTING) --cov --cov-branch --cov-report=term-missing:skip-covered

test-postgres: $(DEV) ## the web application's tests on a PostgreSQL that they start themselves
	@$(SAY) "checking: tests on PostgreSQL"
	@$(BIN)/python -m tests.web.on_postgres -n $(PROCESSES) -q

bench: $(DEV) ## run every benchmark in turn
	@ls bench/*.py >/dev/null 2>&1 || $(SAY) "bench: there is no benchmark yet"
	@for file in $$(ls bench/*.py 2>/dev/null || true); do $(SAY) "bench: $$file"; $(BIN)/python "$$file"; done

lock: .cache/uv/bin/uv ## pin requirements/*.in with hashes; UPGRADE=1 takes newer versions
	@for name in run dev; do $(SAY) "locking: requirements/$$name.lock"; \
	  .cache/uv/bin/uv pip compile --quiet --no-strip-extras --generate-hashes --python-version 3.11 $(if $(UPGRADE),--upgrade) \
	    --no-emit-index-url --no-emit-find-links --custom-compile-command "make lock" \
	    --output-file "requirements/$$name.lock" "requirements/$$name.in"; done
	@if grep -nE '://|--(index|extra-index|find-links)' requirements/*.lock; then \
	  $(SAY) "locking: an address got into a lock file; take it out"; exit 1; fi

units: $(DEV) ## write the table of every-day units from the units library
	@$(BIN)/python tools/write_units.py

commands: $(DEV) ## write docs/commands.md from the commands' own help
	@$(BIN)/python tools/write_commands.py

messages: $(DEV) ## write the catalogue of every sentence that a person reads
	@$(BIN)/python tools/write_messages.py

survey-page: $(DEV) ## write docs/survey.md from the declarations of the facts
	@$(BIN)/python tools/write_survey_page.py

catalogue-page: $(DEV) ## write docs/catalogue.md from the models of the catalogue
	@$(BIN)/python tools/write_catalogue_page.py

pictures: $(DEV) ## draw the pictures of the README from the example site's papers
	@tools/write_pictures.sh

tidy: $(DEV) ## format the code and mend what can be mended by machine
	@$(BIN)/ruff format .
	@$(BIN)/ruff check --fix .

clean: ## remove what the commands above made, the papers in out/ too
	@rm -rf .venv .cache out .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
	@rm -f .coverage .coverage.*
	@find src tests tools bench -name __pycache__ -type d -prune -exec rm -rf {} + 2>/dev/null || true

# ---------------------------------------------------------------- set-up

setup: $(RUN) ## only set up what `make study` needs
setup-dev: $(DEV) ## only set up what `make test` needs

TESTING = -n $(PROCESSES) --dist worksteal -q --ignore=tests/web
# Apart: the tests of a file share a server and a browser.
WEB_TESTING = -n $(PROCESSES) --dist loadfile -q tests/web

check-style: $(DEV)
	@sh tools/system_packages.sh
	@$(SAY) "checking: format and style"
	@$(BIN)/ruff format --check --output-format concise . >&2 || { $(SAY) "make tidy puts this right"; exit 1; }
	@$(BIN)/ruff check --quiet --output-format concise . >&2
	@$(SAY) "checking: types"
	@$(BIN)/mypy --no-error-summary
	@$(SAY) "checking: import contract"
	@found=$$($(BIN)/lint-imports 2>&1) || { $(SAY) "$$found"; exit 1; }

# A Python that is new enough and can make a virtual environment.
FIND_PYTHON = for name in $(PYTHON) python3.11 python3; do \
	  command -v "$$name" >/dev/null 2>&1 || continue; \
	  "$$name" -c 'import sys; sys.exit(sys.version_info < (3, 11))' >/dev/null 2>&1 || continue; \
	  python="$$name"; break; done; \
	if [ -z "$${python:-}" ]; then \
	  $(SAY) "setting up: Python 3.11 or later is missing; on Debian: apt-get install python3 python3-venv"; exit 1; fi; \
	if ! "$$python" -c 'import venv, ensurepip' >/dev/null 2>&1; then \
	  $(SAY) "setting up: this Python cannot make a virtual environment; on Debian: apt-get install python3-venv"; exit 1; fi

# An environment that was moved, or whose Python is gone, is made anew.
MAKE_VENV = if ! .venv/bin/python -c 'import pip' >/dev/null 2>&1 \
	  || ! grep -qsF "$(CURDIR)/.venv" .venv/bin/activate; then \
	  $(FIND_PYTHON); $(SAY) "setting up: virtual environment with $$("$$python" --version)"; \
	  rm -rf .venv; "$$python" -m venv .venv; fi

# Reads pip's output: shows how far it is, and of an error what went wrong, never from which address.
define PROGRESS
/^(Collecting|Processing|Requirement already satisfied:) / { n++; name = $$0; sub(/^[^:]*: |^[A-Z][a-z]* /, "", name)
  sub(/ .*/, "", name); sub(/.*\//, "", name); sub(/[;=<>-].*/, "", name); if (n % 10 == 0 || n == total) say(n " of " total ", " name) }
/^Installing collected/ { say("unpacking") }
/^ *ERROR|^ *error|No space left|[Tt]imed out/ { gsub(/[a-z+]+:\/\/[^ ]+/, "(address)"); gsub(/host='[^']*'/, "host"); say($$0) }
function say(text) { print "setting up: " text > "/dev/stderr"; fflush("/dev/stderr") }
endef
export PROGRESS

# $(1): the lock file. Only what stands there, with these hashes, is installed; Python compiles what it imports, not all of it.
INSTALL = $(SAY) "setting up: packages of $(1)"; \
	.venv/bin/python -m pip install --require-hashes --only-binary :all: --no-compile --progress-bar off -r $(1) 2>&1 \
	  | awk -v total="$$(grep -c '^[A-Za-z0-9].*==' $(1))" "$$PROGRESS" \
	  || { $(SAY) "setting up: packages could not be installed; is there a network, and room on the disk?"; exit 1; }

# The project itself, as an editable installation, without a network: its builder comes from dev.lock.
BUILDERS := hatchling editables packaging pathspec pluggy tomlkit trove-classifiers
EDITABLE = mkdir -p .cache; \
	awk -v names=" $(BUILDERS) " '/^[A-Za-z0-9]/ { split($$0, part, "=="); keep = index(names, " " part[1] " ") } keep' \
	  requirements/dev.lock > .cache/builders.lock; \
	$(call INSTALL,.cache/builders.lock); \
	$(SAY) "setting up: sillwright"; \
	.venv/bin/python -m pip install --quiet --no-build-isolation --no-deps --no-index --editable . 2>&1 \
	  | sed -E 's|[a-z+]+://[^ ]+|(address)|g' >&2

# What is compiled on first use is compiled now, so that the first study and the first cut list wait for nothing.
COMPILE = $(SAY) "setting up: compiling, about half a minute"; \
	.venv/bin/python -c 'from sillwright.study.warming import compile_kernels; compile_kernels()' \
	  || $(SAY) "setting up: not compiled; the first use does it"

# A checkout that was copied or moved is set up again.
ifneq ($(shell cat .venv/place 2>/dev/null),$(CURDIR))
.PHONY: $(RUN) $(DEV)
endif

$(RUN): requirements/run.lock pyproject.toml
	@$(MAKE_VENV)
	@$(call INSTALL,requirements/run.lock)
	@$(EDITABLE)
	@$(COMPILE)
	@touch $@ && printf '%s\n' "$(CURDIR)" > .venv/place
	@$(SAY) "setting up: done"

$(DEV): requirements/dev.lock pyproject.toml
	@$(MAKE_VENV)
	@$(call INSTALL,requirements/dev.lock)
	@$(EDITABLE)
	@$(COMPILE)
	@touch $(RUN) $@ && printf '%s\n' "$(CURDIR)" > .venv/place
	@$(SAY) "setting up: done"

.cache/uv/bin/uv:
	@$(FIND_PYTHON); $(SAY) "locking: fetching uv"; "$$python" -m venv .cache/uv
	@.cache/uv/bin/python -m pip install --quiet --quiet uv
