# make run    build what is needed and open the desk on a circuit of the library
# make app    build the browser desk, dist/tarry.html
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

.PHONY: run app build test tools desktools vet unit golden fuzz wasm browser bench clean

run: build
	bin/tarry app $(CIRCUIT)

# The command carries the desk.
build: desk/built/tarry.html
	$(GO) build -o bin/tarry ./cmd/tarry

app: dist/tarry.html

desk/built/tarry.html: dist/tarry.html
	cp dist/tarry.html desk/built/.tarry.part && mv desk/built/.tarry.part desk/built/tarry.html

DESK := $(shell find app/src app/build.mjs app/package.json app/tsconfig.json -type f 2>/dev/null)
ENGINE := $(shell git ls-files -co --exclude-standard '*.go' library go.mod go.sum | grep -v '_test\.go$$\|^cmd/tarry/\|^desk/')

dist/tarry.html: $(DESK) $(ENGINE) app/node_modules/.ready
	cd app && node build.mjs --out ../dist/tarry.html --go '$(GO)'

# What the desk is built with; --ignore-scripts, since none of it needs any.
app/node_modules/.ready: app/package-lock.json | desktools
	cd app && npm ci --no-audit --no-fund --ignore-scripts
	touch $@

test: tools build vet unit golden fuzz wasm browser

# What the tests need besides Go: other people's readers of the files that we
# write (value change dumps, SVG, PDF), node and npm, which build the desk and
# run the engine's tests as WebAssembly, and two browsers.
TOOLS := sigrok-cli:sigrok-cli rsvg-convert:librsvg2-bin pdftotext:poppler-utils qpdf:qpdf node:nodejs npm:npm \
         zstd:zstd chromium:chromium firefox-esr:firefox-esr

# What building the desk needs.
DESKTOOLS := node:nodejs npm:npm zstd:zstd

tools desktools:
	@missing=""; \
	for t in $(if $(filter tools,$@),$(TOOLS),$(DESKTOOLS)); do command -v $${t%%:*} >/dev/null || missing="$$missing $${t##*:}"; done; \
	if [ -n "$$missing" ]; then \
	  echo "installing$$missing"; \
	  apt-get update -q && DEBIAN_FRONTEND=noninteractive apt-get install -y -q --no-install-recommends $$missing; \
	fi

vet:
	@unformatted=$$(gofmt -l $$(git ls-files '*.go')); \
	if [ -n "$$unformatted" ]; then echo "gofmt would change: $$unformatted"; exit 1; fi
	$(GO) vet ./...
	cd app && npx tsc --noEmit && npx biome check --error-on-warnings .

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
	GOOS=js GOARCH=wasm $(GO) test -exec '$(WASMEXEC)' ./exercise -run 'TestFirst|TestFourContacts'

# The desk in real browsers, from a file and from the local server.
browser: build
	cd app && npm test

bench: build
	GOMAXPROCS=1 $(GO) test ./engine ./notation ./schematic ./page/... ./sheet ./misread ./answer ./exercise . ./cmd/tarry -run '^$$' -bench . -benchtime 3x | grep -v '^ok\|^PASS\|no test files'
	cd app && npm run --silent bench

clean:
	rm -rf bin dist desk/built/tarry.html app/node_modules
