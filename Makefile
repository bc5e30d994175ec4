PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin

.PHONY: setup demo test lint bench docs clean

setup: $(VENV)/.ready

demo: $(VENV)/.ready
	$(BIN)/coldsoak plan examples/demo

test: lint
	$(BIN)/pytest -n auto

lint: $(VENV)/.ready-dev
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: $(VENV)/.ready-dev
	$(BIN)/python benchmarks/run.py

docs: $(VENV)/.ready-dev
	$(BIN)/python tools/write_checks.py
	$(BIN)/python tools/write_picture.py

clean:
	rm -rf $(VENV)

$(BIN)/python:
	$(PYTHON) -m venv $(VENV)

$(VENV)/.ready: $(BIN)/python requirements.lock pyproject.toml
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -r requirements.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --no-deps --no-build-isolation -e .
	touch $@

$(VENV)/.ready-dev: $(VENV)/.ready requirements-dev.lock
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -r requirements-dev.lock
	touch $@
