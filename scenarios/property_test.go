package scenarios

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/templates"
)

// csvSheets are the tables of a case as rows of text, by sheet: what a property test changes.
type csvSheets map[string][][]string

func sampleSheets(t testing.TB) csvSheets {
	t.Helper()
	tables, err := fs.Sub(templates.Files, "samples/battery-tray")
	if err != nil {
		t.Fatal(err)
	}
	out := csvSheets{}
	for _, l := range table.Layouts {
		rows, err := readCSV(tables, table.Normalise(l.Sheet)+".csv")
		if err != nil {
			t.Fatal(err)
		}
		if rows != nil {
			out[l.Sheet] = rows
		}
	}
	return out
}

// column finds a column by its heading without unit, making it where the sheet has none.
func (s csvSheets) column(sheet, heading string) int {
	name, _, _ := table.SplitHeading(heading)
	for c, text := range s[sheet][0] {
		if n, _, _ := table.SplitHeading(text); n == name {
			return c
		}
	}
	for r := range s[sheet] {
		s[sheet][r] = append(s[sheet][r], "")
	}
	s[sheet][0][len(s[sheet][0])-1] = heading
	return len(s[sheet][0]) - 1
}

// firstScenario leaves out all scenarios but the first.
func (s csvSheets) firstScenario() csvSheets {
	for r := range s["Scenarios"] {
		s["Scenarios"][r] = s["Scenarios"][r][:4]
	}
	return s
}

// key is what names a row: its first column, of Operations the first two.
func (s csvSheets) key(sheet string, row []string) string {
	if sheet == "Operations" {
		return row[0] + "/" + row[1]
	}
	return row[0]
}

// set writes a cell of the row of a key.
func (s csvSheets) set(t testing.TB, sheet, key, heading, text string) {
	t.Helper()
	c := s.column(sheet, heading)
	for _, row := range s[sheet][1:] {
		if s.key(sheet, row) == key {
			row[c] = text
			return
		}
	}
	t.Fatalf("no row %s in %s", key, sheet)
}

// scale multiplies the numbers of a column; where a row is a quantity, those of the row.
func (s csvSheets) scale(t testing.TB, sheet, name string, factor float64) {
	t.Helper()
	cells := 0
	multiply := func(cell *string) {
		if v, err := strconv.ParseFloat(*cell, 64); err == nil {
			*cell = strconv.FormatFloat(v*factor, 'g', -1, 64)
			cells++
		}
	}
	if sheet == "Case" || sheet == "Plants" {
		for _, row := range s[sheet] {
			if row[0] == name {
				for c := 2; c < len(row); c++ {
					multiply(&row[c])
				}
			}
		}
	} else {
		c := s.column(sheet, name)
		for _, row := range s[sheet][1:] {
			multiply(&row[c])
		}
	}
	if cells == 0 {
		t.Fatalf("no number under %s of %s", name, sheet)
	}
}

// add appends a row, filled up with empty cells.
func (s csvSheets) add(sheet string, cells ...string) {
	for len(cells) < len(s[sheet][0]) {
		cells = append(cells, "")
	}
	s[sheet] = append(s[sheet], cells)
}

var propertyLibrary = sync.OnceValues(func() (*costmodel.Library, error) { return costmodel.LoadLibrary(templates.Files) })

func (s csvSheets) model(t testing.TB) *costmodel.Model {
	t.Helper()
	files := fstest.MapFS{}
	for sheet, rows := range s {
		var b bytes.Buffer
		if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		files[table.Normalise(sheet)+".csv"] = &fstest.MapFile{Data: b.Bytes()}
	}
	c, err := ReadTables(files, "tables")
	if err != nil {
		t.Fatal(err)
	}
	lib, err := propertyLibrary()
	if err != nil {
		t.Fatal(err)
	}
	return costmodel.New(c, lib)
}

