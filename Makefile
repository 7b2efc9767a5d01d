# make run    build what is needed and run a circuit of the library
# make test   install what the tests need, then all tests
# make bench  the figures that the README quotes

GO       := go
CIRCUIT  ?= library/08-belt-start-warning.tarry
FUZZTIME ?= 30s
# Packages with golden files: -update writes them anew.
GOLDEN   := $(shell grep -rl --include='*_test.go' 'golden\.' . 2>/dev/null | xargs -r -n1 dirname | sort -u)
WASMEXEC := $(shell $(GO) env GOROOT)/lib/wasm/go_js_wasm_exec

export GOTOOLCHAIN := local
export GOFLAGS     := -buildvcs=false

.PHONY: run build test tools vet unit golden fuzz wasm bench clean

run: build
	bin/tarry run $(CIRCUIT)

build:
	$(GO) build -o bin/tarry ./cmd/tarry

test: tools build vet unit golden fuzz wasm

# sigrok-cli reads our value change dumps as somebody else's program would;
# node runs the engine's tests as WebAssembly.
tools:
	@missing=""; \
	command -v sigrok-cli >/dev/null || missing="$$missing sigrok-cli"; \
	command -v node >/dev/null || missing="$$missing nodejs"; \
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
	@cp -r . /dev/null 2>/dev/null; before=$$(git status --porcelain | sort | cksum; git diff | cksum); \
	$(GO) test $(GOLDEN) -run 'Golden|Manual' -update >/dev/null && \
	after=$$(git status --porcelain | sort | cksum; git diff | cksum); \
	if [ "$$before" != "$$after" ]; then git diff --stat; echo "golden files were not up to date"; exit 1; fi

fuzz:
	$(GO) test ./notation -run '^$$' -fuzz FuzzRead -fuzztime $(FUZZTIME)

wasm:
	GOOS=js GOARCH=wasm $(GO) test -exec '$(WASMEXEC)' ./circuit ./engine ./trace ./notation

bench:
	GOMAXPROCS=1 $(GO) test ./engine ./notation ./cmd/tarry -run '^$$' -bench . -benchtime 3x

clean:
	rm -rf bin dist
