package scenarios

import (
	"bytes"
	"encoding/csv"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"sort"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
)

// A spread is an input as the generator draws it.
type spread struct {
	name   string
	lo, hi float64
	units  string // the first one and others, with what one of them is in the first: "mm in=25.4 m=1000"; CUR is the model currency
	given  bool   // must be there
	strict bool   // an expression may not leave the range
}

// caseDraw draws one random case, all of it invented.
type caseDraw struct {
	*rand.Rand
	s         csvSheets
	money     string // the model currency
	other     string // another one with a rate, or the model currency
	curve     bool
	plants    []string
	grades    []string
	machines  []string
	processes map[string][]spread
	parts     []*partDraw
	tags      bool                  // rows have the alternatives x and y
	units     map[string]columnUnit // by sheet and quantity
	drawn     map[string]bool
}

// columnUnit is the unit of a column and what one of it is in the first unit of its spread.
type columnUnit struct {
	text   string
	factor float64
}

// partDraw is a part of a drawn case.
type partDraw struct {
	key, form string
	steps     []string
	children  []linkDraw
}

type linkDraw struct {
	child *partDraw
	step  string
}

func (g *caseDraw) chance(p float64) bool { return g.Float64() < p }

func (g *caseDraw) between(lo, hi float64) float64 { return lo + (hi-lo)*g.Float64() }

// ratio draws evenly on a logarithmic scale.
func (g *caseDraw) ratio(lo, hi float64) float64 { return lo * math.Pow(hi/lo, g.Float64()) }

func (g *caseDraw) pick(list ...string) string { return list[g.IntN(len(list))] }

// feature notes that a case has something, so that the test can tell what its cases cover.
func (g *caseDraw) feature(name string) { g.drawn[name] = true }

// short writes a number with four digits.
func short(v float64) string {
	n, _ := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 4, 64), 64)
	return strconv.FormatFloat(n, 'f', -1, 64)
}

// unit draws one of a spread's units and what one of it is in the first.
func (g *caseDraw) unit(q spread) (text string, factor float64) {
	list := strings.Fields(q.units)
	at := list[0]
	if g.chance(0.35) {
		at = list[g.IntN(len(list))]
		if at != list[0] {
			g.feature("another unit")
		}
	}
	text, scale, _ := strings.Cut(at, "=")
	factor = 1
	if scale != "" {
		factor, _ = strconv.ParseFloat(scale, 64)
	}
	if strings.Contains(text, "CUR") && g.other != g.money && g.chance(0.2) {
		g.feature("another currency")
		return strings.ReplaceAll(text, "CUR", g.other), factor
	}
	return strings.ReplaceAll(text, "CUR", g.money), factor
}

func quoted(v float64, unit string) string {
	if unit == "1" {
		return short(v)
	}
	return fmt.Sprintf("%q", short(v)+" "+unit)
}

// cell draws the content of a cell whose column is in the given unit: a number, a quantity or an expression.
func (g *caseDraw) cell(q spread, unit string, factor float64, names []string) string {
	v := g.between(q.lo, q.hi)
	switch p := g.Float64(); {
	case p < 0.84 || names == nil:
		return short(v / factor)
	case p < 0.9:
		u, f := g.unit(q)
		if u == "1" {
			return short(v / factor)
		}
		g.feature("a quantity with its unit")
		return short(v/f) + " " + u
	}
	g.feature("an expression")
	u, f := g.unit(q)
	a, b := quoted(v/f, u), quoted(g.between(q.lo, q.hi)/f, u)
	text := fmt.Sprintf("scenario.annual_volume > %d ? %s : %s", g.IntN(300000), a, b)
	switch g.IntN(4) {
	case 0:
		g.feature("min and max in a cell")
		text = fmt.Sprintf("max(min(%s, %s), %s)", a, b, quoted(q.lo/f, u))
	case 1, 2:
		if !q.strict {
			text = a + " * " + g.factorText(names)
		}
	default:
		if !strings.HasPrefix(unit, "%") { // a bare number takes the column's unit
			text = fmt.Sprintf("scenario.annual_volume > %d ? %s : %s", g.IntN(300000), short(v/factor), short(g.between(q.lo, q.hi)/factor))
		}
	}
	if g.chance(0.3) {
		return "=" + text
	}
	return text
}

// plainFactors are expressions near 1 that hold everywhere.
var plainFactors = []string{`(1 + 0.1 / ceil(1 + scenario.annual_volume / "7771 1/yr"))`, `learning(1 + scenario.annual_volume * "1 yr" / 1000, 0.98)`,
	`sqrt(1.21)`, `power(1.1, 0.5)`, `exp(0.05)`, `ln(3)`, `abs(0 - 1.1)`, `round(2.6) / 3`, `floor(7.3) / 7`, `capital_recovery("6 %/yr", "8 yr") * "6 yr"`,
	`present_worth("5 %/yr", "5 yr") / "5 yr"`, `(scenario.annual_volume > 20000 and not (scenario.annual_volume > 90000) ? 1 : 0.9)`}

func (g *caseDraw) factorText(names []string) string {
	if g.curve && g.chance(0.3) {
		g.feature("a curve")
		return "interpolate(rise, scenario.annual_volume)"
	}
	list := plainFactors
	if len(names) > 0 && g.chance(0.6) {
		list = names
		g.feature("a name of another row")
	}
	return list[g.IntN(len(list))]
}

// addColumn fills cells of a column, those of the rows that want one, and adds the column where it is not there.
func (g *caseDraw) addColumn(sheet string, q spread, fill float64, wants func(row []string) bool, names func(row []string) []string) {
	u, known := g.units[sheet+q.name]
	heading := q.name
	if !known {
		u.text, u.factor = g.unit(q)
		g.units[sheet+q.name] = u
		if q.units != "1" || g.chance(0.2) {
			heading += " [" + u.text + "]"
		}
	}
	c := g.s.column(sheet, heading)
	for _, row := range g.s[sheet][1:] {
		if wants(row) && (q.given || g.chance(fill)) {
			row[c] = g.cell(q, u.text, u.factor, names(row))
		}
	}
}

func everyRow([]string) bool { return true }

func always(names ...string) func([]string) []string {
	return func([]string) []string { return names }
}