// costed costs every scenario at its own volume; there may be no error.
func (s csvSheets) costed(t testing.TB) []*costmodel.Detail {
	t.Helper()
	m := s.model(t)
	all := m.Diagnostics
	var out []*costmodel.Detail
	for _, sc := range m.Scenarios {
		p, ds := m.Compile(sc, costmodel.CompileOptions{})
		all = append(all, ds...)
		if p != nil {
			out = append(out, p.Detail(sc.Volume))
		}
	}
	if all.HasErrors() {
		t.Fatal(all)
	}
	return out
}

// sameCosts compares piece cost and elements of scenarios.
func sameCosts(t *testing.T, what string, relative float64, got, want []*costmodel.Detail) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %d scenarios, want %d", what, len(got), len(want))
	}
	for i := range got {
		for _, q := range sweepQuantities() {
			a, b := got[i].Scenario().Must(q), want[i].Scenario().Must(q)
			if !(math.Abs(a-b) <= relative*math.Abs(b)) {
				t.Errorf("%s, %s: %s is %v, want %v", what, got[i].Plan.Scenario.Name, q, a, b)
			}
		}
	}
}

func lineOf(t testing.TB, d *costmodel.Detail, scope, key string) costmodel.Entry {
	t.Helper()
	for _, l := range d.Entries(scope) {
		if l.Record().Key == key {
			return l
		}
	}
	t.Fatalf("no %s %s", scope, key)
	return costmodel.Entry{}
}

// sumOf adds a quantity over the rows of a scope.
func sumOf(d *costmodel.Detail, scope, quantity string) float64 {
	total := 0.0
	for _, l := range d.Entries(scope) {
		total += l.Must(quantity)
	}
	return total
}

// TestEverythingAddsUp holds that elements make the piece cost, steps make parts, and parts make the scenario.
func TestEverythingAddsUp(t *testing.T) {
	same := func(what string, got, want float64) {
		if math.Abs(got-want) > 1e-12*max(math.Abs(got), math.Abs(want)) {
			t.Errorf("%s: %v, want %v", what, got, want)
		}
	}
	for _, base := range sampleSheets(t).costed(t) {
		for _, volume := range []float64{1, 800, 60000, 1e6} {
			d := base.Plan.Detail(volume)
			s := d.Scenario()
			elements, annual := 0.0, 0.0
			for _, e := range libraryElements() {
				elements += s.Must("piece_" + e)
				annual += s.Must(e)
				same("parts' "+e, sumOf(d, "part", e), s.Must(e))
				same("operations' "+e, sumOf(d, "operation", e), s.Must(e))
			}
			same("elements", elements, s.Must("piece_cost"))
			same("annual elements", annual, s.Must("annual_cost"))
			same("parts", sumOf(d, "part", "annual_cost"), s.Must("annual_cost"))
			same("operations", sumOf(d, "operation", "piece_cost"), s.Must("piece_cost"))
			same("a year", s.Must("piece_cost")*volume, s.Must("annual_cost"))
		}
	}
}

// TestTwiceTheTools doubles what tools and their refurbishment cost: the tooling element doubles to the last digit.
func TestTwiceTheTools(t *testing.T) {
	base := sampleSheets(t).costed(t)
	twice := sampleSheets(t)
	twice.scale(t, "Operations", "Tool price", 2)
	twice.scale(t, "Operations", "Refurbishment cost", 2)
	for i, d := range twice.costed(t) {
		for _, q := range []string{"piece_tooling", "tooling_investment"} {
			if got, want := d.Scenario().Must(q), 2*base[i].Scenario().Must(q); got != want {
				t.Errorf("%s: %s is %v, want %v", d.Plan.Scenario.Name, q, got, want)
			}
		}
		for _, q := range []string{"piece_material", "piece_labour", "piece_equipment"} {
			if d.Scenario().Must(q) != base[i].Scenario().Must(q) {
				t.Errorf("%s: %s changed", d.Plan.Scenario.Name, q)
			}
		}
	}
}

