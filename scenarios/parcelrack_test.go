package scenarios

import (
	"io/fs"
	"math"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/table"
	"piececost/templates"
)

// parcelRack saves the sample that is given by drawing data alone, not costed.
func parcelRack(t testing.TB) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "rack.xlsx")
	saveTablesOf(t, "parcel-rack", path)
	return path
}

// saveTablesOf writes the workbook of a sample.
func saveTablesOf(t testing.TB, sample, path string) {
	t.Helper()
	tables, err := fs.Sub(templates.Files, "samples/"+sample)
	if err != nil {
		t.Fatal(err)
	}
	saveTables(t, tables, path)
}

// TestParcelRackByHand holds four operations of the sample against a desk calculator. 230 d x 2 shifts x 7.5 h are 3,450 planned hours, of
// which 80 % = 2,760 are sold; an hour of a worker costs 34 EUR x 8/7.5; a square metre 1,300 EUR x 1.5 x A/P(8 %, 30 yr) = 173.213495 a year.
// Of 8,000 racks 0.2 % fail when bolted and 1 % when welded, so that 8,000/0.998/0.99 = 8,097.002085 frames are begun.
func TestParcelRackByHand(t *testing.T) {
	detail := resultOf(t, parcelRack(t)).Details[0]
	for _, f := range []struct {
		scope, key, quantity string
		want                 float64
	}{
		// 2 x (120 + 80) mm and 4 holes of 9 mm x pi; 4 + 1 contours
		{"operation", "BRACKET/10", "contour_length", 0.5130973355},
		{"operation", "BRACKET/10", "pierces", 5},
		// 23 x 17 blanks of 126 x 86 mm with their bridge of 2 x 3 mm on 2,986 x 1,486 mm; turned 34 x 11
		{"part", "BRACKET", "pieces_per_sheet", 391},
		{"part", "BRACKET", "nesting_utilisation", 391 * 120 * 80 / (3000 * 1500.0)},
		// 35 % x 4,000 W / (0.2 x 3 mm2 x 10.3 J/mm3) = 226.537 mm/s; 513.097/226.537 + 8 x 0.226537/10 s, 5 x 0.8 s, 40 s / 391
		{"operation", "BRACKET/10", "cycle_time", 6.548489802},
		// 6 x 8,097.002 brackets through 0.3, 0.4 and 0.3 %: 49,071.106; 89.26157 h of running, 99 batches x 12 min: 109.06157 h
		{"operation", "BRACKET/10", "required_hours", 109.0615659},
		// gas 285.8028; (4/0.35 x 6.446188/6.548490 + 8) kW x 89.26157 h x 0.16 = 274.9261; labour 1,977.6497; 109.06157/2,760 machines x
		// (520,000 x A/P(8 %, 10 yr) = 77,495.333; 90 m2; 4 %) = 3,062.2328, 616.0088, 821.9133; 25 % and 10 %: 944.4279
		{"operation", "BRACKET/10", "cost_on_machine", 7982.961321},
		// 1.33 x 120 mm x (3 mm)2 x 490 MPa / (8 x 3 mm)
		{"operation", "BRACKET/20", "bending_force", 29.3265e3},
		// 8 + 2 x (2 + 0.4 x 24/10 + 5) + 4 s
		{"operation", "BRACKET/20", "cycle_time", 27.92},
		// 48,923.893 pieces: 379.43197 h and 98 batches x 15 min; labour 14,649.2660, 95,000 x A/P(8 %, 12 yr): 1,844.9193; 20 m2: 507.0034;
		// 3 %: 417.1037; 11 kW: 667.8003; 3,939.2191
		{"operation", "BRACKET/20", "cost_on_machine", 22025.31173},
		// 8 + 2 x (180/2/40 + 2 + 2) s
		{"operation", "HOOP/20", "cycle_time", 20.5},
		// (16 + 0.05 x 178 x 4 + 8 + 2 x 2) h x 68 EUR + 0.2 x 712 kg x 6 EUR + 400 + 3 x 90 EUR
		{"operation", "HOOP/20", "tool_price", 5849.20},
		// 16,275.381 hoops; tool 5,849.20 x A/P(8 %, 6 yr) = 1,265.2720; 99.76259 h on 230,000 EUR
		{"operation", "HOOP/20", "cost_on_machine", 8464.870513},
		// pi x 38 x 2 mm2 x 1,780 mm x 7,850 kg/m3; 3 of 1,782.5 mm in 5,880 mm
		{"part", "HOOP", "blank_mass", 3.336208035},
		{"part", "HOOP", "nesting_utilisation", 0.89},
		// (340 mm + pi x 10 mm) x 3 mm x 0.7 x 490 MPa x 0.6 x 1.2
		{"operation", "GUSSET/10", "press_force", 275.1746317e3},
		// (50 + 0.04 x 72.25 + 30 + 5 x 1) h x 70 EUR + 0.45 x 72.25 kg x 4 EUR + 1,800 + 110 + 8 x 130 EUR
		{"operation", "GUSSET/10", "tool_price", 9232.35},
		// 65,036.161 a year for 6 years: 390,217 cycles, two sets of 300,000
		{"operation", "GUSSET/10", "tool_sets", 2},
		{"operation", "GUSSET/10", "cost_on_machine", 8581.594460},
	} {
		found := false
		for _, e := range detail.Entries(f.scope) {
			if e.Record().Key != f.key {
				continue
			}
			found = true
			got, ok := e.Value(f.quantity)
			if f.quantity == "required_hours" {
				got /= 3600 // seconds per year
			}
			if !ok || math.Abs(got-f.want) > 1e-8*f.want {
				t.Errorf("%s %s: %v (%v), by hand %v", f.key, f.quantity, got, ok, f.want)
			}
		}
		if !found {
			t.Errorf("there is no %s %s", f.scope, f.key)
		}
	}
}