// frame draws what stands around the parts: case, currencies, plants, grades, machines, curves, own processes.
func (g *caseDraw) frame() {
	g.money, g.other = g.pick("EUR", "EUR", "USD", "JPY", "GBP"), ""
	if g.chance(0.4) {
		g.other = g.pick("CZK", "CHF", "PLN")
		g.s["Currencies"] = [][]string{{"Code", "Rate"}, {g.other, short(g.ratio(0.04, 20))}, {"MXN", "0.05"}}
	} else {
		g.other = g.money
	}
	if g.curve = g.chance(0.3); g.curve {
		g.s["Tables"] = [][]string{{"Curve", "X", "X unit", "Y", "Y unit"}}
		x := 0.0
		for i := 0; i < 2+g.IntN(4); i++ {
			x += g.ratio(100, 100000)
			g.s.add("Tables", "rise", short(x), "1/yr", short(g.between(80, 120)), "%")
		}
	}
	g.s["Case"] = [][]string{{"Quantity", "Unit", "Value", "Source"}, {"Model currency", "", g.money, "invented"}, {"Claim", "", "none", ""}}
	g.quantityRows("Case", []string{"Value"}, []spread{
		{"Programme life", 1, 12, "yr month=0.08333333333333333", true, true}, {"Working capital days", 0, 90, "d h=0.0416666666666666667", false, true},
		{"SG&A share", 0, 12, "% 1=100", false, true}, {"Profit share", 0, 12, "% 1=100", false, true}, {"Material handling", 0, 2, "CUR", false, true},
		{"Packaging", 0, 3, "CUR", false, true}, {"Freight", 0, 3, "CUR", false, true}, {"Duty", 0, 1, "CUR", false, true}, {"Value of a saved kilogram", 0, 9, "CUR/kg CUR/t=0.001", false, true},
	}, nil)
	interest := spread{"Interest", 1, 15, "%/yr 1/yr=100", true, true}
	if g.chance(0.2) {
		interest.lo, interest.hi = 0, 0
		g.feature("no interest")
	}
	g.quantityRows("Case", []string{"Value"}, []spread{interest}, nil)
	g.plantSheet()
	g.gradeSheet()
	g.machineSheet()
}

// quantityRows adds rows to a sheet on which a row is a quantity.
func (g *caseDraw) quantityRows(sheet string, things []string, list []spread, names []string) {
	for _, q := range list {
		if !q.given && g.chance(0.3) {
			continue
		}
		unit, factor := g.unit(q)
		row := []string{q.name, unit}
		for range things {
			row = append(row, g.cell(q, unit, factor, names))
		}
		g.s.add(sheet, row...)
	}
}

func (g *caseDraw) plantSheet() {
	g.plants = []string{"Works", "Second works", "Plant 3"}[:1+g.IntN(3)]
	if len(g.plants) > 1 {
		g.feature("several plants")
	}
	g.s["Plants"] = [][]string{append(append([]string{"Quantity", "Unit"}, g.plants...), "Source")}
	g.quantityRows("Plants", g.plants, []spread{
		{"Working days", 200, 320, "1/yr", true, true}, {"Shifts", 1, 3.4, "1", true, true}, {"Paid hours per shift", 7, 9, "h min=0.016666666666666666", true, true},
		{"Paid break per shift", 0, 0.7, "h min=0.016666666666666666", false, true}, {"Planned stop per shift", 0, 0.5, "h", false, true},
		{"Direct labour rate", 5, 60, "CUR/h CUR/min=60", true, false}, {"Indirect labour share", 0, 60, "% 1=100", false, false}, {"Fixed overhead share", 0, 30, "% 1=100", false, false},
		{"Electricity price", 0.05, 0.3, "CUR/kWh CUR/MJ=3.6", false, false}, {"Building price", 500, 2000, "CUR/m2 CUR/ft2=10.76391041670972", false, false},
		{"Building life", 15, 40, "yr", false, true}, {"Aisle factor", 1, 2, "1", false, false}, {"Planned load", 55, 100, "% 1=100", false, true},
		{"Line balance", 60, 100, "% 1=100", false, true}, {"Mixed scrap price", 0, 0.3, "CUR/kg CUR/t=0.001", false, false}, {"Tool maintenance share", 0, 5, "%/yr 1/yr=100", false, true},
	}, []string{`(1 + case.interest * "0.5 yr")`, `case.programme_life / "6 yr"`})
	if g.chance(0.15) {
		g.feature("an override in Plants")
		g.quantityRows("Plants", g.plants, []spread{{g.pick("Interest"), 2, 12, "%/yr", true, true}, {"Planned hours", 2000, 6000, "h/yr", true, true}}, nil)
	}
}

func (g *caseDraw) gradeSheet() {
	g.s["Materials"] = [][]string{{"Material", "Name", "Form"}}
	for i := 0; i < 2+g.IntN(3); i++ {
		g.grades = append(g.grades, fmt.Sprintf("G%d", i+1))
		g.s.add("Materials", g.grades[i], "grade of no mill", "coil")
	}
	names := always(`(1 + case.interest * "0.5 yr")`, `case.programme_life / "6 yr"`)
	for _, q := range []spread{{"Density", 2600, 8900, "kg/m3 g/cm3=1000", true, false}, {"Base price", 0.5, 6, "CUR/kg CUR/t=0.001 CUR/lb=2.204622621848776", true, false},
		{"Extras", 0, 0.6, "CUR/kg CUR/t=0.001", false, false}, {"Scrap price", 0, 0.25, "CUR/kg CUR/t=0.001", false, false}, {"Tensile strength", 150, 1200, "MPa N/mm2", false, false}} {
		if q.given || g.chance(0.7) {
			g.addColumn("Materials", q, 0.8, everyRow, names)
		}
	}
	if g.chance(0.1) {
		g.feature("an override in Materials")
		g.addColumn("Materials", spread{"Price", 0.6, 6, "CUR/kg", false, false}, 0.5, everyRow, names)
	}
}