// TestChangesOfNothing holds that a scenario whose changes say what is there already costs the same to the last digit.
func TestChangesOfNothing(t *testing.T) {
	s := sampleSheets(t)
	a, again := s.column("Scenarios", "A baseline"), s.column("Scenarios", "A again")
	for _, row := range s["Scenarios"][1:] {
		row[again] = row[a]
	}
	for _, c := range [][4]string{
		{"Parts", "*", "Gauge", "base"}, {"Operations", "A01", "Load and process time", "base"}, {"Machines", "E02", "Price", "base * 1"},
		{"Operations", "A04/20", "Tool price", "550000"}, {"Operations", "*/10", "Cycle time [s]", "base"}, {"Case", "", "Interest rate", "9"},
		{"Parts", "A01", "Material", "M01"}, {"Operations", "A01/10", "Machine", "E01"}, {"Bill of materials", "FRAME_A/NUTBR", "Quantity", "base"},
		{"Plants", "Van plant", "Direct labour rate", "38"}, {"Materials", "* except M01", "Scrap price", "base"},
	} {
		s.add("Scenarios", c[0], c[1], c[2])
		s["Scenarios"][len(s["Scenarios"])-1][again] = c[3]
	}
	ds := s.costed(t)
	sameCosts(t, "changes of nothing", 0, ds[3:], ds[:1])
}

// wholeCounts are the quantities that count whole things.
var wholeCounts = map[string][]string{"operation": {"batches", "parallel_tool_sets", "tool_sets", "refurbishments", "dedicated_machines"},
	"machine": {"pool_machines", "pool_crew_shifts"}}

func countsAt(d *costmodel.Detail) (out []float64) {
	for _, scope := range []string{"operation", "machine"} {
		for _, l := range d.Entries(scope) {
			for _, q := range wholeCounts[scope] {
				out = append(out, l.Must(q))
			}
		}
	}
	return out
}

// TestAffineBetweenJumps holds that annual cost rises in a straight line with volume as long as every whole count stays,
// and that it jumps where one changes.
func TestAffineBetweenJumps(t *testing.T) {
	for _, d := range sampleSheets(t).costed(t) {
		straight, jumps := 0, 0
		for v := 60000.0; v < 60400; v++ {
			var counts [3][]float64
			var cost [3]float64
			for i := range cost {
				at := d.Plan.Detail(v + float64(i))
				counts[i], cost[i] = countsAt(at), at.Scenario().Must("annual_cost")
			}
			second := math.Abs(cost[0]-2*cost[1]+cost[2]) / cost[1]
			switch same := slices.Equal(counts[0], counts[1]) && slices.Equal(counts[1], counts[2]); {
			case same && second > 1e-12:
				t.Errorf("%s at %v: the cost bends by %v", d.Plan.Scenario.Name, v, second)
			case same:
				straight++
			case second > 1e-10:
				jumps++
			}
		}
		if straight < 100 || jumps < 3 {
			t.Errorf("%s: %d straight stretches, %d jumps", d.Plan.Scenario.Name, straight, jumps)
		}
	}
}