// TestParcelRackIsDrawingData: nothing of the sample's operations is typed but which they are; grades bring what is not a price.
func TestParcelRackIsDrawingData(t *testing.T) {
	c, err := Read(parcelRack(t))
	if err != nil {
		t.Fatal(err)
	}
	typed := map[string][]string{
		"Operations": {"Part", "Operation", "Name", "Process", "Tool kind", "Source"},
		"Materials":  {"Material", "Name", "Base price", "Scrap price", "Source"},
		"Joints":     {"Part", "Operation", "Kind", "Count", "Length", "First gauge", "Second gauge", "Third gauge", "Note"},
		"Parts": {"Part", "Name", "Form", "Material", "Gauge", "Blank length", "Blank width", "Outer diameter", "Holes", "Hole diameter", "Bends",
			"Total bend angle", "Centreline radius", "Overall length", "Overall width", "Purchase price", "Purchase mass", "Source"},
	}
	made := 0
	for sheet, allowed := range typed {
		tb := c.Table(sheet)
		for _, row := range tb.Rows {
			for _, col := range tb.Columns {
				name, _, _ := table.SplitHeading(col.Heading)
				if text := tb.TextAt(row, table.Normalise(name)); text != "" && !slices.ContainsFunc(allowed, func(a string) bool {
					return table.Normalise(a) == table.Normalise(name)
				}) {
					t.Errorf("%s: %s is typed: %s", sheet, col.Heading, text)
				}
			}
			if form := tb.TextAt(row, "form"); sheet == "Parts" && form != "assembly" && form != "purchased part" {
				made++
			}
		}
	}
	if made != 12 {
		t.Errorf("%d parts are made", made)
	}
}

// TestParcelRackRecalculated: another program comes to the same from poisoned values, and follows holes, bends and a radius of the drawings.
func TestParcelRackRecalculated(t *testing.T) {
	path := parcelRack(t)
	plain, edited := filepath.Join(t.TempDir(), "plain.xlsx"), filepath.Join(t.TempDir(), "edited.xlsx")
	saveTablesOf(t, "parcel-rack", plain)
	writeLive(t, path)
	checkFormulas(t, path)
	poison(t, path, poisonedOf(path))
	if n := comparePoisoned(t, path, poisonedOf(path)); n < 2000 {
		t.Errorf("%d formulas", n)
	}
	edit := inputEdit{cells: map[string]any{"Parts!I8": 7, "Parts!J8": 12, "Parts!K8": 3, "Parts!G5": 530, "Parts!L15": 150}}
	editWorkbookFile(t, path, edited, edit)
	values := gnumericValues(t, edited)
	editWorkbookFile(t, plain, plain+".edited.xlsx", edit)
	want, before := resultOf(t, plain+".edited.xlsx").Details[0].Scenario().Must("piece_cost"), resultOf(t, plain).Details[0].Scenario().Must("piece_cost")
	if near(want, before) {
		t.Error("the edit moves nothing")
	}
	for cell, text := range values {
		if v, err := strconv.ParseFloat(text, 64); err == nil && strings.HasPrefix(cell, "Summary!") && near(v, want) {
			return
		}
	}
	t.Errorf("after the edit no cell of the summary is the piece cost %v", want)
}
