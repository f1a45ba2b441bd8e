package scenarios

import (
	"fmt"
	"math"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A handEdit is what a person does to a cell of a calculation, and what is to become of it.
type handEdit struct {
	name                string
	block, key, heading string
	value               any    // typed; or
	formula             string // {Heading} stands for the cell of that heading in the same row
	want                string // the value in Overrides; "" where it is not taken over
	say                 string // a piece of what is said of it
}

var handEdits = []handEdit{
	{name: "a number over an equation", block: "Operations", key: "A01/20", heading: "Required hours", value: 1234.5, want: "1234.5"},
	{name: "a number over a link to an input", block: "Operations", key: "A01/20", heading: "Reject rate", value: 0.031, want: "0.031"},
	{name: "a price", block: "Materials", key: "M01", heading: "Price", value: 0.95, want: "0.95"},
	{name: "a rate of a machine", block: "Machines", key: "E11", heading: "Annual maintenance", value: 20000, want: "20000"},
	{name: "a quantity in the form's own block", block: "Form: sheet", key: "A03", heading: "Gross mass", value: 0.8, want: "0.8"},
	{name: "a time in the process's own block", block: "Process: resistance spot welding", key: "TRAY_A/10", heading: "Load and process time",
		value: 30, want: "30"},
	{name: "a fact of the case", block: "Case", key: "Value", heading: "Freight", value: 4.5, want: "4.5"},
	{name: "a fact of a plant", block: "Plants", key: "Van plant", heading: "Planned hours", value: 3000, want: "3000"},
	{name: "a total", block: "Scenario", key: "A baseline", heading: "Working capital", value: 90000, say: "is a total"},
	{name: "a choice", block: "Machines", key: "E11", heading: "Equipment allocation", value: "shared", want: "shared"},
	{name: "a formula of its own row", block: "Operations", key: "A01/20", heading: "Energy", formula: "{Required hours}*{Power}*0.2",
		want: `(required_hours / "1 h/yr")*(power / "1 kW")*0.2) * "1 EUR/yr"`, say: "as the expression"},
	{name: "a formula with an input cell", block: "Operations", key: "A01/20", heading: "Power", formula: "MAX({Power as input},100)",
		want: `max((machine.rated_power / "1 kW"), 100)) * "1 kW"`, say: "as the expression"},
	{name: "a formula with a fact of the case", block: "Materials", key: "M02", heading: "Price", formula: "{Base price}*(1+Case!C9)", want: "case.",
		say: "as the expression"},
	{name: "a formula that reaches beyond its row", block: "Operations", key: "A01/20", heading: "Load and process time", formula: "{beyond}*2",
		want: "number", say: "its result is frozen"},
	{name: "what follows from other cells", block: "Operations", key: "A01/20", heading: "Row of machine", value: 3, say: "follows from other cells"},
	{name: "the volume", block: "Scenario", key: "A baseline", heading: "Annual volume", value: 70000, say: "in the sheet Scenarios"},
	{name: "a word that is no choice", block: "Machines", key: "E03", heading: "Equipment allocation", value: "both", say: "is not a choice"},
}

const editedSheet = "Calculation A baseline"

// cellOf finds a cell of a calculation by block, key and heading.
func cellOf(t testing.TB, rows [][]string, block, key, heading string) string {
	t.Helper()
	inside := false
	var head []string
	for i, r := range rows {
		switch {
		case len(r) == 0:
		case titleNumber.MatchString(r[0]):
			inside = strings.HasPrefix(titleNumber.ReplaceAllString(r[0], ""), block)
		case r[0] == "Key":
			head = r
		case inside && r[0] == key:
			for j, h := range head {
				if h == heading {
					return fmt.Sprintf("%s%d", table.ColumnName(j+1), i+1)
				}
			}
		}
	}
	t.Fatalf("no cell %s, %s, %s", block, key, heading)
	return ""
}

var inBraces = regexp.MustCompile(`\{[^}]+\}`)

// applyHandEdits writes an edited copy of a result workbook and returns the addresses of the cells.
func applyHandEdits(t testing.TB, from, to string, edits []handEdit) []string {
	t.Helper()
	f, err := excelize.OpenFile(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(editedSheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	var cells []string
	for _, e := range edits {
		at := cellOf(t, rows, e.block, e.key, e.heading)
		cells = append(cells, at)
		if e.formula == "" {
			err = f.SetCellValue(editedSheet, at, e.value)
		} else {
			err = f.SetCellFormula(editedSheet, at, e.text(t, rows))
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := lightly(f).SaveAs(to); err != nil {
		t.Fatal(err)
	}
	return cells
}

// text puts cells for the headings in a formula.
func (e handEdit) text(t testing.TB, rows [][]string) string {
	return inBraces.ReplaceAllStringFunc(e.formula, func(name string) string {
		switch name = strings.Trim(name, "{}"); name {
		case "beyond":
			return cellOf(t, rows, e.block, "A03/10", e.heading)
		case "Power as input":
			return cellOf(t, rows, e.block, e.key, "machine.rated_power")
		}
		return cellOf(t, rows, e.block, e.key, name)
	})
}

// editedResult takes the edits of a workbook over, writes it and returns what was found and the result.
func editedResult(t testing.TB, path string) ([]Edit, *Result) {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := w.Case()
	if err != nil {
		t.Fatal(err)
	}
	edits, err := w.TakeOver(c, testLibrary(t))
	if err != nil {
		t.Fatal(err)
	}
	r := resultOfCase(t, c)
	if err := w.Write(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	if err := w.Save(t.Context(), path, SaveOptions{Replace: true}); err != nil {
		t.Fatal(err)
	}
	return edits, r
}

// TestHandEdits changes many cells of a calculation. Gnumeric (with -office-files LibreOffice) computes the edited workbook and saves it, and
// the engine must come to the same piece cost once it has taken the edits over; then nothing is found any more, the same program agrees with
// every formula of the new workbook, and without the edits the old cost is back.
func TestHandEdits(t *testing.T) {
	dir := t.TempDir()
	base, path := filepath.Join(dir, "base.xlsx"), filepath.Join(dir, "edited.xlsx")
	saveSample(t, base)
	writeLive(t, base)
	var kept []handEdit
	for _, e := range handEdits {
		if e.want != "" {
			kept = append(kept, e)
		}
	}
	applyHandEdits(t, base, path, kept)
	office := recomputed(t, path)
	want := pieceCostIn(t, office, editedSheet)
	edits, r := editedResult(t, office)
	if len(edits) != len(kept) {
		t.Errorf("%d edits made, %d found: %v", len(kept), len(edits), edits)
	}
	if got := r.Details[0].Scenario().Must("piece_cost"); math.Abs(got-want) > 1e-9*want || math.Abs(got-186.4717) < 1 {
		t.Errorf("the piece cost is %v, the spreadsheet program comes to %v", got, want)
	}
	for j, v := range []float64{195.62, 182.62} {
		if c := r.Details[j+1].Scenario().Must("piece_cost"); math.Abs(c-v) > 0.005 {
			t.Errorf("the other scenarios are touched: %v", c)
		}
	}
	if more, again := editedResult(t, office); len(more) > 0 || again.Details[0].Scenario().Must("piece_cost") != r.Details[0].Scenario().Must("piece_cost") {
		t.Errorf("found again: %v", more)
	}
	if c := withoutEdits(t, office); math.Abs(c-186.4717) > 1e-4 {
		t.Errorf("without the edits the piece cost is %v", c)
	}
	poisoned := filepath.Join(dir, "poisoned.xlsx")
	poison(t, office, poisoned)
	if n := comparePoisoned(t, office, poisoned); n < 20000 {
		t.Errorf("only %d formulas", n)
	}
}

// TestHandEditsFound says what becomes of each edit, and of words in a sheet that is written anew.
func TestHandEditsFound(t *testing.T) {
	dir := t.TempDir()
	base, path := filepath.Join(dir, "base.xlsx"), filepath.Join(dir, "edited.xlsx")
	saveSample(t, base)
	writeLive(t, base)
	cells := applyHandEdits(t, base, path, handEdits)
	edits, _ := editedResult(t, path)
	if len(edits) != len(handEdits) {
		t.Errorf("%d edits made, %d found: %v", len(handEdits), len(edits), edits)
	}
	for i, e := range handEdits {
		t.Run(e.name, func(t *testing.T) { checkEdit(t, edits, e, cells[i]) })
	}
}

// withoutEdits runs a workbook with its edits discarded and returns the piece cost of the first scenario.
func withoutEdits(t *testing.T, path string) float64 {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := w.Case()
	if err != nil {
		t.Fatal(err)
	}
	if err := w.DiscardEdits(c); err != nil {
		t.Fatal(err)
	}
	return resultOfCase(t, c).Details[0].Scenario().Must("piece_cost")
}

func checkEdit(t *testing.T, edits []Edit, e handEdit, cell string) {
	t.Helper()
	var got Edit
	for _, found := range edits {
		if found.Place.Cell() == cell && found.Place.Sheet == editedSheet {
			got = found
		}
	}
	if got.Place.Row == 0 {
		t.Fatalf("not found: %v", edits)
	}
	if (got.Dropped == "") != (e.want != "") || !strings.Contains(got.String(), e.say) {
		t.Errorf("said: %s", got)
	}
	text := got.Value.Text
	if got.Value.Kind == table.Number {
		text = strconv.FormatFloat(got.Value.Number, 'f', -1, 64)
	}
	switch {
	case e.want == "number":
		if got.Value.Kind != table.Number {
			t.Errorf("the value is %q", text)
		}
	case e.want != "" && !strings.Contains(text, e.want):
		t.Errorf("the value is %q, want %q", text, e.want)
	}
}

// pieceCostIn reads the piece cost of a scenario off its calculation.
func pieceCostIn(t testing.TB, path, sheet string) float64 {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := f.GetRows(sheet, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	at := cellOf(t, rows, "Scenario", rows[8][0], "Piece cost")
	text, err := f.GetCellValue(sheet, at, excelize.Options{RawCellValue: true})
	if err != nil {
		t.Fatal(err)
	}
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// TestNoFalseEdits inserts rows and columns in input and result sheets and lets LibreOffice save the workbook: nothing is
// taken for an edit. A number typed in it then is found at its new place and means what it meant at the old one.
func TestNoFalseEdits(t *testing.T) {
	dir := t.TempDir()
	base, path := filepath.Join(dir, "base.xlsx"), filepath.Join(dir, "moved.xlsx")
	saveSample(t, base)
	clearScenarioC(t, base)
	writeLive(t, base)
	insertEverywhere(t, base, path)
	saved := filepath.Join(recalculate(t, path), "moved.xlsx")
	for _, p := range []string{path, saved} {
		if edits := foundEdits(t, p); len(edits) > 0 {
			t.Errorf("%s: %d false edits, the first %v", filepath.Base(filepath.Dir(p)), len(edits), edits[0])
		}
	}
	e := handEdit{block: "Operations", key: "A01/20", heading: "Reject rate", value: 0.25}
	cells := applyHandEdits(t, saved, path, []handEdit{e})
	edits := foundEdits(t, path)
	if len(edits) != 1 || edits[0].Place.Cell() != cells[0] || edits[0].Row != "A01/20" || edits[0].Column != "Reject rate [%]" ||
		edits[0].Value.Number != 0.25 || !edits[0].Value.Percent {
		t.Errorf("found %+v", edits)
	}
}

// insertEverywhere writes a copy of a result workbook with rows and columns inserted in input and result sheets, and a sheet renamed.
func insertEverywhere(t *testing.T, from, to string) {
	t.Helper()
	f, err := excelize.OpenFile(from)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	putBack := setPrintNamesAside(t, f)
	for _, err := range []error{
		f.InsertRows("Parts", 20, 2), f.InsertCols("Operations", "C", 1), f.InsertRows("Materials", 2, 1), f.InsertCols("Plants", "A", 1),
		f.InsertRows(editedSheet, 30, 3), f.InsertCols(editedSheet, "E", 2), f.InsertRows("Summary", 8, 1), f.InsertCols("Cost breakdown", "B", 1),
		f.InsertRows("Input record", 40, 1), f.InsertCols("Input record", "C", 1), f.InsertRows("Formula record", 3, 2), f.InsertCols("Formula record", "C", 1),
		f.SetCellValue("Parts", "A20", ""),
	} {
		if err != nil {
			t.Fatal(err)
		}
	}
	putBack()
	if err := f.SetSheetName("Calculation B variant 1", "B in detail"); err != nil {
		t.Fatal(err)
	}
	if err := lightly(f).SaveAs(to); err != nil {
		t.Fatal(err)
	}
}

// setPrintNamesAside takes the names of a workbook away, which all say what is printed, and returns what puts them back as they were:
// excelize looks through all names at each word of each formula that an insertion adjusts, and no cell rests on what is printed.
func setPrintNamesAside(t *testing.T, f *excelize.File) (putBack func()) {
	t.Helper()
	for _, n := range f.GetDefinedName() {
		if !strings.HasPrefix(n.Name, "_xlnm.Print_") {
			t.Fatalf("the name %s would not be adjusted", n.Name)
		}
	}
	names := f.WorkBook.DefinedNames
	f.WorkBook.DefinedNames = nil
	return func() { f.WorkBook.DefinedNames = names }
}

// clearScenarioC takes the third scenario of the sample away: its calculation has the same kinds of formulas as the second's,
// and excelize, which adjusts every formula at each insertion, takes as long for it.
func clearScenarioC(t *testing.T, path string) {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for row := 1; row <= 5; row++ {
		if err := f.SetCellValue("Scenarios", fmt.Sprintf("F%d", row), nil); err != nil {
			t.Fatal(err)
		}
	}
	if err := f.Save(); err != nil {
		t.Fatal(err)
	}
}

func foundEdits(t *testing.T, path string) []Edit {
	t.Helper()
	w, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	c, err := w.Case()
	if err != nil {
		t.Fatal(err)
	}
	edits, err := w.hand.Find(costmodel.New(c, testLibrary(t)))
	if err != nil {
		t.Fatal(err)
	}
	return edits
}
