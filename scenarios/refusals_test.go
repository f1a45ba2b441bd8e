package scenarios

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/templates"
)

// Cases that must not be costed: the bare case with cells changed or quantities moved, and the words of the check that must
// say no. What a cell of its own can't say, since its possible range answers first, a study can still move there.

// A refusal is a case with the check that refuses it.
type refusal struct {
	say    string
	edits  string // what is changed, for people
	tables *table.Case
	moved  []movedTo
}

// cellTo is a changed cell: table, key, heading, value.
type cellTo [4]string

// movedTo is a quantity that has a value in every row of its scope, in the unit in which templates/ declares it.
type movedTo struct {
	scope, quantity string
	value           float64
}

var refusing = []struct {
	say   string
	cells []cellTo
	moved []movedTo
}{
	{"the programme life must be above 0", nil, []movedTo{{"case", "programme_life", 0}}},
	{"the interest rate can't be negative", nil, []movedTo{{"case", "interest_rate", -0.5}}},
	{"breaks and planned downtime fill the whole shift", []cellTo{{"plants", "Paid break per shift", "Plant", "8"}}, nil},
	{"the planned capacity utilisation must be above 0", nil, []movedTo{{"plant", "planned_capacity_utilisation", 0}}},
	{"the line-balance efficiency must be above 0", nil, []movedTo{{"plant", "line_balance_efficiency", 0}}},
	{"the density must be above 0", nil, []movedTo{{"material", "density", 0}}},
	{"the price with its extras is negative", []cellTo{{"materials", "FOAM", "Extras [EUR/kg]", "-50"}}, nil},
	{"the economic life must be above 0", nil, []movedTo{{"machine", "economic_life", 0}}},
	{"the whole machines of a pool do not cover its hours", []cellTo{{"machines", "IDLE", "Pool hours [h/yr]", "5000"},
		{"machines", "IDLE", "Pool machines", "2"}}, nil},
	{"larger than the price relation and its size series go", []cellTo{{"machines", "ANY", "Sized by", "force"},
		{"machines", "ANY", "Largest force [kN]", "99.9"}}, []movedTo{{"operation", "required_force", 100}}},
	{"larger than the price relation and its size series go", []cellTo{{"machines", "ANY", "Sized by", "power"},
		{"machines", "ANY", "Largest power [kW]", "99.9"}}, []movedTo{{"operation", "required_power", 100}}},
	{"larger than the price relation and its size series go", []cellTo{{"machines", "ANY", "Sized by", "bed length"},
		{"machines", "ANY", "Largest bed length [mm]", "99.9"}}, []movedTo{{"operation", "required_bed_length", 100}}},
	{"the quantity must be above 0", nil, []movedTo{{"link", "quantity", 0}}},
	{"its own material weighs more when finished than was bought for it", []cellTo{{"parts", "PLATE", "Net mass of this level [kg]", "0.4715"}}, nil},
	{"its blank weighs more than was bought for it", []cellTo{{"parts", "PLATE", "Form", "given masses"}, {"parts", "PLATE", "Gross mass [kg]", "1"},
		{"parts", "PLATE", "Net mass of this level [kg]", "0.5"}, {"parts", "PLATE", "Blank mass [kg]", "1.000000002"}}, nil},
	{"the trim loss share must lie between 0 and 100 %", nil, []movedTo{{"part", "trim_loss_share", -0.5}}},
	{"the trim loss share must lie between 0 and 100 %", nil, []movedTo{{"part", "trim_loss_share", 100}}},
	{"the trim loss share must lie between 0 and 100 %", nil, []movedTo{{"part", "trim_loss_share", 100.5}}},
	{"the nesting utilisation must lie above 0 and not above 100 %", nil, []movedTo{{"part", "nesting_utilisation", 0}}},
	{"the nesting utilisation must lie above 0 and not above 100 %", nil, []movedTo{{"part", "nesting_utilisation", 100.5}}},
	{"the nesting utilisation must lie above 0 and not above 100 %", nil, []movedTo{{"part", "nesting_utilisation", 100.5}, {"part", "trim_loss_share", 5}}},
	{"the wall is thicker than half of the diameter", []cellTo{{"parts", "ROD", "Outer diameter [mm]", "20"}}, nil},
	{"the wall is thicker than half of the diameter", []cellTo{{"parts", "ROD", "Outer diameter [mm]", "15"}}, nil},
	{"the overlap is longer than the blank and its bridge", []cellTo{{"parts", "PLATE", "Form", "blank from coil"},
		{"parts", "PLATE", "Nesting overlap [mm]", "5000"}}, nil},
	{"the stock is shorter than the piece with its cut and end loss", []cellTo{{"parts", "ROD", "Form", "tube from stock"},
		{"parts", "ROD", "Stock length [mm]", "10"}}, nil},
	{"the sheet is smaller than the blank with its edges", []cellTo{{"parts", "PLATE", "Form", "blank from sheet"},
		{"parts", "PLATE", "Sheet length [mm]", "30"}}, nil},
	{"no sub-blank joins at its first operation", []cellTo{{"bill_of_materials", "TAIL,SUB", "Joined at operation", "20"}}, nil},
	{"no sub-blank joins at its first operation", []cellTo{{"bill_of_materials", "TAIL,SUB", "Joined at operation", "20"},
		{"parts", "TAIL", "Blank mass [kg]", "1"}},
		nil},
	{"the pieces per cycle must be above 0", nil, []movedTo{{"operation", "pieces_per_cycle", 0}}},
	{"the batch size must be above 0", nil, []movedTo{{"operation", "batch_size", 0}}},
	{"the stations of a line are no pool; its equipment allocation is shared or dedicated", []cellTo{
		{"operations", "ALL,30", "Process", "robot line from takt"}, {"operations", "ALL,30", "Work content [s]", "100"},
		{"operations", "ALL,30", "Equipment allocation", "pooled"}}, nil},
	{"the start-up scrap must be below the batch size", []cellTo{{"operations", "ALL,30", "Startup scrap", "1"}}, nil},
	{"a tool with a price needs a tool life above 0", []cellTo{{"operations", "ALL,30", "Tool life [cycles]", "0"}}, nil},
	{"a tool with a price needs a tool life above 0", []cellTo{{"operations", "ALL,30", "Tool life [cycles]", "0"},
		{"operations", "ALL,30", "Tool price [EUR]", "0.5"}}, nil},
	{"a time can't be negative", nil, []movedTo{{"operation", "load_and_process_time", -0.5}}},
	{"the smallest outside radius must be above the gauge", []cellTo{{"operations", "RING,10", "Smallest radius [mm]", "1"}}, nil},
	{"the smallest outside radius must be above the gauge", []cellTo{{"operations", "DISH,10", "Smallest radius [mm]", "1"}}, nil},
	{"the number of guns must be above 0", nil, []movedTo{{"operation", "guns", 0}}},
	{"the reject rate must lie between 0 and 100 %", nil, []movedTo{{"operation", "defect_share", -0.5}}},
	{"the reject rate must lie between 0 and 100 %", nil, []movedTo{{"operation", "defect_share", 100}}},
	{"the reject rate must lie between 0 and 100 %", nil, []movedTo{{"operation", "defect_share", 100.5}}},
	{"the unplanned downtime must lie between 0 and 100 %", nil, []movedTo{{"machine", "unplanned_downtime_share", -0.5}}},
	{"the unplanned downtime must lie between 0 and 100 %", nil, []movedTo{{"machine", "unplanned_downtime_share", 100}}},
	{"the unplanned downtime must lie between 0 and 100 %", nil, []movedTo{{"machine", "unplanned_downtime_share", 100.5}}},
}

