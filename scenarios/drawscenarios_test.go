package scenarios

import (
	"bytes"
	"encoding/csv"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/costmodel/table"
)

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
	made := slices.Clone(g.parts[:1])
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
		{"Machines", machines, "Equipment allocation", words("shared", "dedicated", "pooled")}, {"Machines", machines, "Labour allocation",
			words("hours", "whole shifts")}, {"Machines", machines, "Price", base},
		{"Machines", machines, "Unplanned downtime share [%]", number(0, 30)}, {"Machines", machines, "Economic life", number(3, 15)},
		{"Operations", anyStep, "Machine", words(g.machines...)}, {"Operations", anyStep, "Plant", words(g.plants...)},
		{"Operations", stepRows, "Equipment allocation", words("shared", "dedicated", "pooled")},
		{"Operations", stepRows, "Reject rate [%]", number(0, 20)}, {"Operations", stepRows, "Load and process time [s]", base},
		{"Operations", stepRows, "Cycle time [min]", base},
		{"Operations", stepRows, "Set-up time [h]", number(0, 2)}, {"Operations", stepRows, "Batch size", number(100, 9000)},
		{"Operations", stepRows, "Tool price [" + g.money + "]", base}, {"Operations", stepRows, "Crew", number(0, 3)},
		{"Operations", words(timed...), "Process", words("timed operation", "press hemming", "spot welding")},
		{"Case", words(""), "Interest rate", number(0, 12)}, {"Plants", words("*", g.plants[0]), "Direct labour rate", base}, {"Plants", words("*"), "Shifts",
			number(1, 3.4)},
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
		}{"Parts", words(append([]string{"*", strings.Join(graded, ", ")}, graded...)...), "Gauge",
			func() string { return g.pick("base * 1.1", "0.9 mm", "0.04 in", "base") }})
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
	g := &caseDraw{Rand: rand.New(rand.NewPCG(seed, again)), s: csvSheets{}, units: map[string]columnUnit{}, drawn: map[string]bool{},
		processes: baseProcesses()}
	g.frame()
	g.ownSheet()
	g.tree()
	g.partSheets()
	g.operationSheet()
	g.alternatives()
	g.scenarioSheet()
	g.extras(seed, again)
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
		out[table.Normalise(sheet)+".csv"] = &fstest.MapFile{Data: b.Bytes()}
	}
	return out
}
