# The only command file of this project. `make help` lists what it can do.
PYTHON ?= python3
UV ?= uv
VENV := .venv
BIN := $(VENV)/bin
PIP := $(BIN)/python -m pip --disable-pip-version-check
INSTALL := $(PIP) install --quiet --require-hashes
WITH_SERVICES := $(BIN)/python tools/with_services.py
SERVE ?=
PYTEST ?=

.DEFAULT_GOAL := help
.PHONY: help setup setup-dev demo serve test check bench lock changelog clean

help:  ## this list
	@awk -F ':.*## ' '/^[a-z-]+:.*## / {printf "  make %-11s %s\n", $$1, $$2}' Makefile

# --- set-up: each stamp stands for one finished step and is made again when its input changes
$(VENV)/.made:
	@$(PYTHON) tools/make_venv.py $(VENV)
	@touch $@

$(VENV)/.runtime: $(VENV)/.made requirements.lock requirements-build.lock pyproject.toml
	@echo "Installing what wholefilm needs (about a minute the first time) ..."
	@$(INSTALL) -r requirements.lock
	@$(INSTALL) -r requirements-build.lock
	@$(PIP) install --quiet --no-deps --no-build-isolation --editable .
	@touch $@

$(VENV)/.dev: $(VENV)/.runtime requirements-dev.lock
	@echo "Installing the tools for tests and checks ..."
	@$(INSTALL) -r requirements-dev.lock
	@touch $@

setup: $(VENV)/.runtime  ## install the program into .venv (done by the others when needed)

setup-dev: $(VENV)/.dev  ## the same with the tools for tests and checks

# --- use
demo: setup  ## set up, then make the demo jobs and show what they say
	@$(BIN)/wholefilm demo

serve: setup  ## the demo jobs as pages on 127.0.0.1 (SERVE="--port 8001" for another port)
	@$(BIN)/wholefilm demo >/dev/null
	@$(BIN)/wholefilm serve --host 127.0.0.1 --database out/demo/demo.db $(SERVE)

# --- work on it
test: setup-dev  ## all tests, with a PostgreSQL and a Chromium of their own (PYTEST="-k word" to choose)
	@$(PYTHON) tools/system_packages.py
	@$(WITH_SERVICES) $(BIN)/python -m pytest -n auto $(PYTEST)

check: setup-dev  ## style, types, floors, file length, install size, documentation
	@$(BIN)/python tools/check.py

bench: setup-dev  ## the time budgets, printed; fails over budget
	@$(PYTHON) tools/system_packages.py
	@$(WITH_SERVICES) $(BIN)/python -m pytest bench -s -p no:xdist

lock:  ## write the lock files again from pyproject.toml (needs uv)
	@command -v $(UV) >/dev/null || { echo "make lock needs uv (pip install uv), or say where it is: make lock UV=/path/to/uv" >&2; exit 1; }
	@UV=$(UV) sh tools/lock.sh

changelog: setup-dev  ## put the fragments of changelog.d into CHANGELOG.md (VERSION=1.2.3 DATE=YYYY-MM-DD)
	@$(BIN)/python tools/changelog.py "$(VERSION)" "$(DATE)"

clean:  ## remove .venv and every cache
	rm -rf $(VENV) .pytest_cache .mypy_cache .ruff_cache .hypothesis .import_linter_cache build dist out
