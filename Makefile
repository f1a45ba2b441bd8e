# The list of commands. `make demo` and `make test` are all a newcomer needs.
GO ?= go
# The tests that have LibreOffice compute what gnumeric computes in make test.
OFFICE = TestEditsAreFollowed|TestEditsThatAskForARun|TestGenerated|TestHandEdits$$|TestLarge|TestOddKeys|TestElementAdded|TestMass|TestAlternativesOfStyles|TestNamesThatLeadNowhere|TestPrintedSheets|TestPhysicsRecalculated|TestJointsRecalculated|TestFormerColumns
STATICCHECK = honnef.co/go/tools/cmd/staticcheck@v0.8.2

.PHONY: build demo test generated check bench pictures office interop readers

build:
	$(GO) build -o bin/piececost ./cmd/piececost

demo: build
	@mkdir -p demo
	@rm -f demo/battery-tray.xlsx
	bin/piececost new --sample battery-tray demo/battery-tray.xlsx
	bin/piececost run demo/battery-tray.xlsx

# The two longest packages first, so that neither runs alone in the end; a larger heap before each collection saves time; make check vets.
test: office
	GOGC=400 $(GO) test -vet=off -timeout 60m ./scenarios ./cmd/piececost ./...

# The live formulas are checked by independent spreadsheet programs; they are installed where they are missing and may be.
office:
	@command -v soffice >/dev/null 2>&1 && command -v pdftotext >/dev/null 2>&1 && command -v ssconvert >/dev/null 2>&1 || { \
	  [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 && \
	  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends libreoffice-calc-nogui poppler-utils gnumeric >/dev/null; } || \
	  echo "LibreOffice calc, poppler-utils or gnumeric is missing and can't be installed here: the tests that need them are skipped, loudly (go test -v)"

# Written workbooks opened by other programs; what is missing and can't be installed is said, and the rest goes on.
interop: readers demo
	$(GO) test -timeout 30m ./scenarios -count 1 -run TestInterop -interop -v

readers:
	@command -v ssconvert >/dev/null 2>&1 && command -v npm >/dev/null 2>&1 && /usr/bin/python3 -c 'import openpyxl' >/dev/null 2>&1 || { \
	  [ "$$(id -u)" = 0 ] && command -v apt-get >/dev/null 2>&1 && \
	  apt-get update -qq && DEBIAN_FRONTEND=noninteractive apt-get install -y -qq --no-install-recommends gnumeric python3-openpyxl nodejs npm >/dev/null; } || \
	  echo "gnumeric, python3-openpyxl, nodejs or npm is missing and can't be installed here: what needs it is skipped, loudly"
	@[ -d testdata/interop/node_modules/exceljs ] && [ -d testdata/interop/node_modules/xlsx ] || \
	  (cd testdata/interop && npm ci --omit=dev --no-audit --no-fund) || \
	  echo "exceljs and SheetJS can't be installed (npm ci in testdata/interop): they are skipped, loudly"

# 200 random cases computed by two independent programs; some minutes.
generated: office
	$(GO) test -timeout 60m ./scenarios -run TestGenerated -generated 200 -office-files -v

# The pictures in README.md, printed from the sample's result workbook.
pictures: demo
	cd demo && soffice --headless --convert-to pdf battery-tray.xlsx >/dev/null
	@mkdir -p testdata/pictures
	@for p in "summary:Summary: piece cost" "breakdown:Cost breakdown" "curve:Cost over volume:" "rates:Hourly rates" "crossover:Cross-over at every whole" "map:Least-cost map:" "quotes:Quotes on equal terms"; do \
	  name=$${p%%:*}; title=$${p#*:}; rm -f testdata/pictures/$$name.png; \
	  for n in $$(seq 1 200); do \
	    if pdftotext -f $$n -l $$n demo/battery-tray.pdf - 2>/dev/null | head -3 | grep -q "$$title"; then \
	      pdftoppm -r 75 -f $$n -l $$n -singlefile -png demo/battery-tray.pdf testdata/pictures/$$name; break; fi; done; \
	  test -f testdata/pictures/$$name.png || { echo "no page begins with $$title"; exit 1; }; done

check: office
	@test -z "$$(gofmt -l .)" || { gofmt -l .; exit 1; }
	$(GO) vet ./...
	$(GO) run $(STATICCHECK) ./...
	$(GO) test -race -timeout 90m ./...
	$(GO) test -timeout 60m ./scenarios -run 'TestMutants|TestQuoteMutants|TestQuoteHostileCells' -all-mutants
	$(GO) test -timeout 60m ./scenarios -count 1 -run '$(OFFICE)' -office-files -large 3000 -generated 20
	$(GO) test ./cmd/piececost -count 1 -run 'TestSameBytes|TestSignals|TestWildNumbers|TestRemarks$$' -office-too -same-bytes 30 -signals 200 -wild 500
	$(GO) test ./scenarios/ooxml -count 1 -run TestBombs -all-bombs
	$(GO) mod tidy -diff
	$(MAKE) interop

bench:
	$(GO) test -run XXX -bench . -benchmem ./costmodel/... ./scenarios/...
