package scenarios

import (
	"fmt"
	"math"
	"math/rand/v2"
	"sort"
	"strconv"
	"strings"
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

// beside is short as a person types it beside a unit: three decimals could be thousands, so there are four.
func beside(v float64) string {
	text := short(v)
	if whole, decimals, ok := strings.Cut(text, "."); ok && len(decimals) == 3 && whole != "0" && whole != "-0" {
		text += "0"
	}
	return text
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
		return beside(v/f) + " " + u
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
	`2 * sin("30 deg")`, `cos("20 deg")`, `tan("0.8 rad")`, `asin(0.9)`, `acos(0.5)`, `atan(1.2)`, `"110 mm2"^0.5 / "10 mm"`, `power("1.1 cm3", 1/3) / "1 cm"`,
	`("110 degC" - "50 degF") / "100 K"`, `(max("20 degC", "100 degF") - "0 degF") / "50 K"`, `"2 kA"^2 * "0.3 mohm" / "1.2 kW"`,
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
	g.s["Case"] = [][]string{{"Quantity", "Unit", "Value", "Source"}, {"Model currency", "", g.money, "invented"}, {"Claim under test", "", "none", ""}}
	g.quantityRows("Case", []string{"Value"}, []spread{
		{"Programme life", 1, 12, "yr month=0.08333333333333333", true, true}, {"Working capital days", 0, 90, "d h=0.0416666666666666667", false, true},
		{"SG&A share", 0, 12, "% 1=100", false, true}, {"Profit share", 0, 12, "% 1=100", false, true}, {"Material handling", 0, 2, "CUR", false, true},
		{"Packaging", 0, 3, "CUR", false, true}, {"Freight", 0, 3, "CUR", false, true}, {"Duty", 0, 1, "CUR", false, true}, {"Allowable cost of mass saving", 0,
			9, "CUR/kg CUR/t=0.001", false, true},
	}, nil)
	interest := spread{"Interest rate", 1, 15, "%/yr 1/yr=100", true, true}
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
		{"Working days", 200, 320, "1/yr", true, true}, {"Shifts", 1, 3.4, "1", true, true}, {"Paid hours per shift", 7, 9, "h min=0.016666666666666666",
			true, true},
		{"Paid break per shift", 0, 0.7, "h min=0.016666666666666666", false, true}, {"Planned downtime per shift", 0, 0.5, "h", false, true},
		{"Direct labour rate", 5, 60, "CUR/h CUR/min=60", true, false}, {"Indirect labour share", 0, 60, "% 1=100", false, false},
		{"Fixed overhead share", 0, 30, "% 1=100", false, false},
		{"Electricity price", 0.05, 0.3, "CUR/kWh CUR/MJ=3.6", false, false}, {"Building price", 500, 2000, "CUR/m2 CUR/ft2=10.76391041670972", false, false},
		{"Building economic life", 15, 40, "yr", false, true}, {"Floor-space factor", 1, 2, "1", false, false},
		{"Planned capacity utilisation", 55, 100, "% 1=100", false, true},
		{"Line-balance efficiency", 60, 100, "% 1=100", false, true}, {"Mixed scrap price", 0, 0.3, "CUR/kg CUR/t=0.001", false, false},
		{"Tool maintenance share", 0, 5, "%/yr 1/yr=100", false, true},
	}, []string{`(1 + case.interest_rate * "0.5 yr")`, `case.programme_life / "6 yr"`})
	if g.chance(0.15) {
		g.feature("an override in Plants")
		g.quantityRows("Plants", g.plants, []spread{{g.pick("Interest rate"), 2, 12, "%/yr", true, true},
			{"Planned hours", 2000, 6000, "h/yr", true, true}}, nil)
	}
}

