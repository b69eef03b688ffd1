# One runner, few verbs. Everything lives in .venv; nothing outside the folder is touched but apt's Chromium.
PYTHON ?= python3
BIN := .venv/bin
.DEFAULT_GOAL := help

.PHONY: help demo test check docs golden bench long clean

help:
	@echo "make demo    make .venv, install, draw the sample job, say where the files are and what was proved"
	@echo "make test    make .venv, install what the tests need, run them"
	@echo "make check   lint, strict types, layers, docs tests, on top of make test's installation"
	@echo "make docs    regenerate docs/reference and the pictures"
	@echo "make golden  record the golden drawings anew (look at the diff before you commit it)"
	@echo "make bench   measure speed and memory, as ratios within one run"
	@echo "make long    the laws with many more examples, every style at 200 random sizes"

.venv/demo: pyproject.toml
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e .
	@touch $@

.venv/test: pyproject.toml
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[test]'
	@touch .venv/demo $@

.venv/check: pyproject.toml
	$(PYTHON) -m venv .venv
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[test,check]'
	@touch .venv/demo .venv/test $@

.venv/chromium:
	@mkdir -p .venv
	@command -v chromium >/dev/null || { apt-get update -qq && apt-get install -y -qq chromium >/dev/null; } \
		|| { echo "the browser tests need Debian's package chromium; install it and run again"; exit 1; }
	@touch $@

demo: .venv/demo
	@$(BIN)/python -m dieline.demo

test: .venv/test .venv/chromium
	$(BIN)/python -m pytest -n 2

check: .venv/check .venv/chromium
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/mypy --config-file tests/mypy.ini tests benchmarks docs/make.py hatch_build.py
	$(BIN)/lint-imports
	$(BIN)/python hatch_build.py check
	$(BIN)/python -m pytest -n 2 tests/docs

docs: .venv/test
	$(BIN)/python docs/make.py

golden: .venv/test
	$(BIN)/python -m pytest tests/golden --record

bench: .venv/test
	$(BIN)/python benchmarks/run.py
	$(BIN)/python benchmarks/catalogue.py
	$(BIN)/python benchmarks/stack.py
	$(BIN)/python benchmarks/preview.py

long: .venv/test
	HYPOTHESIS_PROFILE=long DIELINE_SIZES=200 $(BIN)/python -m pytest -n 2 tests/property tests/styles/test_catalogue.py

clean:
	rm -rf .venv out .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