// refused tries a library: the check must be among what is said against the case.
func (r refusal) refused(lib *costmodel.Library) bool {
	m := costmodel.New(r.tables, lib)
	var o costmodel.CompileOptions
	for _, f := range r.moved {
		sc := m.Schema.Scope(f.scope)
		n := sc.MustQuantity(f.quantity)
		o.Fix = append(o.Fix, costmodel.Fixed{Scope: f.scope, Quantity: f.quantity, Row: costmodel.AllRows, Value: f.value * sc.Quantities[n].Unit.Factor})
	}
	_, ds := m.Compile(m.Scenarios[0], o)
	for _, d := range ds {
		if d.Code == "check" && d.Severity == table.Error && strings.HasSuffix(d.Summary, ": "+r.say) {
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
		out = append(out, refusal{r.say, fmt.Sprint(r.cells, r.moved), archiveTables(t, a, "bare"), r.moved})
	}
	return out
}

// changeCell writes a cell of an archive's table; a heading that is missing is added.
func changeCell(t testing.TB, a *txtar.Archive, e cellTo) {
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
	for _, list := range [][]*costmodel.Template{lib.Scopes, lib.Forms, lib.Processes, lib.Sizes} {
		for _, tmpl := range list {
			for _, c := range tmpl.Checks {
				if c.Error && !said[c.Say] {
					t.Errorf("%s: no case is refused with %q", tmpl.File, c.Say)
				}
			}
		}
	}
}
