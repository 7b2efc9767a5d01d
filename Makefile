# make run    build what is needed and run a circuit of the library
# make test   install what the tests need, then all tests
# make bench  the figures that the README quotes

GO       := go
CIRCUIT  ?= library/08-belt-start-warning.tarry
FUZZTIME ?= 30s
# Packages with golden files: -update writes them anew.
GOLDEN   := $(shell grep -rl --include='*_test.go' 'casetest\.' . 2>/dev/null | xargs -r -n1 dirname | sort -u)
WASMEXEC := $(shell $(GO) env GOROOT)/lib/wasm/go_js_wasm_exec

export GOTOOLCHAIN := local
export GOFLAGS     := -buildvcs=false

.PHONY: run build test tools vet unit golden fuzz wasm bench clean

run: build
	bin/tarry run $(CIRCUIT)

build:
	$(GO) build -o bin/tarry ./cmd/tarry

test: tools build vet unit golden fuzz wasm

# What the tests need besides Go: other people's readers of the files that we
# write (value change dumps, SVG, PDF), and node, which runs the engine's tests
# as WebAssembly.
TOOLS := sigrok-cli:sigrok-cli rsvg-convert:librsvg2-bin pdftotext:poppler-utils qpdf:qpdf node:nodejs

tools:
	@missing=""; \
	for t in $(TOOLS); do command -v $${t%%:*} >/dev/null || missing="$$missing $${t##*:}"; done; \
	if [ -n "$$missing" ]; then \
	  echo "installing$$missing"; \
	  apt-get update -q && DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $$missing; \
	fi

vet:
	@unformatted=$$(gofmt -l $$(git ls-files '*.go')); \
	if [ -n "$$unformatted" ]; then echo "gofmt would change: $$unformatted"; exit 1; fi
	$(GO) vet ./...

unit:
	$(GO) test ./...

# Golden files are what the code writes: writing them anew changes nothing.
golden:
	@before=$$(git diff | cksum); \
	$(GO) test $(GOLDEN) -update >/dev/null || exit 1; \
	if [ "$$before" != "$$(git diff | cksum)" ]; then git diff --stat; echo "golden files were not up to date"; exit 1; fi

fuzz:
	$(GO) test ./notation -run '^$$' -fuzz FuzzRead -fuzztime $(FUZZTIME) -fuzzminimizetime 1x
	$(GO) test ./trace -run '^$$' -fuzz FuzzReadVCD -fuzztime 10s -fuzzminimizetime 1x

wasm:
	GOOS=js GOARCH=wasm $(GO) test -exec '$(WASMEXEC)' ./circuit ./engine ./trace ./notation

bench:
	GOMAXPROCS=1 $(GO) test ./engine ./notation ./schematic ./page/... ./sheet ./cmd/tarry -run '^$$' -bench . -benchtime 3x | grep -v '^ok\|^PASS\|no test files'

clean:
	rm -rf bin dist
