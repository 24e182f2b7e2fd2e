# Everything runs in .venv, made from the exact versions in constraints.txt.
PYTHON ?= python3
BIN := .venv/bin
export PIP_DISABLE_PIP_VERSION_CHECK := 1

.PHONY: chat test suite check bench audit bench-large clean

chat: .venv/run.stamp
	@$(BIN)/python -m bot chat --demo

test: check suite

# three for two cores: some wait for a network or a clock
suite: .venv/dev.stamp
	$(BIN)/python -m pytest -n 3 --dist loadfile

check: .venv/dev.stamp
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: .venv/dev.stamp
	$(BIN)/python -m tests.bench

bench-large: .venv/dev.stamp
	$(BIN)/python -m tests.bench.large --scale $(or $(SCALE),0.1)

# asks public advisories over the network; 3 says that they could not be asked
audit: .venv/audit.stamp
	$(BIN)/python -m tests.audit

clean:
	rm -rf .venv .pytest_cache .mypy_cache .ruff_cache .hypothesis build

.venv/bin/python:
	@$(PYTHON) -c 'import sys; sys.exit("Burrowbell needs Python 3.11 or later; try make PYTHON=python3.11") if sys.version_info < (3, 11) else None'
	$(PYTHON) -m venv .venv

.venv/run.stamp: .venv/bin/python pyproject.toml constraints.txt
	$(BIN)/pip install -q -c constraints.txt -e .
	@touch $@

.venv/dev.stamp: .venv/bin/python pyproject.toml constraints.txt
	$(BIN)/pip install -q -c constraints.txt -e '.[dev]'
	@touch $@ .venv/run.stamp

.venv/audit.stamp: .venv/dev.stamp
	$(BIN)/pip install -q -c constraints.txt -e '.[audit]'
	@touch $@