// TestUnitsOfHeadings changes the unit of a heading and its numbers with it.
func TestUnitsOfHeadings(t *testing.T) {
	base := sampleSheets(t).firstScenario().costed(t)
	for _, c := range []struct {
		sheet, name, unit string
		factor            float64 // numbers in the new unit for one in the old
	}{
		{"Parts", "Gauge", "in", 1 / 25.4}, {"Parts", "Blank length", "m", 1e-3}, {"Parts", "Nesting utilisation", "1", 0.01},
		{"Parts", "Purchase mass", "lb", 1 / 0.45359237},
		{"Operations", "Set-up time", "s", 60}, {"Operations", "Load and process time", "min", 1. / 60}, {"Operations", "Reject rate", "1", 0.01},
		{"Operations", "Seam length", "ft", 1 / 304.8}, {"Operations", "Time per seam length", "s/m", 1000},
		{"Materials", "Base price", "EUR/t", 1000}, {"Materials", "Scrap price", "EUR/g", 1e-3}, {"Materials", "Density", "g/cm3", 1e-3},
		{"Machines", "Economic life", "month", 12}, {"Machines", "Footprint", "cm2", 1e4}, {"Machines", "Rated power", "W", 1000},
		{"Machines", "Maintenance share",
			"1/yr", 0.01},
		{"Plants", "Paid hours per shift", "min", 60}, {"Plants", "Direct labour rate", "EUR/min", 1. / 60}, {"Plants", "Electricity price", "EUR/MJ", 1 / 3.6},
		{"Plants", "Planned capacity utilisation", "1", 0.01}, {"Case", "Interest rate", "1/yr", 0.01}, {"Case", "Working capital days", "h", 24},
		{"Case", "Programme life", "month", 12},
	} {
		s := sampleSheets(t).firstScenario()
		s.scale(t, c.sheet, c.name, c.factor)
		if c.sheet == "Plants" || c.sheet == "Case" {
			s.set(t, c.sheet, c.name, "Unit", c.unit)
		} else {
			s[c.sheet][0][s.column(c.sheet, c.name)] = fmt.Sprintf("%s [%s]", c.name, c.unit)
		}
		sameCosts(t, c.name+" in "+c.unit, 1e-12, s.costed(t), base)
	}
}

// TestMassBalance draws rejects and extra pieces: what is bought is shipped or scrap, to a milligram a product.
func TestMassBalance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for n := 0; n < 5; n++ {
		s := sampleSheets(t)
		for _, row := range s["Operations"][1:] {
			row[s.column("Operations", "Reject rate")] = fmt.Sprint(rnd.Float64() * 20)
		}
		extra := s.column("Parts", "Extra pieces [1/yr]")
		for _, row := range s["Parts"][1:] {
			if rnd.IntN(3) == 0 {
				row[extra] = fmt.Sprint(rnd.IntN(5000))
			}
		}
		for _, d := range s.costed(t) {
			if off := d.Scenario().Must("mass_imbalance"); math.Abs(off) > 1e-6 || d.Scenario().Must("extra_mass") == 0 {
				t.Errorf("%s: %v kg too many, extra pieces %v kg", d.Plan.Scenario.Name, off, d.Scenario().Must("extra_mass"))
			}
		}
	}
}

// TestExtraPieces holds that spare parts raise what is bought by their own masses, and what is paid.
func TestExtraPieces(t *testing.T) {
	base, more := sampleSheets(t), sampleSheets(t)
	more.set(t, "Parts", "COVER_A", "Extra pieces [1/yr]", "1200")
	a, b := base.costed(t)[0].Scenario(), more.costed(t)[0].Scenario()
	if rise, net := b.Must("gross_mass")-a.Must("gross_mass"), b.Must("extra_mass"); net <= 0 || rise <= net {
		t.Errorf("gross mass rises by %v kg for %v kg of extra covers", rise, net)
	}
	if b.Must("net_mass") != a.Must("net_mass") || b.Must("piece_cost") <= a.Must("piece_cost") {
		t.Errorf("net mass %v and %v, piece cost %v and %v", a.Must("net_mass"), b.Must("net_mass"), a.Must("piece_cost"), b.Must("piece_cost"))
	}
}