func (g *caseDraw) gradeSheet() {
	g.s["Materials"] = [][]string{{"Material", "Name", "Form"}}
	for i := 0; i < 2+g.IntN(3); i++ {
		g.grades = append(g.grades, fmt.Sprintf("G%d", i+1))
		g.s.add("Materials", g.grades[i], "grade of no mill", "coil")
	}
	names := always(`(1 + case.interest_rate * "0.5 yr")`, `case.programme_life / "6 yr"`)
	for _, q := range []spread{{"Density", 2600, 8900, "kg/m3 g/cm3=1000", true, false},
		{"Base price", 0.5, 6, "CUR/kg CUR/t=0.001 CUR/lb=2.204622621848776", true, false},
		{"Extras", 0, 0.6, "CUR/kg CUR/t=0.001", false, false}, {"Scrap price", 0, 0.25, "CUR/kg CUR/t=0.001", false, false},
		{"Tensile strength", 150, 1200, "MPa N/mm2", false, false}} {
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
	names := always(`(1 + case.interest_rate * "0.5 yr")`, `(0.8 + 0.1 * plant.shifts)`, `case.programme_life / "6 yr"`)
	for _, q := range []spread{{"Price", 2e4, 9e6, "CUR", true, false}, {"Economic life", 4, 20, "yr month=0.08333333333333333", true, true},
		{"Installation share", 0, 20, "% 1=100", false, true},
		{"Resale value", 0, 15000, "CUR", false, false}, {"Footprint", 5, 600, "m2 ft2=0.09290304", false, false}, {"Rated power", 2, 900, "kW W=0.001",
			false, false},
		{"Power load factor", 20, 100, "% 1=100", false, true}, {"Crew", 0, 4, "1", false, false}, {"Maintenance share", 0, 8, "%/yr 1/yr=100", false, true},
		{"Unplanned downtime share", 0, 40, "% 1=100", false, true}, {"Rated force", 100, 40000, "kN MN=1000", false, false}} {
		if q.given || g.chance(0.75) {
			g.addColumn("Machines", q, 0.85, everyRow, names)
		}
	}
	rule, labour := g.s.column("Machines", "Equipment allocation"), -1
	if g.chance(0.7) {
		labour = g.s.column("Machines", "Labour allocation")
	}
	for _, row := range g.s["Machines"][1:] {
		row[rule] = g.pick("shared", "dedicated", "pooled", "pooled")
		if labour >= 0 {
			row[labour] = g.pick("hours", "whole shifts", "whole shifts", "")
		}
	}
	if g.chance(0.15) {
		g.feature("an override in Machines")
		q := []spread{{"Installed price", 2e4, 9e6, "CUR", false, false}, {"Annual capital", 2e3, 9e5, "CUR/yr", false, false},
			{"Work-centre hourly rate", 10, 300, "CUR/h", false, false}, {"Annual building", 0, 9e4, "CUR/yr", false, false}}
		g.addColumn("Machines", q[g.IntN(len(q))], 0.5, everyRow, names)
	}
}

// ownProcesses are definitions that a workbook may bring.
var ownProcesses = map[string][][]string{
	"a new process": {{"double stroke", "load_and_process_time", "s", `2 * stroke_time + part_time + (heat_level - "20 degC") / "100 K/s"`},
		{"double stroke", "stroke_time", "s", ""}, {"double stroke", "part_time", "s", "1.5"}, {"double stroke", "heat_level", "degF", "300"},
		{"double stroke", "cooled_level", "degF", `max(heat_level - "100 K", "20 degC")`}},
	"a replaced equation": {{"all operations", "overhead", "CUR/yr", "plant.indirect_labour_share * labour + 0.1 * tooling"}},
	"a changed process":   {{"spot welding", "time_per_joint", "s", "1.1 * (squeeze_time + weld_time + hold_time + move_time)"}},
	"a changed form":      {{"sheet", "blank_mass", "kg", "1.02 * blank_length * blank_width * gauge * material.density"}},
	"an additional quantity": {{"all operations", "hours_a_piece", "h", "required_hours / produced_quantity"}, {"all scenarios", "labour_share", "%",
		"piece_labour / piece_cost"}, {"all machines", "idle_hours", "h/yr", `max("0 h/yr", plant.planned_hours - machine_hours_required)`}},
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
	g.processes["double stroke"] = []spread{{"Stroke time", 1, 9, "s min=60", true, false}, {"Heat level", 20, 400, "degC", false, true}}
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	return keys
}
