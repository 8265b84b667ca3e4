# One word per job. Everything runs from .venv, which `setup` builds from the lock files.
PY := .venv/bin/python
PYTEST := $(PY) -m pytest -n 2
# `make ... NO_SKIPS=1` makes every skipped test a failure
STRICT := $(if $(NO_SKIPS),--no-skips)
# `make ... LEAVE_OUT=published` leaves tests with that mark out
LEFT_OUT := $(if $(LEAVE_OUT), and not $(LEAVE_OUT))

.PHONY: help setup setup-dev run demo test test-production deep browser screens lint lock

help:
	@echo "make run              set up, load the demo and serve it (PORT=8000)"
	@echo "make demo             load the demo into the database, without serving it"
	@echo "make test             every test on the embedded default"
	@echo "make test-production  every test on PostgreSQL, Redis and a real worker"
	@echo "make deep             crashes, races and full disks in full counts, on both (an hour)"
	@echo "make browser          the tests in Chromium, each page in every width by day and by night"
	@echo "make bench            speed and memory: prints every figure and judges it"
	@echo "make lint             style, types, import contracts, size limits"
	@echo "make screens          a picture of every page into docs/screens"
	@echo "make setup            build .venv only"

setup:
	@config/bin/setup run

setup-dev:
	@config/bin/setup dev

run: setup
	@exec $(PY) manage.py run

demo: setup
	@$(PY) manage.py migrate --verbosity 0
	@$(PY) manage.py demo load

# tests marked `production` need its servers; `test-production` runs them with all the others
test: setup-dev
	$(PYTEST) -m "not production and not deep$(LEFT_OUT)" $(STRICT)

# `test` looks at each page wide by day and narrow by night; this, in every width by day and by night
browser: setup-dev
	$(PYTEST) tests/browser --every-view $(STRICT)

test-production: setup-dev
	$(PY) config/bin/test_production.py -n 2 -m "not embedded and not deep$(LEFT_OUT)" $(STRICT)

# the full counts of what `test` tries a few times; one after the other, because they fill the machine
deep: setup-dev
	$(PY) -m pytest tests/deep -m "deep and not production" $(STRICT)
	$(PY) config/bin/test_production.py tests/deep -m "deep and not embedded" $(STRICT)

# a picture of every page and document into docs/screens, for those who look before they merge
screens: setup-dev
	$(PY) config/bin/screens.py

bench: setup
	@$(PY) manage.py bench

# needs uv, which nothing else here does
lock:
	uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-header --no-annotate \
		pyproject.toml --output-file requirements.lock
	uv pip compile --quiet --universal --python-version 3.11 --generate-hashes --no-header --no-annotate \
		pyproject.toml --group dev --constraints requirements.lock --output-file requirements-dev.lock

lint: setup-dev
	@config/bin/lint