func (g *caseDraw) machineSheet() {
	g.s["Machines"] = [][]string{{"Machine", "Name", "Group"}}
	for i := 0; i < 2+g.IntN(4); i++ {
		g.machines = append(g.machines, fmt.Sprintf("E%02d", i+1))
		g.s.add("Machines", g.machines[i], "machine of no maker", g.pick("forming", "joining"))
	}
	names := always(`(1 + case.interest * "0.5 yr")`, `(0.8 + 0.1 * plant.shifts)`, `case.programme_life / "6 yr"`)
	for _, q := range []spread{{"Price", 2e4, 9e6, "CUR", true, false}, {"Life", 4, 20, "yr month=0.08333333333333333", true, true}, {"Installation share", 0, 20, "% 1=100", false, true},
		{"Resale value", 0, 15000, "CUR", false, false}, {"Footprint", 5, 600, "m2 ft2=0.09290304", false, false}, {"Rated power", 2, 900, "kW W=0.001", false, false},
		{"Power load share", 20, 100, "% 1=100", false, true}, {"Crew", 0, 4, "1", false, false}, {"Maintenance share", 0, 8, "%/yr 1/yr=100", false, true},
		{"Unplanned downtime share", 0, 40, "% 1=100", false, true}, {"Rated force", 100, 40000, "kN MN=1000", false, false}} {
		if q.given || g.chance(0.75) {
			g.addColumn("Machines", q, 0.85, everyRow, names)
		}
	}
	rule, labour := g.s.column("Machines", "Charging rule"), -1
	if g.chance(0.7) {
		labour = g.s.column("Machines", "Labour rule")
	}
	for _, row := range g.s["Machines"][1:] {
		row[rule] = g.pick("shared", "dedicated", "pooled", "pooled")
		if labour >= 0 {
			row[labour] = g.pick("hours", "whole shifts", "whole shifts", "")
		}
	}
	if g.chance(0.15) {
		g.feature("an override in Machines")
		q := []spread{{"Installed price", 2e4, 9e6, "CUR", false, false}, {"Annual capital", 2e3, 9e5, "CUR/yr", false, false}, {"Hour rate", 10, 300, "CUR/h", false, false}, {"Annual building", 0, 9e4, "CUR/yr", false, false}}
		g.addColumn("Machines", q[g.IntN(len(q))], 0.5, everyRow, names)
	}
}

// ownProcesses are definitions that a workbook may bring.
var ownProcesses = map[string][][]string{
	"a new process":          {{"double stroke", "load_and_process_time", "s", "2 * stroke_time + part_time"}, {"double stroke", "stroke_time", "s", ""}, {"double stroke", "part_time", "s", "1.5"}},
	"a replaced equation":    {{"all operations", "overhead", "CUR/yr", "plant.indirect_labour_share * labour + 0.1 * tooling"}},
	"a changed process":      {{"spot welding", "time_per_joint", "s", "1.1 * (squeeze_time + weld_time + hold_time + move_time)"}},
	"a changed form":         {{"sheet", "blank_mass", "kg", "1.02 * blank_length * blank_width * gauge * material.density"}},
	"an additional quantity": {{"all operations", "hours_a_piece", "h", "required_hours / produced_quantity"}, {"all scenarios", "labour_share", "%", "piece_labour / piece_cost"}, {"all machines", "idle_hours", "h/yr", `max("0 h/yr", plant.planned_hours - hours_used)`}},
}

func (g *caseDraw) ownSheet() {
	if !g.chance(0.35) {
		return
	}
	g.s["Processes"] = [][]string{{"Process", "Quantity", "Unit", "Formula or value", "Note"}}
	for _, name := range sortedKeys(ownProcesses) {
		if name != "a new process" && !g.chance(0.35) {
			continue
		}
		g.feature(name)
		for _, row := range ownProcesses[name] {
			g.s.add("Processes", row[0], row[1], strings.ReplaceAll(row[2], "CUR", g.money), row[3], "invented")
		}
	}
	g.processes["double stroke"] = []spread{{"Stroke time", 1, 9, "s min=60", true, false}}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}

// tree draws parts and the links between them.
func (g *caseDraw) tree() {
	n := 3 + g.IntN(3)
	if g.chance(0.3) {
		n += g.IntN(7)
	}
	for i := range n {
		p := &partDraw{key: fmt.Sprintf("P%02d", i), form: g.pick("assembly", "assembly", "sheet", "sheet", "strip", "tube", "profile", "tailored blank", "bought part", "bought part")}
		if i == 0 {
			p.form = g.pick("assembly", "assembly", "assembly", "sheet", "tailored blank")
		}
		for parents := min(i, g.IntN(10)/6+1+g.IntN(10)/9); parents > 0; parents-- {
			g.join(g.parts[g.IntN(i)], p)
		}
		if i > 0 && !slices.ContainsFunc(g.parts, func(q *partDraw) bool { return q.joinedBy(p) }) {
			g.join(g.parts[0], p)
		}
		g.parts = append(g.parts, p)
	}
	for i, p := range g.parts {
		if p.form == "tailored blank" && !g.subBlanks(p) {
			p.form = "sheet"
		}
		g.feature(p.form)
		for s := 1 + g.IntN(10)/6 + g.IntN(10)/8 + g.IntN(10)/9; p.form != "bought part" && s > 0; s-- {
			p.steps = append(p.steps, strconv.Itoa(10*len(p.steps)+10))
		}
		for j := range p.children {
			p.children[j].step = p.steps[g.IntN(len(p.steps))]
			if p.form == "tailored blank" && (j == 0 || g.chance(0.5)) {
				p.children[j].step = p.steps[0]
			}
		}
		if i > 0 && g.uses(p) > 1 {
			g.feature("a child of several parents")
		}
	}
}

func (p *partDraw) joinedBy(child *partDraw) bool {
	return slices.ContainsFunc(p.children, func(l linkDraw) bool { return l.child == child })
}

func (g *caseDraw) uses(p *partDraw) (n int) {
	for _, q := range g.parts {
		if q.joinedBy(p) {
			n++
		}
	}
	return n
}

func (g *caseDraw) join(parent, child *partDraw) {
	if parent.form != "bought part" && !parent.joinedBy(child) {
		parent.children = append(parent.children, linkDraw{child: child})
	}
}

// subBlanks makes the first child of a tailored blank something that has a mass.
func (g *caseDraw) subBlanks(p *partDraw) bool {
	if len(p.children) == 0 {
		return false
	}
	if first := p.children[0].child; first.form == "assembly" || first.form == "bought part" || first.form == "tailored blank" {
		first.form = "sheet"
	}
	return true
}

