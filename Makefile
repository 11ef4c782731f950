# Needs make, Python 3.11 or newer and a package index; everything else comes into .venv.

PYTHON ?= python3
BIN := .venv/bin
RUNS := .venv/.runs
READY := .venv/.ready

# A developer's own ledger must never be touched by the demo or the tests.
unexport LOTKIN_DB

.PHONY: setup demo demo-serve test test-postgres lint bench soak mutants libraries docs schema clean lock

# Make the developers' environment in .venv: what running needs, then the tools.
setup: $(READY)

# What running needs and nothing else: the locked packages, then lotkin itself, editable.
$(RUNS): pyproject.toml requirements.lock
	$(PYTHON) -c 'import sys; sys.exit(sys.version_info < (3, 11) and "lotkin needs Python 3.11 or newer; name one with PYTHON=...")'
	test -x $(BIN)/pip || $(PYTHON) -m venv --clear .venv
	$(BIN)/python -m pip install --quiet --no-deps --require-hashes --requirement requirements.lock
	$(BIN)/python -m pip install --quiet --no-deps --no-build-isolation --editable .
	touch $@

$(READY): $(RUNS) requirements-dev.lock
	$(BIN)/python -m pip install --quiet --no-deps --require-hashes --requirement requirements-dev.lock
	touch $@

# Fill the fresh folder demo-works with the demo works.
demo: $(RUNS)
	rm -rf demo-works
	mkdir demo-works
	cd demo-works && ../$(BIN)/lotkin demo

# Serve the demo works in the folder demo-works, with sign-ins printed; Ctrl-C stops it.
demo-serve: $(RUNS)
	$(BIN)/python -m lotkin_service.demo demo-works

# Run every test with branch coverage; one of them installs the built wheel on its own.
test: setup
	sh tests/chromium.sh
	$(BIN)/python -m pytest --numprocesses auto --dist loadfile --cov
	LOTKIN_TEST_STORE=postgresql $(BIN)/python -m pytest --numprocesses auto --dist loadfile tests/uses tests/core/cases tests/core/events tests/core/rules --ignore tests/uses/test_random_histories.py

# Run all that records on a PostgreSQL of the tests' own; slower than `make test`.
test-postgres: setup
	LOTKIN_TEST_STORE=postgresql $(BIN)/python -m pytest --numprocesses auto --dist loadfile tests/core tests/uses tests/scanning tests/store tests/outside tests/seed_data

# Check format, rules, types, directions of imports, lengths of files, what is generated, libraries.
lint: setup
	$(BIN)/ruff format --check
	$(BIN)/ruff check
	$(BIN)/mypy
	$(BIN)/lint-imports
	$(BIN)/python -m pytest -qq tests/layout/test_file_length.py tests/layout/test_circles.py tests/layout/test_rooms.py
	$(BIN)/python docs/generate.py --check
	$(BIN)/python -m schema --check
	$(BIN)/python -m libraries

# Measure the speeds that the documentation promises.
bench: setup
	$(BIN)/python -m benchmarks

# Break things on purpose a thousand times, and write what came of it; takes a quarter of an hour.
soak: setup
	$(BIN)/python -m faults

# Break lines that keep a promise, one at a time, and see that a test notices; takes ten minutes.
mutants: setup
	$(BIN)/python -m mutants

# Compare the locked libraries with published advisories, where these can be reached.
libraries: setup
	$(BIN)/python -m libraries

# Write the generated pages of the documentation anew.
docs: setup
	$(BIN)/python docs/generate.py

# Write anew what follows from the classes of the tables.
schema: setup
	$(BIN)/python -m schema

# Remove the environment and everything that tools and builds left behind.
clean:
	rm -rf .venv .venv-lock build dist demo-works htmlcov
	rm -rf .coverage .coverage.* .hypothesis .import_linter_cache
	rm -rf .mypy_cache .pytest_cache .ruff_cache
	find . -name __pycache__ -type d -prune -exec rm -rf {} +

# Resolve both locks anew from pyproject.toml, for every supported Python at once; running gets the
# versions that developers have tested.
LOCK := .venv-lock/bin/uv pip compile pyproject.toml --extra source --universal --generate-hashes \
	--quiet --no-emit-index-url --no-emit-find-links --no-header

lock: .venv-lock/bin/uv
	$(LOCK) --extra dev --upgrade --output-file requirements-dev.lock
	$(LOCK) --upgrade --constraints requirements-dev.lock --output-file requirements.lock

# The resolver lives apart, so that nobody but who resolves has to install it.
.venv-lock/bin/uv:
	$(PYTHON) -m venv .venv-lock
	.venv-lock/bin/python -m pip install --quiet uv
