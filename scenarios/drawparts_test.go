package scenarios

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel/table"
)

// tree draws parts and the links between them.
func (g *caseDraw) tree() {
	n := 3 + g.IntN(3)
	if g.chance(0.3) {
		n += g.IntN(7)
	}
	for i := range n {
		p := &partDraw{key: g.pick("P", "P", "P", "P", "<>P", ">P") + fmt.Sprintf("%02d", i), form: g.pick("assembly", "assembly", "sheet", "sheet",
			"strip", "tube", "profile", "blank from coil", "tube from stock", "tailored blank", "purchased part", "purchased part")}
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
		for s := 1 + g.IntN(10)/6 + g.IntN(10)/8 + g.IntN(10)/9; p.form != "purchased part" && s > 0; s-- {
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
	if parent.form != "purchased part" && !parent.joinedBy(child) {
		parent.children = append(parent.children, linkDraw{child: child})
	}
}

// subBlanks makes the first child of a tailored blank something that has a mass.
func (g *caseDraw) subBlanks(p *partDraw) bool {
	if len(p.children) == 0 {
		return false
	}
	if first := p.children[0].child; first.form == "assembly" || first.form == "purchased part" || first.form == "tailored blank" {
		first.form = "sheet"
	}
	return true
}

func (p *partDraw) bought() bool      { return p.form == "purchased part" }
func (p *partDraw) hasMaterial() bool { return slices.Contains(formsOfMaterial, p.form) }

var formsOfMaterial = []string{"sheet", "strip", "tube", "profile", "blank from coil", "tube from stock"}

var flatForms = []string{"sheet", "profile", "blank from coil"}

func (g *caseDraw) part(key string) *partDraw {
	i := slices.IndexFunc(g.parts, func(p *partDraw) bool { return p.key == key })
	return g.parts[i]
}

// partSheets writes Parts and Bill of materials.
func (g *caseDraw) partSheets() {
	g.s["Parts"] = [][]string{{"Part", "Name", "Alternative", "Form", "Material", "Source"}}
	g.s["Bill of materials"] = [][]string{{"Parent", "Child", "Joined at operation", "Alternative", "Source"}}
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
	bent := map[string]bool{} // whose width follows from legs and bends
	for _, p := range g.parts {
		bent[p.key] = slices.Contains(flatForms, p.form) && g.chance(0.2)
	}
	isBent := func(row []string) bool { return bent[row[0]] }
	flat := func(row []string) bool { return slices.Contains(flatForms, row[3]) && !bent[row[0]] }
	for _, c := range []struct {
		spread
		wants func([]string) bool
	}{
		{spread{"Gauge", 0.5, 3, "mm in=25.4", true, false}, of(formsOfMaterial...)}, {spread{"Blank length", 80, 1800, "mm in=25.4 m=1000", true, false},
			of("sheet", "tube", "profile", "blank from coil", "tube from stock")},
		{spread{"Blank width", 40, 1400, "mm in=25.4 cm=10", true, false}, flat},
		{spread{"Straight legs", 20, 400, "mm cm=10", true, false}, isBent}, {spread{"Total bend angle", 30, 400, "1", true, false}, isBent},
		{spread{"Bend radius", 0.5, 9, "mm in=25.4", false, false}, isBent}, {spread{"K factor", 0.3, 0.5, "1", false, false}, isBent},
		{spread{"Rows", 1, 3, "1", false, true}, of("blank from coil")}, {spread{"Contour share", 60, 100, "% 1=100", false, false}, of("blank from coil")},
		{spread{"Nesting overlap", 0, 15, "mm", false, false}, of("blank from coil")}, {spread{"Cut off", 0, 1, "1", false, true}, of("blank from coil")},
		{spread{"Edge web", 0, 9, "mm in=25.4", false, false}, of("blank from coil")}, {spread{"Bridge", 0, 5, "mm", false, false}, of("blank from coil")},
		{spread{"Stock length", 3000, 9000, "mm m=1000", false, false}, of("tube from stock")},
		{spread{"Kerf", 0, 4, "mm", false, false}, of("tube from stock")}, {spread{"End loss", 0, 200, "mm in=25.4", false, false}, of("tube from stock")},
		{spread{"Strip width", 30, 400, "mm in=25.4", true, false}, of("strip")},
		{spread{"Pitch", 10, 300, "mm", true, false}, of("strip")}, {spread{"Pieces per pitch", 1, 3, "1", false, true}, of("strip")},
		{spread{"Outer diameter", 20, 120, "mm in=25.4", true, false}, of("tube", "tube from stock")},
		{spread{"Nesting utilisation", 60, 100, "% 1=100", false, true}, of(formsOfMaterial...)}, {spread{"Trim loss share", 0, 50, "% 1=100", false, true},
			made},
		{spread{"Purchase price", 0.02, 40, "CUR", true, false}, of("purchased part")}, {spread{"Purchase mass", 0.005, 2, "kg lb=0.45359237", false, false},
			of("purchased part")},
	} {
		g.addColumn("Parts", c.spread, 0.8, c.wants, g.partNames)
	}
	if g.chance(0.25) {
		g.feature("extra pieces")
		g.addColumn("Parts", spread{"Extra pieces", 0, 4000, "1/yr 1/month=12", false, false}, 0.4, everyRow, g.partNames)
	}
	if g.chance(0.2) {
		g.feature("an override in Parts")
		q := []spread{{"Gross mass", 80, 90, "kg g=0.001", false, false}, {"Net mass of this level", 0.0001, 0.001, "kg", false, false},
			{"Net mass", 0.1, 9, "kg", false,
				false}, {"Material per piece", 0.1, 9, "CUR", false, false}, {"Scrap price", 0.01, 0.2, "CUR/kg", false, false}}
		g.addColumn("Parts", q[g.IntN(len(q))], 0.3, made, g.partNames)
	}
	g.addColumn("Bill of materials", spread{"Quantity", 1, 5, "1", true, false}, 1, everyRow, always(`(1 + operation.reject_rate / 10)`,
		`(parent.product ? 1 : 2)`, `(1 + case.interest_rate * "0.5 yr")`))
}

// partNames are factors that the row of a part can see.
func (g *caseDraw) partNames(row []string) []string {
	list := []string{`(0.8 + 0.1 * plant.shifts)`, `(1 + case.interest_rate * "0.5 yr")`, `case.programme_life / "6 yr"`}
	if g.part(row[0]).hasMaterial() {
		list = append(list, `material.density / "7000 kg/m3"`)
	}
	if !g.part(row[0]).bought() {
		list = append(list, `(1 + first.reject_rate / 10)`, `(1 + last.defect_share / 10)`)
	}
	return list
}

// baseProcesses are the processes with the inputs of their physics.
func baseProcesses() map[string][]spread {
	load := spread{"Load time", 2, 30, "s min=60", true, false}
	line := []spread{{"Press rate", 5, 30, "1/min 1/s=60", false, false}, {"Largest force", 50, 20000, "kN MN=1000", false, false}}
	hem := []spread{load, {"Roller", 0, 1, "1", false, false}, {"Hem length", 500, 9000, "mm m=1000", true, false}, {"Passes", 1, 4, "1", false, false},
		{"Die cycle", 2, 20, "s", false, false}}
	hydroforming := []spread{{"Close time", 1, 9, "s", false, false}, {"Fill time", 1, 9, "s", false, false}, {"Pressure rise time", 1, 9, "s", true,
		false}, {"Hold time", 1, 9, "s", false, false},
		{"Smallest radius", 3, 30, "mm in=25.4", false, false}, {"Projected area", 100, 9000, "cm2 in2=6.4516", false, false}}
	return map[string][]spread{
		"coil blanking":        {{"Press strokes", 5, 60, "1/min 1/s=60", false, false}, {"Feed speed", 20, 90, "m/min", false, false}},
		"tandem press forming": line, "transfer press forming": line,
		"progressive die forming": {{"Pitch", 20, 300, "mm in=25.4", true, false}, {"Cut length", 200, 3000, "mm m=1000", false, false}},
		"laser trimming": {load, {"Cut length", 200, 9000, "mm m=1000", true, false}, {"Cutting speed", 2, 20, "m/min mm/s=0.06", true, false},
			{"Holes", 0, 12, "1", false, false}, {"Time per hole", 0, 3, "s", false, false}},
		"spot welding": {load, {"Governing gauge", 0.6, 2, "mm", true, false}, {"Squeeze time", 0.1, 0.6, "s", false, false},
			{"Weld time", 0.1, 0.6, "s", false, false}, {"Move time", 0.4, 3, "s", false, false}},
		"roll forming": {{"Line speed", 5, 40, "m/min m/s=60", false, false}, {"Cut stop time", 0, 4, "s", false, false},
			{"Flange height", 10, 90, "mm", false, false}},
		"stretch bending": {{"Cycle", 20, 90, "s min=60", false, false}, {"Bend radius", 500, 9000, "mm m=1000", false, false}},
		"tube bending": {load, {"Bends", 1, 8, "1", true, false}, {"Mean bend angle", 20, 150, "1", false, false},
			{"Bend speed", 20, 90, "1/s", false, false}},
		"tube hydroforming": hydroforming, "sheet hydroforming": hydroforming,
		"press hemming": {load, {"Press time", 2, 20, "s min=60", true, false}}, "roller hemming": hem,
		"end cutting and washing": {load, {"Cuts", 0, 4, "1", true, false}, {"Time per cut", 1, 9, "s", true, false}},
		"adhesive application":    {load, {"Bead speed", 100, 400, "mm/s", false, false}}, "final assembly": {load}, "projection welding": {load},
		"laser blank welding": {{"Weld length", 100, 2000, "mm m=1000", true, false}, {"Thin gauge", 0.6, 2, "mm", true, false}},
		"laser welding":       {load, {"Depth", 0.8, 4, "mm", true, false}, {"Laser power", 2, 9, "kW", false, false}},
		"timed operation":     nil,
	}
}

// operationSheet draws the routes.
func (g *caseDraw) operationSheet() {
	g.s["Operations"] = [][]string{{"Part", "Operation", "Name", "Process", "Machine", "Plant", "Alternative", "Source"}}
	byGauge := []string{"coil blanking", "roll forming"}
	physics := map[string]bool{} // whether a step has the inputs of its process
	names := sortedKeys(g.processes)
	for _, p := range g.parts {
		for _, step := range p.steps {
			process := g.pick(names...)
			if slices.Contains(byGauge, process) && !slices.Contains(flatForms, p.form) {
				process = g.pick("spot welding", "timed operation")
			}
			plant := ""
			if g.chance(0.2) {
				plant = g.pick(g.plants...)
			}
			g.feature(process)
			g.s.add("Operations", p.key, step, "an operation", process, g.pick(g.machines...), plant, "", "invented")
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
			beyondTime := q.name == "Governing gauge" || q.name == "Depth" // what the time of a joint or the power needs too
			rows := func(row []string) bool { return row[3] == process && (beyondTime || byPhysics(row)) }
			if slices.ContainsFunc(g.s["Operations"][1:], rows) {
				g.addColumn("Operations", q, 0.6, rows, g.stepNames)
			}
		}
	}
	g.stepColumns()
}

func (g *caseDraw) hasCells(sheet, name string, rows func([]string) bool) bool {
	for c, heading := range g.s[sheet][0] {
		if n, _, _ := table.SplitHeading(heading); n == table.Normalise(name) {
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
		{"Pieces per cycle", 1, 4, "1", false, true}, {"Joints", 1, 60, "1", false, false}, {"Time per joint", 0.5, 3, "s", false, false},
		{"Seam length", 50, 5000, "mm in=25.4 m=1000", false, false},
		{"Time per seam length", 0.002, 0.02, "s/mm s/m=0.001", false, false}, {"Guns", 1, 4, "1", false, true}, {"Tool price", 1000, 900000, "CUR", false,
			false}, {"Tool life", 20000, 3e6, "1", true, false},
		{"Refurbishment cost", 100, 20000, "CUR", false, false}, {"Refurbishment interval", 20000, 400000, "1", false, false},
		{"Consumables per piece", 0, 0.5, "CUR", false, false},
		{"Reworked share", 0, 90, "% 1=100", false, true}, {"Rework success", 40, 100, "% 1=100", false, true}, {"Rework time", 1, 90, "s min=60", false,
			false},
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
			g.feature("less than a piece per cycle")
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
	name := g.pick("Reject rate", "Defect share")
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
	for _, q := range []spread{{"Crew", 0, 3, "1", false, false}, {"Cycle time", 1, 90, "s min=60", false, false}, {"Power", 1, 300, "kW", false, false},
		{"Footprint", 1, 90, "m2", false, false},
		{"Unplanned downtime share", 0, 30, "% 1=100", false, true}, {"Quality ratio", 60, 100, "% 1=100", false, true}, {"Tool sets", 1, 4, "1", false,
			false}, {"Batches", 1, 900, "1/yr", false, false},
		{"Energy", 1, 9000, "CUR/yr", false, false}, {"Overhead", 1, 9000, "CUR/yr", false, false}, {"Machines charged", 0.2, 2, "1", false, false},
		{"Joint time", 1, 30, "s", false, false},
		{"Produced quantity", 100, 90000, "1/yr", false, false}, {"Material", 100, 90000, "CUR/yr", false, false}} {
		if g.chance(0.04) {
			g.feature("an override in Operations")
			g.addColumn("Operations", q, 0.4, everyRow, g.stepNames)
		}
	}
	for name, words := range map[string][]string{"Equipment allocation": {"shared", "dedicated", "pooled"}, "Labour allocation": {"hours", "whole shifts"}} {
		if !g.chance(0.25) {
			continue
		}
		c := g.s.column("Operations", name)
		for _, row := range g.s["Operations"][1:] {
			if g.chance(0.4) {
				row[c] = g.pick(words...)
				g.feature(name + " of an operation")
			}
		}
	}
}

// stepNames are factors that the row of a step can see.
func (g *caseDraw) stepNames(row []string) []string {
	p := g.part(row[0])
	list := []string{`(0.8 + 0.1 * plant.shifts)`, `(1 + case.interest_rate * "0.5 yr")`, `case.programme_life / "6 yr"`,
		`(part.demand > "1000 1/yr" ? 0.9 : 1.1)`, `(machine.crew > 1 ? 0.9 : 1)`,
		`(first_operation ? 0.9 : 1)`, `(1 + 0.1 * part.net_mass / (part.net_mass + "1 kg"))`, `(equipment_allocation.shared ? 1 : 0.9)`,
		`(machine.equipment_allocation.pooled or last_operation ? 1 : 0.95)`}
	if p.hasMaterial() {
		list = append(list, `material.density / "7000 kg/m3"`, `(part.gauge > "1.2 mm" ? 1.1 : 1)`)
	}
	if row[1] != p.steps[len(p.steps)-1] {
		list = append(list, `(1 + next.reject_rate / 10)`)
	}
	return list
}