func (p *partDraw) bought() bool      { return p.form == "bought part" }
func (p *partDraw) hasMaterial() bool { return slices.Contains(formsOfMaterial, p.form) }

var formsOfMaterial = []string{"sheet", "strip", "tube", "profile"}

func (g *caseDraw) part(key string) *partDraw {
	i := slices.IndexFunc(g.parts, func(p *partDraw) bool { return p.key == key })
	return g.parts[i]
}

// partSheets writes Parts and Bill of materials.
func (g *caseDraw) partSheets() {
	g.s["Parts"] = [][]string{{"Part", "Name", "Alternative", "Form", "Material", "Source"}}
	g.s["Bill of materials"] = [][]string{{"Parent", "Child", "Joins at step", "Alternative", "Source"}}
	for _, p := range g.parts {
		grade := ""
		if p.hasMaterial() {
			grade = g.pick(g.grades...)
		}
		g.s.add("Parts", p.key, "a part of nothing", "", p.form, grade, "invented")
		for _, l := range p.children {
			g.s.add("Bill of materials", p.key, l.child.key, l.step, "", "invented")
		}
	}
	made := func(row []string) bool { return !g.part(row[0]).bought() }
	of := func(forms ...string) func([]string) bool {
		return func(row []string) bool { return slices.Contains(forms, row[3]) }
	}
	for _, c := range []struct {
		spread
		wants func([]string) bool
	}{
		{spread{"Gauge", 0.5, 3, "mm in=25.4", true, false}, of(formsOfMaterial...)}, {spread{"Blank length", 80, 1800, "mm in=25.4 m=1000", true, false}, of("sheet", "tube", "profile")},
		{spread{"Blank width", 40, 1400, "mm in=25.4 cm=10", true, false}, of("sheet", "profile")}, {spread{"Strip width", 30, 400, "mm in=25.4", true, false}, of("strip")},
		{spread{"Pitch", 10, 300, "mm", true, false}, of("strip")}, {spread{"Pieces per pitch", 1, 3, "1", false, true}, of("strip")}, {spread{"Outer diameter", 20, 120, "mm in=25.4", true, false}, of("tube")},
		{spread{"Nesting utilisation", 60, 100, "% 1=100", false, true}, of(formsOfMaterial...)}, {spread{"Trimmed share", 0, 50, "% 1=100", false, true}, made},
		{spread{"Purchase price", 0.02, 40, "CUR", true, false}, of("bought part")}, {spread{"Purchase mass", 0.005, 2, "kg lb=0.45359237", false, false}, of("bought part")},
	} {
		g.addColumn("Parts", c.spread, 0.8, c.wants, g.partNames)
	}
	if g.chance(0.25) {
		g.feature("extra pieces")
		g.addColumn("Parts", spread{"Extra pieces", 0, 4000, "1/yr 1/month=12", false, false}, 0.4, everyRow, g.partNames)
	}
	if g.chance(0.2) {
		g.feature("an override in Parts")
		q := []spread{{"Gross mass", 0.1, 9, "kg g=0.001", false, false}, {"Own net mass", 0.1, 3, "kg", false, false}, {"Net mass", 0.1, 9, "kg", false, false}, {"Material per piece", 0.1, 9, "CUR", false, false}, {"Scrap price", 0.01, 0.2, "CUR/kg", false, false}}
		g.addColumn("Parts", q[g.IntN(len(q))], 0.3, made, g.partNames)
	}
	g.addColumn("Bill of materials", spread{"Quantity", 1, 5, "1", true, false}, 1, everyRow, always(`(1 + step.reject_share / 10)`, `(parent.product ? 1 : 2)`, `(1 + case.interest * "0.5 yr")`))
}

// partNames are factors that the row of a part can see.
func (g *caseDraw) partNames(row []string) []string {
	list := []string{`(0.8 + 0.1 * plant.shifts)`, `(1 + case.interest * "0.5 yr")`, `case.programme_life / "6 yr"`}
	if g.part(row[0]).hasMaterial() {
		list = append(list, `material.density / "7000 kg/m3"`)
	}
	if !g.part(row[0]).bought() {
		list = append(list, `(1 + first.reject_share / 10)`, `(1 + last.defect_share / 10)`)
	}
	return list
}

// baseProcesses are the processes with the inputs of their physics.
func baseProcesses() map[string][]spread {
	load := spread{"Load time", 2, 30, "s min=60", true, false}
	stroke := []spread{{"Strokes per minute", 5, 60, "1/min 1/s=60", true, false}, {"Forming force", 50, 20000, "kN MN=1000", false, false}}
	bends := []spread{load, {"Bends", 1, 8, "1", true, false}, {"Time per bend", 1, 9, "s", true, false}}
	hydroforming := []spread{load, {"Close time", 1, 9, "s", true, false}, {"Fill time", 1, 9, "s", true, false}, {"Pressure rise time", 1, 9, "s", true, false}, {"Hold time", 1, 9, "s", true, false},
		{"Open time", 1, 9, "s", true, false}, {"Smallest radius", 3, 30, "mm in=25.4", false, false}, {"Projected area", 100, 9000, "cm2 in2=6.4516", false, false}}
	return map[string][]spread{
		"coil blanking": stroke[:1], "tandem press forming": stroke, "transfer press forming": stroke, "progressive die forming": stroke,
		"laser trimming":    {load, {"Cut length", 200, 9000, "mm m=1000", true, false}, {"Cutting speed", 2, 20, "m/min mm/s=0.06", true, false}, {"Holes", 0, 12, "1", false, false}, {"Time per hole", 0, 3, "s", false, false}},
		"spot welding":      {load, {"Squeeze time", 0.1, 0.6, "s", false, false}, {"Weld time", 0.1, 0.6, "s", false, false}, {"Move time", 0.3, 3, "s", false, false}},
		"roll forming":      {{"Line speed", 5, 40, "m/min m/s=60", true, false}, {"Cut time", 0, 4, "s", false, false}},
		"stretch bending":   bends,
		"tube bending":      append([]spread{{"Saw time", 1, 9, "s", false, false}}, bends...),
		"tube hydroforming": hydroforming, "sheet hydroforming": hydroforming,
		"press hemming":           {load, {"Press time", 2, 20, "s", true, false}},
		"roller hemming":          {load, {"Hem length", 500, 9000, "mm m=1000", true, false}, {"Passes", 1, 4, "1", false, false}, {"Hemming speed", 3, 30, "m/min", true, false}},
		"end cutting and washing": {load, {"Cuts", 0, 4, "1", true, false}, {"Time per cut", 1, 9, "s", true, false}},
		"adhesive application":    {load}, "final assembly": {load}, "laser blank welding": {load}, "laser welding": {load}, "projection welding": {load},
		"timed operation": nil,
	}
}

