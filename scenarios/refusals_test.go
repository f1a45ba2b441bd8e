package scenarios

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
	"piececost/templates"
)

// Cases that must not be costed: the bare case with cells changed, and the words of the check that must say no.

// A refusal is a case with the check that refuses it.
type refusal struct {
	say    string
	edits  string // what is changed, for people
	tables *costmodel.Case
}

// refusing lists table, key, heading and value of each changed cell, and what must be said.
var refusing = []struct {
	say   string
	cells [][4]string
}{
	{"the programme life must be above 0", [][4]string{{"case", "Programme life", "Value", "0 + 0 * pi"}}},
	{"the interest can't be negative", [][4]string{{"case", "Interest", "Value", "-0.5 + 0 * pi"}}},
	{"breaks and planned stops fill the whole shift", [][4]string{{"plants", "Paid break per shift", "Plant", "8"}}},
	{"the planned load must be above 0", [][4]string{{"plants", "Planned load", "Plant", "0 + 0 * pi"}}},
	{"the line balance must be above 0", [][4]string{{"plants", "Line balance", "Plant", "0 + 0 * pi"}}},
	{"the density must be above 0", [][4]string{{"materials", "FOAM", "Density [kg/m3]", "0 + 0 * pi"}}},
	{"the price with its extras is negative", [][4]string{{"materials", "FOAM", "Extras [EUR/kg]", "-50"}}},
	{"the life must be above 0", [][4]string{{"machines", "ANY", "Life [yr]", "0 + 0 * pi"}}},
	{"the whole machines of a pool do not cover its hours", [][4]string{{"machines", "IDLE", "Pool hours [h/yr]", "5000"}, {"machines", "IDLE", "Pool machines", "2"}}},
	{"the quantity must be above 0", [][4]string{{"bill_of_materials", "ALL,PAD", "Quantity", "0 + 0 * pi"}}},
	{"the trimmed share must lie between 0 and 100 %", [][4]string{{"parts", "PLATE", "Trimmed share [%]", "-0.5 + 0 * pi"}}},
	{"the trimmed share must lie between 0 and 100 %", [][4]string{{"parts", "PLATE", "Trimmed share [%]", "100 + 0 * pi"}}},
	{"the trimmed share must lie between 0 and 100 %", [][4]string{{"parts", "PLATE", "Trimmed share [%]", "100.5 + 0 * pi"}}},
	{"the nesting utilisation must lie above 0 and not above 100 %", [][4]string{{"parts", "PLATE", "Nesting utilisation [%]", "0 + 0 * pi"}}},
	{"the nesting utilisation must lie above 0 and not above 100 %", [][4]string{{"parts", "PLATE", "Nesting utilisation [%]", "100.5 + 0 * pi"}}},
	{"the nesting utilisation must lie above 0 and not above 100 %", [][4]string{{"parts", "PLATE", "Nesting utilisation [%]", "100.5 + 0 * pi"}, {"parts", "PLATE", "Trimmed share [%]", "5 + 0 * pi"}}},
	{"the wall is thicker than half of the diameter", [][4]string{{"parts", "ROD", "Outer diameter [mm]", "20"}}},
	{"the wall is thicker than half of the diameter", [][4]string{{"parts", "ROD", "Outer diameter [mm]", "15"}}},
	{"no sub-blank joins at its first step", [][4]string{{"bill_of_materials", "TAIL,SUB", "Joins at step", "20"}}},
	{"no sub-blank joins at its first step", [][4]string{{"bill_of_materials", "TAIL,SUB", "Joins at step", "20"}, {"parts", "TAIL", "Blank mass [kg]", "1"}}},
	{"the pieces per cycle must be above 0", [][4]string{{"operations", "PAD,10", "Pieces per cycle", "0 + 0 * pi"}}},
	{"the batch size must be above 0", [][4]string{{"operations", "PAD,10", "Batch size", "0 + 0 * pi"}}},
	{"a tool with a price needs a tool life above 0, in cycles", [][4]string{{"operations", "ALL,30", "Tool life", "0"}}},
	{"a tool with a price needs a tool life above 0, in cycles", [][4]string{{"operations", "ALL,30", "Tool life", "0"}, {"operations", "ALL,30", "Tool price [EUR]", "0.5"}}},
	{"a time can't be negative", [][4]string{{"operations", "PAD,10", "Load and process time [s]", "-0.5 + 0 * pi"}}},
	{"the smallest outside radius must be above the gauge", [][4]string{{"operations", "RING,10", "Smallest radius [mm]", "1"}}},
	{"the smallest outside radius must be above the gauge", [][4]string{{"operations", "DISH,10", "Smallest radius [mm]", "1"}}},
	{"the number of guns must be above 0", [][4]string{{"operations", "PAD,10", "Guns", "0 + 0 * pi"}}},
	{"the reject share must lie between 0 and 100 %", [][4]string{{"operations", "ALL,30", "Defect share [%]", "-0.5"}}},
	{"the reject share must lie between 0 and 100 %", [][4]string{{"operations", "PAD,10", "Defect share [%]", "100"}}},
	{"the reject share must lie between 0 and 100 %", [][4]string{{"operations", "PAD,10", "Defect share [%]", "100.5"}}},
	{"the unplanned downtime must lie between 0 and 100 %", [][4]string{{"machines", "ANY", "Unplanned downtime share [%]", "-0.5"}}},
	{"the unplanned downtime must lie between 0 and 100 %", [][4]string{{"machines", "ANY", "Unplanned downtime share [%]", "100"}}},
	{"the unplanned downtime must lie between 0 and 100 %", [][4]string{{"machines", "ANY", "Unplanned downtime share [%]", "100.5"}}},
}

