# make test   all that must hold at every change
# make bench  figures against targets; never fails on a clock
# make pictures  the README's screenshots
# make oracle  what the circuit simulator says, written anew
# make long-* the long runs, each with fixed seeds
SHELL := /bin/bash
.SHELLFLAGS := -e -o pipefail -c
.DELETE_ON_ERROR:
export GOTOOLCHAIN = local
export GOFLAGS =
export DEBIAN_FRONTEND = noninteractive

WASM = GOOS=js GOARCH=wasm
NODE = $(shell go env GOROOT)/lib/wasm/go_js_wasm_exec
# The browser tests run by themselves, one after the other.
NATIVE = $$(go list ./... | grep -v '/web/e2e')
FUZZTIME ?= 60s

.PHONY: all deps test format vet native wasm site e2e pictures bench oracle long-fuzz long-oracle long-crash long-race long-second-engine

all: test

deps:
	apt-get update -q
	apt-get install -y -q --no-install-recommends chromium brotli poppler-utils ngspice glpk-utils
	cd web && npm ci --no-audit --no-fund

test: deps format vet native wasm site e2e

format:
	@bad=$$(gofmt -l $$(git ls-files '*.go')); if [ -n "$$bad" ]; then echo "not formatted:"; echo "$$bad"; exit 1; fi

vet:
	go vet ./...
	$(WASM) go vet ./core/... ./wasm/... ./web/e2e/testpage

native:
	go test $(NATIVE)

# The core again, as it runs in the page: under Node. The loader has room for
# little environment, hence the bare one.
wasm:
	node --version
	$(WASM) go test -exec "env -i PATH=$$PATH HOME=$$HOME $(NODE)" ./core/... ./wasm/keyed ./wasm/port

site:
	rm -rf out/site
	go run . site -out out/site
	test -s out/site/app.wasm

e2e:
	chromium --version
	go test -p 1 -count=1 -timeout 900s ./web/e2e

# The pictures of the README, taken anew.
pictures:
	LUGWORTH_PICTURES=$(CURDIR)/docs go test -count=1 -run '^TestPictures$$' ./web/e2e

bench:
	mkdir -p out docs
	go test -run '^$$' -bench . -benchmem $(NATIVE) | tee out/bench.txt
	$(WASM) go test -exec "env -i PATH=$$PATH HOME=$$HOME $(NODE)" -run '^$$' -bench . -benchtime 1x ./core/order | tee -a out/bench.txt
	go test -p 1 -count=1 -timeout 900s -run '^$$' -bench . -benchtime 1x ./web/e2e | tee -a out/bench.txt
	{ echo; echo "## $$(date -u +%F), $$(git rev-parse --short HEAD), $$(nproc) cores"; echo; grep -E '^(figure|Benchmark)' out/bench.txt | sed 's/^/    /'; } >> docs/figures.md

# The runs of the circuit simulator that the tests keep, made anew: after a
# change of an amp's sheet, a tube law or the deck writer. About twenty minutes.
oracle:
	LUGWORTH_ORACLE=write go test -count=1 -timeout 5400s -v -run '^TestOracleWrite' ./core/circuit

# Every fuzz target there is, one after the other. A failing input is kept in
# its package's testdata/fuzz; fix, and commit it with the cure.
long-fuzz:
	@found=0; for p in $$(go list ./...); do \
		list=$$(go test -list '^Fuzz' $$p); \
		for f in $$(echo "$$list" | grep '^Fuzz' || true); do \
			found=1; echo "$$p $$f"; \
			go test -run '^$$' -fuzz "^$$f\$$" -fuzztime $(FUZZTIME) -fuzzminimizetime 20x -parallel 1 $$p; \
		done; \
	done; test $$found = 1

# Comparisons with an independent way to the same answer, many cases.
long-oracle:
	LUGWORTH_LONG=oracle go test -count=1 -timeout 2700s -v -run 'Long|Oracle' $(NATIVE)

# A thousand kills at any moment of the page's life.
long-crash: deps
	LUGWORTH_LONG=crash go test -p 1 -count=1 -timeout 2700s -v -run '^TestKills' ./web/e2e

long-race:
	go test -race -count=1 -timeout 2700s $(NATIVE)

# The same page in another engine.
long-second-engine: deps
	apt-get install -y -q --no-install-recommends firefox-esr
	LUGWORTH_LONG=second-engine go test -p 1 -count=1 -timeout 2700s -v ./web/e2e/second