// operationSheet draws the routes.
func (g *caseDraw) operationSheet() {
	g.s["Operations"] = [][]string{{"Part", "Step", "Name", "Process", "Machine", "Plant", "Alternative", "Source"}}
	byGauge := []string{"coil blanking", "roll forming"}
	physics := map[string]bool{} // whether a step has the inputs of its process
	names := sortedKeys(g.processes)
	for _, p := range g.parts {
		for _, step := range p.steps {
			process := g.pick(names...)
			if slices.Contains(byGauge, process) && p.form != "sheet" && p.form != "profile" {
				process = g.pick("spot welding", "timed operation")
			}
			plant := ""
			if g.chance(0.2) {
				plant = g.pick(g.plants...)
			}
			g.feature(process)
			g.s.add("Operations", p.key, step, "a step", process, g.pick(g.machines...), plant, "", "invented")
			first := len(g.s["Operations"]) == 2 // its time is always given
			if inputs := g.processes[process]; !first && (len(inputs) > 0 && g.chance(0.6) || process == "double stroke") {
				physics[p.key+"/"+step] = true
				g.feature("physics of " + process)
			}
		}
	}
	byPhysics := func(row []string) bool { return physics[row[0]+"/"+row[1]] }
	given := func(row []string) bool { return !byPhysics(row) }
	g.addColumn("Operations", spread{"Load and process time", 0.5, 90, "s min=60 h=3600", true, false}, 1, given, g.stepNames)
	for _, process := range names {
		for _, q := range g.processes[process] {
			rows := func(row []string) bool { return row[3] == process && byPhysics(row) }
			if slices.ContainsFunc(g.s["Operations"][1:], rows) {
				g.addColumn("Operations", q, 0.6, rows, g.stepNames)
			}
		}
	}
	g.stepColumns()
}

func (g *caseDraw) hasCells(sheet, name string, rows func([]string) bool) bool {
	for c, heading := range g.s[sheet][0] {
		if n, _, _ := costmodel.SplitHeading(heading); n == costmodel.Normalise(name) {
			return slices.ContainsFunc(g.s[sheet][1:], func(row []string) bool { return rows(row) && row[c] != "" })
		}
	}
	return false
}

// stepColumns draws the inputs that every step has.
func (g *caseDraw) stepColumns() {
	for _, q := range []spread{{"Set-up time", 0, 90, "min h=60 s=0.016666666666666666", true, false}, {"Batch size", 50, 9000, "1", true, false}} {
		g.addColumn("Operations", q, 1, everyRow, g.stepNames)
	}
	for _, q := range []spread{
		{"Pieces per cycle", 1, 4, "1", false, true}, {"Joints", 1, 60, "1", false, false}, {"Time per joint", 0.5, 3, "s", false, false}, {"Seam length", 50, 5000, "mm in=25.4 m=1000", false, false},
		{"Time per seam length", 0.002, 0.02, "s/mm s/m=0.001", false, false}, {"Guns", 1, 4, "1", false, true}, {"Tool price", 1000, 900000, "CUR", false, false}, {"Tool life", 20000, 3e6, "1", true, false},
		{"Refurbishment cost", 100, 20000, "CUR", false, false}, {"Refurbishment interval", 20000, 400000, "1", false, false}, {"Consumables per piece", 0, 0.5, "CUR", false, false},
		{"Reworked share", 0, 90, "% 1=100", false, true}, {"Rework success", 40, 100, "% 1=100", false, true}, {"Rework time", 1, 90, "s min=60", false, false},
	} {
		if q.given || g.chance(0.6) {
			if strings.HasPrefix(q.name, "Rework") {
				g.feature("rework")
			}
			g.addColumn("Operations", q, 0.6, everyRow, g.stepNames)
		}
	}
	g.rejects()
	pieces, price := g.s.column("Operations", "Pieces per cycle"), -1
	if g.hasCells("Operations", "Tool price", everyRow) {
		price = g.s.column("Operations", "Tool price")
	}
	for _, row := range g.s["Operations"][1:] {
		if g.chance(0.05) {
			row[pieces] = g.pick("0.5", "0.25", "0.2")
			g.feature("less than a piece a cycle")
		}
		if price >= 0 && g.chance(0.1) {
			row[price] = "0"
			g.feature("a tool price of 0")
		}
	}
	g.stepOverrides()
}

// rejects fills the share of rejects or of defects.
func (g *caseDraw) rejects() {
	name := g.pick("Reject share", "Defect share")
	c := g.s.column("Operations", name+" [1]")
	for _, row := range g.s["Operations"][1:] {
		switch p := g.Float64(); {
		case p < 0.2:
			row[c] = g.pick("", "0")
		case p < 0.8:
			row[c] = short(g.between(0, 0.05))
		case p < 0.93:
			row[c] = short(g.between(0.05, 0.5))
		case p < 0.96:
			row[c] = g.pick("0.9", "0.99", "0.97")
			g.feature("nearly all rejected")
		default:
			row[c] = "scenario.annual_volume > 30000 ? 0.01 : \"4 %\""
		}
	}
}