// refused tries a library: the check must be among what is said against the case.
func (r refusal) refused(lib *costmodel.Library) bool {
	m := costmodel.New(r.tables, lib)
	_, ds := m.Compile(m.Scenarios[0], costmodel.CompileOptions{})
	for _, d := range append(ds, m.Diagnostics...) {
		if d.Code == "check" && d.Severity == costmodel.Error && strings.HasSuffix(d.Summary, ": "+r.say) {
			return true
		}
	}
	return false
}

func readRefusals(t testing.TB) (out []refusal) {
	t.Helper()
	c := readLongCase(t, "bare")
	for _, r := range refusing {
		a := &txtar.Archive{}
		a.Files = append(a.Files, c.archive.Files...)
		for _, e := range r.cells {
			changeCell(t, a, e)
		}
		out = append(out, refusal{r.say, fmt.Sprint(r.cells), archiveTables(t, a, "bare")})
	}
	return out
}

// changeCell writes a cell of an archive's table; a heading that is missing is added.
func changeCell(t testing.TB, a *txtar.Archive, e [4]string) {
	t.Helper()
	rows := longTable(t, a, e[0])
	col := -1
	for i, h := range rows[0] {
		if h == e[2] {
			col = i
		}
	}
	if col < 0 {
		col = len(rows[0])
		rows[0] = append(rows[0], e[2])
		for i := range rows[1:] {
			rows[i+1] = append(rows[i+1], "")
		}
	}
	found := false
	for _, r := range rows[1:] {
		if strings.Join(r[:1+strings.Count(e[1], ",")], ",") == e[1] {
			r[col], found = e[3], true
		}
	}
	if !found {
		t.Fatalf("no row %s in %s", e[1], e[0])
	}
	var text bytes.Buffer
	if err := csv.NewWriter(&text).WriteAll(rows); err != nil {
		t.Fatal(err)
	}
	for i := range a.Files {
		if a.Files[i].Name == e[0]+".csv" {
			a.Files[i].Data = text.Bytes()
		}
	}
}

// TestRefusals holds that each check marked as an error refuses a case that fails it alone.
func TestRefusals(t *testing.T) {
	lib, err := costmodel.LoadLibrary(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, r := range readRefusals(t) {
		said[r.say] = true
		if !r.refused(lib) {
			t.Errorf("with %s nothing says %q", r.edits, r.say)
		}
	}
	for _, list := range [][]*costmodel.Template{lib.Scopes, lib.Forms, lib.Processes} {
		for _, tmpl := range list {
			for _, c := range tmpl.Checks {
				if c.Error && !said[c.Say] {
					t.Errorf("%s: no case is refused with %q", tmpl.File, c.Say)
				}
			}
		}
	}
}