// TestOrderOfRows shuffles the rows of every sheet; each part and step costs what it did.
func TestOrderOfRows(t *testing.T) {
	base := sampleSheets(t).costed(t)
	for seed := uint64(1); seed < 4; seed++ {
		rnd := rand.New(rand.NewPCG(seed, 5))
		s := sampleSheets(t)
		for _, l := range table.Layouts {
			if rows := s[l.Sheet]; len(rows) > 1 {
				rnd.Shuffle(len(rows)-1, func(i, j int) { rows[i+1], rows[j+1] = rows[j+1], rows[i+1] })
			}
		}
		shuffled := s.costed(t)
		sameCosts(t, "shuffled", 1e-12, shuffled, base)
		for i, d := range shuffled {
			for _, scope := range []string{"part", "operation"} {
				for _, l := range base[i].Entries(scope) {
					got, want := lineOf(t, d, scope, l.Record().Key).Must("annual_cost"), l.Must("annual_cost")
					if math.Abs(got-want) > 1e-12*math.Abs(want) {
						t.Errorf("%s, %s %s: %v, want %v", d.Plan.Scenario.Name, scope, l.Record().Key, got, want)
					}
				}
			}
		}
	}
}

// onePart is a case of one part of one step on a shared machine, without set-up and tools: all its cost is by the piece.
func onePart() csvSheets {
	table := func(text string) (rows [][]string) {
		for _, line := range strings.Split(text, "\n") {
			rows = append(rows, strings.Split(line, ","))
		}
		return rows
	}
	return csvSheets{
		"Case": table("Quantity,Unit,Value\nModel currency,,EUR\nProgramme life,yr,5\nInterest rate,%/yr,8\nWorking capital days,d,30"),
		"Plants": table("Quantity,Unit,Works\nWorking days,1/yr,230\nShifts,1,2\nPaid hours per shift,h,8\nDirect labour rate,EUR/h,35\n" +
			"Indirect labour share,%,25\nFixed overhead share,%,10\nElectricity price,EUR/kWh,0.16\nBuilding price,EUR/m2,1500\nTool maintenance share,%/yr,2"),
		"Materials": table("Material,Density [kg/m3],Base price [EUR/kg],Scrap price [EUR/kg]\nS1,7850,0.95,0.25"),
		"Machines": table("Machine,Price [EUR],Economic life [yr],Footprint [m2],Rated power [kW],Crew,Maintenance share [%/yr]," +
			"Equipment allocation\nPRESS,900000,12,80,90,1,4,shared"),
		"Parts": table("Part,Form,Material,Gauge [mm],Blank length [mm],Blank width [mm],Trim loss share [%]\nPLATE,sheet,S1,2,160,110,15"),
		"Operations": table("Part,Operation,Process,Machine,Load and process time [s],Reject rate [%],Set-up time [min],Batch size,Consumables per piece " +
			"[EUR]\nPLATE,10,timed operation,PRESS,1.5,0.5,0,5000,0.01"),
		"Scenarios": table("Sheet,Row,Column,One\n,,Annual volume [1/yr],100000\n,,Product,PLATE"),
	}
}

// TestVolumeAlone holds that without set-up, tools and whole machines the volume decides nothing, and that one tool set
// is spread over the pieces.
func TestVolumeAlone(t *testing.T) {
	d := onePart().costed(t)[0]
	tooled := onePart()
	tooled.set(t, "Operations", "PLATE/10", "Tool price [EUR]", "60000")
	tooled.set(t, "Operations", "PLATE/10", "Tool life", "1e9")
	one := tooled.costed(t)[0]
	for _, v := range []float64{1, 3, 500, 60000.5, 1e6} {
		for _, q := range sweepQuantities() {
			got, want := d.Plan.Detail(v).Scenario().Must(q), d.Scenario().Must(q)
			if math.Abs(got-want) > 1e-12*math.Abs(want) {
				t.Errorf("at %v per year %s is %v, at 100,000 %v", v, q, got, want)
			}
		}
		half, full := one.Plan.Detail(2*v).Scenario(), one.Plan.Detail(v).Scenario()
		for _, e := range libraryElements() {
			spread := map[string]bool{"tooling": true, "maintenance": true, "overhead": true}[e]
			untooled := d.Scenario().Must("piece_" + e)
			a, b := full.Must("piece_"+e)-untooled, half.Must("piece_"+e)-untooled
			if scale := math.Abs(full.Must("piece_" + e)); math.Abs(a-2*b) > 1e-11*scale || spread == (a <= 1e-9*scale) {
				t.Errorf("%s at %v: the tool costs %v a piece, at twice the volume %v", e, v, a, b)
			}
		}
	}
}