// stepOverrides gives some steps columns of quantities that are otherwise computed, and rules of their own.
func (g *caseDraw) stepOverrides() {
	for _, q := range []spread{{"Crew", 0, 3, "1", false, false}, {"Cycle time", 1, 90, "s min=60", false, false}, {"Power", 1, 300, "kW", false, false}, {"Floor area", 1, 90, "m2", false, false},
		{"Unplanned downtime share", 0, 30, "% 1=100", false, true}, {"Quality ratio", 60, 100, "% 1=100", false, true}, {"Tool sets", 1, 4, "1", false, false}, {"Batches", 1, 900, "1/yr", false, false},
		{"Energy", 1, 9000, "CUR/yr", false, false}, {"Overhead", 1, 9000, "CUR/yr", false, false}, {"Machines charged", 0.2, 2, "1", false, false}, {"Joint time", 1, 30, "s", false, false},
		{"Produced quantity", 100, 90000, "1/yr", false, false}, {"Material", 100, 90000, "CUR/yr", false, false}} {
		if g.chance(0.04) {
			g.feature("an override in Operations")
			g.addColumn("Operations", q, 0.4, everyRow, g.stepNames)
		}
	}
	for name, words := range map[string][]string{"Charging rule": {"shared", "dedicated", "pooled"}, "Labour rule": {"hours", "whole shifts"}} {
		if !g.chance(0.25) {
			continue
		}
		c := g.s.column("Operations", name)
		for _, row := range g.s["Operations"][1:] {
			if g.chance(0.4) {
				row[c] = g.pick(words...)
				g.feature(name + " of a step")
			}
		}
	}
}

// stepNames are factors that the row of a step can see.
func (g *caseDraw) stepNames(row []string) []string {
	p := g.part(row[0])
	list := []string{`(0.8 + 0.1 * plant.shifts)`, `(1 + case.interest * "0.5 yr")`, `case.programme_life / "6 yr"`, `(part.demand > "1000 1/yr" ? 0.9 : 1.1)`, `(machine.crew > 1 ? 0.9 : 1)`,
		`(first_step ? 0.9 : 1)`, `(1 + 0.1 * part.net_mass / (part.net_mass + "1 kg"))`, `(charging_rule.shared ? 1 : 0.9)`, `(machine.charging_rule.pooled or last_step ? 1 : 0.95)`}
	if p.hasMaterial() {
		list = append(list, `material.density / "7000 kg/m3"`, `(part.gauge > "1.2 mm" ? 1.1 : 1)`)
	}
	if row[1] != p.steps[len(p.steps)-1] {
		list = append(list, `(1 + next.reject_share / 10)`)
	}
	return list
}

// alternatives gives a part, a step and a link rows that only some scenarios count.
func (g *caseDraw) alternatives() {
	if g.tags = g.chance(0.3); !g.tags {
		return
	}
	g.feature("alternatives")
	for _, sheet := range []string{"Parts", "Operations"} {
		rows := g.s[sheet]
		i := 1 + g.IntN(len(rows)-1)
		c := g.s.column(sheet, "Alternative")
		twin := slices.Clone(rows[i])
		rows[i][c], twin[c] = "x", "y, z"
		for k, text := range twin {
			if v, err := strconv.ParseFloat(text, 64); err == nil && k > c && v != 0 {
				twin[k] = short(v * 0.9)
			}
		}
		g.s[sheet] = append(rows, twin)
	}
	links := g.s["Bill of materials"]
	i := 1 + g.IntN(len(links)-1)
	if child := g.part(links[i][1]); g.uses(child) > 1 && g.part(links[i][0]).form != "tailored blank" {
		links[i][g.s.column("Bill of materials", "Alternative")] = "x"
	}
}

// scenarioSheet draws settings and changes.
func (g *caseDraw) scenarioSheet() {
	names := []string{"First", "Second: b/c", "3"}[:1+g.IntN(10)/5+g.IntN(10)/8]
	g.s["Scenarios"] = [][]string{append(append([]string{"Sheet", "Row", "Column"}, names...), "Note")}
	setting := func(label string, value func() string) {
		row := []string{"", "", label}
		for range names {
			row = append(row, value())
		}
		g.s.add("Scenarios", row...)
	}
	setting("Annual volume [1/yr]", func() string {
		if g.chance(0.06) {
			g.feature("a volume at an end")
			return g.pick("1", "10000000")
		}
		return short(g.ratio(1, 1e7))
	})
	made := g.parts[:1]
	for _, p := range g.parts {
		if !p.bought() && g.chance(0.1) {
			made = append(made, p)
		}
	}
	setting("Product", func() string { return made[g.IntN(len(made))].key })
	if g.tags {
		setting("Alternatives", func() string { return g.pick("x", "Y", "z") })
	}
	setting("Plant", func() string { return g.pick(g.plants...) })
	setting("Description", func() string { return "none" })
	if g.chance(0.7) {
		g.changes(names)
	}
}

