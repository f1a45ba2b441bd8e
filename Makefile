# The list of commands. `make demo` and `make test` are all a newcomer needs.
GO ?= go
STATICCHECK = honnef.co/go/tools/cmd/staticcheck@v0.8.2

.PHONY: build demo test check bench fmt

build:
	$(GO) build -o bin/piececost ./cmd/piececost

demo: build
	@mkdir -p demo
	@rm -f demo/battery-tray.xlsx
	bin/piececost new --sample battery-tray demo/battery-tray.xlsx
	bin/piececost run demo/battery-tray.xlsx

test:
	$(GO) test ./...

check:
	@test -z "$$(gofmt -l .)" || { gofmt -l .; exit 1; }
	$(GO) vet ./...
	$(GO) run $(STATICCHECK) ./...
	$(GO) test -race ./...
	$(GO) mod tidy -diff

bench:
	$(GO) test -run XXX -bench . -benchmem ./costmodel/... ./scenarios/...
