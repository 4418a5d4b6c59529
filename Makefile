# Each target is a line or two that you could type yourself.
# PYTHON chooses the Python (3.11 or newer); PORT, for `make demo`, the port.

PYTHON ?= python3
PORT ?= 8000
BIN = .venv/bin
PIP = $(PYTHON) -m pip --python $(BIN)/python --disable-pip-version-check -q install -c requirements.lock

.PHONY: demo demo-fresh test lint bench
.SILENT:

demo: .venv/with-server
	$(BIN)/stairhold demo --port $(PORT)

demo-fresh: .venv/with-server
	$(BIN)/stairhold demo --port $(PORT) --fresh

# Two at a time, a file by one of them, in the order of tests/conftest.py.
test: .venv/with-dev
	$(BIN)/pytest -n 2 --dist loadfile --no-loadscope-reorder

lint: .venv/with-dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

bench: .venv/with-dev
	$(BIN)/python -m tests.bench

.venv/with-server: pyproject.toml requirements.lock | .venv/bin/python
	echo "Installing into .venv; this takes a minute the first time ..."
	$(PIP) -e .
	touch $@

.venv/with-dev: pyproject.toml requirements.lock | .venv/bin/python
	echo "Installing into .venv, with what the tests need; this takes some minutes the first time ..."
	$(PIP) -e '.[dev]'
	touch $@ .venv/with-server

.venv/bin/python:
	command -v $(PYTHON) >/dev/null || { echo "$(PYTHON) is not on this machine; choose a Python with: make PYTHON=..."; exit 1; }
	$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "Stairhold needs Python 3.11 or newer and this is %d.%d; choose another with: make PYTHON=python3.11" % sys.version_info[:2])'
	test -w . || { echo "This folder cannot be written in ($(CURDIR)); copy it to one that can."; exit 1; }
	# Without pip of its own: Debian keeps what that takes in another package.
	$(PYTHON) -m venv --without-pip .venv