// changes draws rows of changes, each with a selector of its own.
func (g *caseDraw) changes(names []string) {
	var steps, graded, timed []string
	for _, p := range g.parts {
		for _, s := range p.steps {
			steps = append(steps, p.key+"/"+s)
		}
		if p.hasMaterial() {
			graded = append(graded, p.key)
		}
	}
	given := g.s.column("Operations", "Load and process time [s]")
	for _, row := range g.s["Operations"][1:] {
		if row[given] != "" {
			timed = append(timed, row[0]+"/"+row[1])
		}
	}
	link := g.s["Bill of materials"][1+g.IntN(len(g.s["Bill of materials"])-1)]
	number := func(lo, hi float64) func() string { return func() string { return short(g.between(lo, hi)) } }
	words := func(list ...string) func() string { return func() string { return g.pick(list...) } }
	base := func() string {
		return g.pick("base * 1.1", "base * 0.9 + base * 0.05", "max(base, base * 1.02)", "base")
	}
	anyStep := func() string { return g.pick(steps...) }
	stepRows := func() string {
		return g.pick("*", "* except "+anyStep(), anyStep(), anyStep()+", "+anyStep(), g.parts[0].key+"/*", "*/10", g.parts[0].key)
	}
	machines := func() string {
		return g.pick("*", "* except "+g.machines[0], g.machines[0], strings.Join(g.machines[:2], ", "))
	}
	list := []struct {
		sheet  string
		row    func() string
		column string
		value  func() string
	}{
		{"Machines", machines, "Charging rule", words("shared", "dedicated", "pooled")}, {"Machines", machines, "Labour rule", words("hours", "whole shifts")}, {"Machines", machines, "Price", base},
		{"Machines", machines, "Unplanned downtime share [%]", number(0, 30)}, {"Machines", machines, "Life", number(3, 15)},
		{"Operations", anyStep, "Machine", words(g.machines...)}, {"Operations", anyStep, "Plant", words(g.plants...)}, {"Operations", stepRows, "Charging rule", words("shared", "dedicated", "pooled")},
		{"Operations", stepRows, "Reject share [%]", number(0, 20)}, {"Operations", stepRows, "Load and process time [s]", base}, {"Operations", stepRows, "Cycle time [min]", base},
		{"Operations", stepRows, "Set-up time [h]", number(0, 2)}, {"Operations", stepRows, "Batch size", number(100, 9000)}, {"Operations", stepRows, "Tool price [" + g.money + "]", base}, {"Operations", stepRows, "Crew", number(0, 3)},
		{"Operations", words(timed...), "Process", words("timed operation", "press hemming", "spot welding")},
		{"Case", words("Interest"), "Value", number(0, 12)}, {"Plants", words("Direct labour rate"), g.pick("*", g.plants[0]), base}, {"Plants", words("Shifts"), "*", number(1, 3.4)},
		{"Materials", words("*", g.grades[0], "* except "+g.grades[0]), "Base price", base},
		{"Bill of materials", words(link[0]+"/"+link[1], "*"), "Quantity", words("base", "base + 1", "3")},
	}
	if len(graded) > 0 {
		list = append(list, struct {
			sheet  string
			row    func() string
			column string
			value  func() string
		}{"Parts", words(graded...), "Material", words(g.grades...)}, struct {
			sheet  string
			row    func() string
			column string
			value  func() string
		}{"Parts", words(append([]string{"*", strings.Join(graded, ", ")}, graded...)...), "Gauge", func() string { return g.pick("base * 1.1", "0.9 mm", "0.04 in", "base") }})
	}
	g.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
	for _, c := range list[:1+g.IntN(5)] {
		row := []string{c.sheet, c.row(), c.column}
		used := false
		for range names {
			text := ""
			if g.chance(0.7) {
				text, used = c.value(), true
			}
			row = append(row, text)
		}
		if used {
			g.feature("a change: " + c.sheet + ", " + c.column)
			g.s.add("Scenarios", row...)
		}
	}
}

// drawCase draws a case; the same seed gives the same one.
func drawCase(seed, again uint64) *caseDraw {
	g := &caseDraw{Rand: rand.New(rand.NewPCG(seed, again)), s: csvSheets{}, units: map[string]columnUnit{}, drawn: map[string]bool{}, processes: baseProcesses()}
	g.frame()
	g.ownSheet()
	g.tree()
	g.partSheets()
	g.operationSheet()
	g.alternatives()
	g.scenarioSheet()
	return g
}

// files are the tables of a case as CSV files.
func (s csvSheets) files(t testing.TB) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for sheet, rows := range s {
		var b bytes.Buffer
		if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		out[costmodel.Normalise(sheet)+".csv"] = &fstest.MapFile{Data: b.Bytes()}
	}
	return out
}

// nearWhole finds a ceil, floor or round whose argument lies so near a whole number that a last binary digit decides; it
// returns "" where there is none. A whole 0 is exact everywhere.
func nearWhole(d *costmodel.Detail) string {
	for e := range plan.Entity(d.Plan.Entities()) {
		for n := range int32(len(d.Plan.RowScope(e).Quantities)) {
			if !d.Plan.Compiled(e, n) {
				continue
			}
			def := d.Plan.Origin(e, n).Active
			for _, eq := range equationsOf(def) {
				if v, near := nearestArgument(d, e, eq); near {
					return fmt.Sprintf("%s, %s: %v", d.Plan.RowLabel(e), d.Plan.RowScope(e).Quantities[n].Name, v)
				}
			}
		}
	}
	return ""
}

func equationsOf(def plan.Definition) (out []*plan.Equation) {
	if def.Kind == plan.Computed {
		out = append(out, def.Eq)
	}
	if def.Base != nil {
		out = append(out, equationsOf(*def.Base)...)
	}
	return out
}

func nearestArgument(d *costmodel.Detail, e plan.Entity, eq *plan.Equation) (at float64, near bool) {
	formula.Walk(eq.Expr.Root, func(n *formula.Node) {
		if n.Kind != formula.Call || n.Fn.Name != "ceil" && n.Fn.Name != "floor" && n.Fn.Name != "round" {
			return
		}
		values := make([]float64, len(eq.Refs))
		for i := range eq.Refs {
			values[i] = valueOfRef(d, e, &eq.Refs[i])
		}
		v := formula.Eval(n.Args[0], values, nil)
		if n.Fn.Name == "round" {
			v += 0.5
		}
		if v != 0 && math.Abs(v-math.Round(v)) < math.Max(1e-7, 1e-14*math.Abs(v)) && len(eq.Refs) > 0 && math.Abs(v) < 1e12 {
			at, near = v, true
		}
	})
	return at, near
}

// valueOfRef is the coherent value of a name, NaN where it leads nowhere.
func valueOfRef(d *costmodel.Detail, e plan.Entity, ref *plan.Ref) float64 {
	if ref.Fixed || ref.Base {
		return ref.Constant
	}
	for i, hop := range ref.Hops {
		if ref.Many && i == len(ref.Hops)-1 {
			total := 0.0
			for _, m := range d.Plan.Members(e, hop) {
				total += d.Of(m, ref.Quantity)
			}
			return total
		}
		if e = d.Plan.Follow(e, hop); e < 0 {
			return math.NaN()
		}
	}
	v := d.Of(e, ref.Quantity)
	if ref.Option > 0 {
		return map[bool]float64{true: 1}[int(v) == ref.Option-1]
	}
	return v
}