// TestCurrencies writes prices in another currency: a column, a single cell, a plant's row.
func TestCurrencies(t *testing.T) {
	base, s := sampleSheets(t), sampleSheets(t)
	s["Currencies"] = [][]string{{"Code", "Rate"}, {"CZK", "0.04"}, {"USD", "0.92"}}
	s.scale(t, "Machines", "Price", 1/0.04)
	s["Machines"][0][s.column("Machines", "Price")] = "Price [CZK]"
	s.set(t, "Operations", "A01/20", "Tool price", fmt.Sprintf("%v USD", 654000/0.92))
	s.set(t, "Plants", "Direct labour rate", "Van plant", "950 CZK/h")
	sameCosts(t, "in CZK and USD", 1e-12, s.costed(t), base.costed(t))
}

// TestTwoPlants moves a step to a plant with another wage, and one off a pool: each plant has its own pool.
func TestTwoPlants(t *testing.T) {
	second := func(wage string) csvSheets {
		s := sampleSheets(t)
		c := s.column("Plants", "Second plant")
		for _, row := range s["Plants"][1:] {
			row[c] = row[2]
		}
		s.set(t, "Plants", "Direct labour rate", "Second plant", wage)
		return s
	}
	here := second("19").costed(t)[0]
	s := second("19")
	s.set(t, "Operations", "A04/20", "Plant", "Second plant")
	s.set(t, "Operations", "FRAME_A/10", "Plant", "Second plant")
	away := s.costed(t)[0]
	for _, q := range []string{"labour", "equipment", "energy", "material"} {
		want := lineOf(t, here, "operation", "A04/20").Must(q)
		if q == "labour" {
			want /= 2
		}
		if got := lineOf(t, away, "operation", "A04/20").Must(q); math.Abs(got-want) > 1e-12*want {
			t.Errorf("%s of the operation moved is %v, want %v", q, got, want)
		}
	}
	var hours, machines []float64
	for _, l := range away.Entries("machine") {
		if v := l.Must("pool_hours"); l.Record().Key == "E11" && v > 0 {
			hours, machines = append(hours, v), append(machines, l.Must("pool_machines"))
		}
	}
	all := lineOf(t, here, "machine", "E11")
	if len(hours) != 2 || math.Abs(hours[0]+hours[1]-all.Must("pool_hours")) > 1e-9*hours[0] || machines[0]+machines[1] < all.Must("pool_machines") {
		t.Errorf("pools of %v s and %v machines, in one plant %v s and %v", hours, machines, all.Must("pool_hours"), all.Must("pool_machines"))
	}
	if got := lineOf(t, away, "operation", "FRAME_A/10").Must("required_hours"); !slices.Contains(hours, got) {
		t.Errorf("the operation alone in its plant needs %v s, the pools have %v", got, hours)
	}
}

