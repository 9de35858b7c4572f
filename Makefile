# One door. `make run` shows the tool at work, `make test` proves it.
PYTHON ?= python3
unexport PYTHONDONTWRITEBYTECODE
VENV := .venv
BIN := $(VENV)/$(if $(filter Windows_NT,$(OS)),Scripts,bin)
PORT ?= 8620
DATA ?= data

.PHONY: run test bench check setup lock reference clean
setup: $(VENV)/run.stamp

run: $(VENV)/run.stamp
	@$(BIN)/witnessmark serve --port $(PORT) --data $(DATA) --demo

test: $(VENV)/test.stamp
	@$(BIN)/python tools/machine.py
	@$(BIN)/python -m pytest -n 2 --dist loadfile --no-loadscope-reorder

check: $(VENV)/test.stamp
	$(BIN)/ruff check src tests benchmarks tools
	$(BIN)/mypy
	$(BIN)/lint-imports

bench: $(VENV)/test.stamp
	@$(BIN)/python -m benchmarks

reference: $(VENV)/test.stamp
	$(BIN)/python tools/reference.py

$(BIN)/python:
	@$(PYTHON) -m venv $(VENV) || { echo "python3 -m venv did not work: on Debian install python3-venv, then run make again" >&2; exit 1; }

$(BIN)/uv: requirements/uv.txt | $(BIN)/python
	@$(BIN)/python -m pip install -q --disable-pip-version-check --require-hashes -r $< && touch $@

$(VENV)/run.stamp: requirements/run.txt pyproject.toml | $(BIN)/uv
	@$(BIN)/uv pip install -q -p $(BIN)/python --require-hashes -r requirements/run.txt
	@$(BIN)/uv pip install -q -p $(BIN)/python --no-deps --no-build-isolation -e . && touch $@

$(VENV)/test.stamp: requirements/test.txt $(VENV)/run.stamp
	@$(BIN)/uv pip install -q -p $(BIN)/python --require-hashes -r $< && touch $@

LOCK := $(BIN)/uv pip compile -q --universal --python-version 3.11 --generate-hashes --no-emit-index-url --no-header --no-annotate
lock: | $(BIN)/python
	@test -x $(BIN)/uv || $(BIN)/python -m pip install -q uv
	echo uv | $(LOCK) - -o requirements/uv.txt
	$(LOCK) --group build pyproject.toml -o requirements/run.txt
	$(LOCK) --group build --group dev pyproject.toml -c requirements/run.txt -o requirements/test.txt

clean:
	rm -rf $(VENV) .mypy_cache .ruff_cache .hypothesis