// writeDrawn draws a case until no whole count hangs on a last digit, costs it and saves the workbook with its results.
func writeDrawn(t testing.TB, seed uint64, path string) *caseDraw {
	t.Helper()
	for again := uint64(0); again < 20; again++ {
		g := drawCase(seed, again)
		saveTables(t, g.s.files(t), path)
		r := resultOf(t, path)
		if slices.ContainsFunc(r.Details, func(d *costmodel.Detail) bool { return nearWhole(d) != "" }) {
			continue
		}
		w, err := Open(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := w.Write(r); err != nil {
			t.Fatal(err)
		}
		if err := w.Save(path, SaveOptions{Replace: true}); err != nil {
			t.Fatal(err)
		}
		return g
	}
	t.Fatalf("seed %d: every draw hangs on a last digit", seed)
	return nil
}

// A calculatedCell is a formula with its stored value.
type calculatedCell struct{ formula, value string }

var (
	cellXML    = regexp.MustCompile(`(?s)<c r="([A-Z]+[0-9]+)"[^>]*?(?:/>|>(.*?)</c>)`)
	formulaXML = regexp.MustCompile(`(?s)<f[^>]*?(?:/>|>(.*?)</f>)(?:<v[^>]*>(.*?)</v>)?`)
	sheetXML   = regexp.MustCompile(`<sheet name="([^"]*)" sheetId="[0-9]+"[^>]*r:id="([^"]*)"`)
	targetXML  = regexp.MustCompile(`<Relationship [^>]*>`)
	plainXML   = strings.NewReplacer("&lt;", "<", "&gt;", ">", "&quot;", `"`, "&#34;", `"`, "&apos;", "'", "&#39;", "'", "&#xA;", "\n", "&amp;", "&")
)

// calculatedCells reads the formulas of a workbook as Sheet!Cell. It reads the parts as text, which is many times faster
// than a library that asks cell by cell; TestGenerated compares the two on a workbook.
func calculatedCells(t testing.TB, path string) map[string]calculatedCell {
	t.Helper()
	parts := unzip(t, path)
	targets := map[string]string{}
	for _, rel := range targetXML.FindAllString(string(parts["xl/_rels/workbook.xml.rels"]), -1) {
		targets[attribute(rel, "Id")] = strings.TrimPrefix(attribute(rel, "Target"), "/xl/")
	}
	out := map[string]calculatedCell{}
	for _, sheet := range sheetXML.FindAllStringSubmatch(string(parts["xl/workbook.xml"]), -1) {
		text := string(parts["xl/"+targets[sheet[2]]])
		name := plainXML.Replace(sheet[1])
		for _, c := range cellXML.FindAllStringSubmatch(text, -1) {
			if f := formulaXML.FindStringSubmatch(c[2]); f != nil {
				out[name+"!"+c[1]] = calculatedCell{plainXML.Replace(f[1]), plainXML.Replace(f[2])}
			}
		}
	}
	return out
}

func attribute(tag, name string) string {
	_, rest, _ := strings.Cut(tag, " "+name+`="`)
	value, _, _ := strings.Cut(rest, `"`)
	return value
}

// formulaDifferences compares the values of all formulas of a workbook with those of its recalculated copy; it returns how
// many formulas there are and what differs.
func formulaDifferences(t testing.TB, path, recalculated string) (formulas int, differences []string) {
	t.Helper()
	want, got := calculatedCells(t, path), calculatedCells(t, recalculated)
	for _, at := range sortedKeys(want) {
		w := want[at]
		g, ok := got[at]
		if !ok || !sameCell(w.value, g.value) && !cancelled(want, at, g.value) {
			differences = append(differences, fmt.Sprintf("%s %s: piececost %q, recalculated %q (formula there: %v): %s", filepath.Base(path), at, w.value, g.value, ok, w.formula))
		}
	}
	return len(want), differences
}

// cancelled tells whether a value differs from another only by what is lost in a difference of large numbers: the floor is
// 1e-9 of the largest operand, the cells that the formula names.
func cancelled(cells map[string]calculatedCell, at, other string) bool {
	x, err1 := strconv.ParseFloat(cells[at].value, 64)
	y, err2 := strconv.ParseFloat(other, 64)
	if err1 != nil || err2 != nil {
		return false
	}
	sheet, _, _ := strings.Cut(at, "!")
	largest := 0.0
	for _, m := range operand.FindAllStringSubmatch(cells[at].formula, -1) {
		on, cell := strings.ReplaceAll(m[1], "''", "'"), strings.ReplaceAll(m[2], "$", "")
		if on == "" {
			on = sheet
		}
		if v, err := strconv.ParseFloat(cells[on+"!"+cell].value, 64); err == nil {
			largest = math.Max(largest, math.Abs(v))
		}
	}
	return math.Abs(x-y) <= 1e-9*largest
}

// operand is a cell in a formula, of its own sheet or another.
var operand = regexp.MustCompile(`(?:'((?:[^']|'')+)'!)?(\$?[A-Z]{1,3}\$?[0-9]+)\b`)

// generated is the number of cases; 20 in every test, more with `make generated`.
var generated = flag.Int("generated", 20, "number of random cases of TestGenerated")

const casesAStart = 25

// TestGenerated has an independent program compute random cases, and compares every formula of every workbook.
func TestGenerated(t *testing.T) {
	cases := *generated
	type batch struct {
		formulas int
		drawn    map[string]int
	}
	batches := make([]batch, (cases+casesAStart-1)/casesAStart)
	t.Run("batches", func(t *testing.T) {
		for i := range batches {
			t.Run(strconv.Itoa(i), func(t *testing.T) {
				t.Parallel()
				dir := t.TempDir()
				batches[i].drawn = map[string]int{}
				var paths []string
				for seed := i * casesAStart; seed < min(cases, (i+1)*casesAStart); seed++ {
					path := filepath.Join(dir, fmt.Sprintf("case%03d.xlsx", seed))
					g := writeDrawn(t, uint64(seed), path)
					checkFormulas(t, path)
					for name := range g.drawn {
						batches[i].drawn[name]++
					}
					paths = append(paths, path)
				}
				out := recalculate(t, paths...)
				for _, path := range paths {
					n, differences := formulaDifferences(t, path, filepath.Join(out, filepath.Base(path)))
					batches[i].formulas += n
					for _, d := range differences[:min(len(differences), 8)] {
						t.Error(d)
					}
					if n < 500 || len(differences) > 8 {
						t.Errorf("%s: %d formulas, %d differ", filepath.Base(path), n, len(differences))
					}
				}
			})
		}
	})
	total, drawn := 0, map[string]int{}
	for _, b := range batches {
		total += b.formulas
		for name, n := range b.drawn {
			drawn[name] += n
		}
	}
	t.Logf("%d cases, %d formulas; cases with: %v", cases, total, drawn)
	_ = runtime.NumCPU()
}