// TestAlternatives gives a part two rows; the scenario's list decides which counts.
func TestAlternatives(t *testing.T) {
	thin := sampleSheets(t)
	thin.set(t, "Parts", "A01", "Gauge", "0.65")
	both := sampleSheets(t)
	both.set(t, "Parts", "A01", "Alternative", "x")
	for _, row := range both["Parts"] {
		if row[0] == "A01" {
			both["Parts"] = append(both["Parts"], slices.Clone(row))
			break
		}
	}
	last := both["Parts"][len(both["Parts"])-1]
	last[both.column("Parts", "Alternative")], last[both.column("Parts", "Gauge")] = "y, z", "0.65"
	for list, want := range map[string]csvSheets{"x": sampleSheets(t), "y": thin, " Z ,": thin} {
		both["Scenarios"][3] = []string{"", "", "Alternatives", list, "", "", ""}
		sameCosts(t, "alternative "+list, 0, both.costed(t)[:1], want.costed(t)[:1])
	}
	for list, say := range map[string]string{"x, y": "part A01 counts twice", "": "A01 does not count in this scenario"} {
		both["Scenarios"][3][3] = list
		m := both.model(t)
		_, ds := m.Compile(m.Scenarios[0], costmodel.CompileOptions{})
		if !ds.HasErrors() || !strings.Contains(fmt.Sprint(ds), say) {
			t.Errorf("alternatives %q: %v, want %s", list, ds, say)
		}
	}
}

// TestChargingRuleOfAStep overrides the rule of one step: it buys whole machines and leaves the others their pool.
func TestChargingRuleOfAStep(t *testing.T) {
	base := sampleSheets(t).costed(t)[0]
	s := sampleSheets(t)
	s.set(t, "Operations", "FRAME_A/10", "Equipment allocation", "dedicated")
	d := s.costed(t)[0]
	step, was := lineOf(t, d, "operation", "FRAME_A/10"), lineOf(t, base, "operation", "FRAME_A/10")
	hours := lineOf(t, d, "plant", "Van plant").Must("planned_hours")
	whole := math.Ceil(step.Must("required_hours") / hours)
	if got := step.Must("machines_charged"); got != whole || step.Choice("equipment_allocation") != "dedicated" {
		t.Errorf("%v machines, want %v, by the rule %s", got, whole, step.Choice("equipment_allocation"))
	}
	if got, want := lineOf(t, d, "machine", "E11").Must("pool_hours"),
		lineOf(t, base, "machine", "E11").Must("pool_hours")-was.Must("required_hours"); math.Abs(got-want) > 1e-9*want {
		t.Errorf("the pool has %v s, want %v", got, want)
	}
	if got, want := step.Must("equipment"), whole*lineOf(t, d, "machine", "E11").Must("annual_capital"); math.Abs(got-want) > 1e-12*want {
		t.Errorf("equipment %v, want %v", got, want)
	}
}

// TestDearerInputs holds the sign of what an input does to the piece cost.
func TestDearerInputs(t *testing.T) {
	base := sampleSheets(t).firstScenario().costed(t)
	for _, c := range []struct {
		sheet, name  string
		factor, sign float64
	}{
		{"Materials", "Base price", 1.1, 1}, {"Materials", "Scrap price", 1.1, -1}, {"Parts", "Gauge", 1.1, 1}, {"Parts", "Nesting utilisation", 0.9, 1},
		{"Operations", "Load and process time", 1.2, 1}, {"Operations", "Reject rate", 2, 1}, {"Operations", "Batch size", 0.5, 1},
		{"Operations", "Tool life", 0.3, 1},
		{"Machines", "Price", 1.1, 1}, {"Machines", "Economic life", 2, -1}, {"Machines", "Unplanned downtime share", 1.5, 1},
		{"Plants", "Direct labour rate", 1.1, 1}, {"Plants", "Planned capacity utilisation", 1.1, -1}, {"Plants", "Electricity price", 1.1, 1},
		{"Plants", "Shifts", 1.5, -1},
		{"Case", "Interest rate", 1.1, 1}, {"Case", "Programme life", 2, -1},
	} {
		s := sampleSheets(t).firstScenario()
		s.scale(t, c.sheet, c.name, c.factor)
		for i, d := range s.costed(t) {
			if got, was := d.Scenario().Must("piece_cost"), base[i].Scenario().Must("piece_cost"); (got-was)*c.sign <= 0 {
				t.Errorf("%s: %s times %v takes the piece cost from %v to %v", d.Plan.Scenario.Name, c.name, c.factor, was, got)
			}
		}
	}
}
