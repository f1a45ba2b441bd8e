package scenarios

import (
	"encoding/csv"
	"math"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// The cost equations once more, in longhand: every quantity of every row of a case at one volume, reckoned with plain
// numbers from the tables of an archive, without the engine, its formulas, its plan or its units. Each number is in the
// unit in which templates/ declares the quantity, percent as percent, and a heading of an archive must use that unit. What
// is not given is NaN, and so is what follows from it. A cell that gives a quantity that is otherwise reckoned overrides it.
//
// Whoever changes an equation changes its line here too: from what it should be, not from what it became.

// A longRow is a row and what longhand finds for it.
type longRow struct {
	scope, key string
	cells      map[string]string // by name of the quantity
	number     map[string]float64
	choice     map[string]string
	holds      map[string]bool // checks, by what they say
}

// longhand is a scenario of a case.
type longhand struct {
	facts     *longRow // the case
	scenario  *longRow
	plants    map[string]*longRow
	materials map[string]*longRow
	stock     []*longRow // the sheet Machines
	machines  map[string]*longMachine
	parts     map[string]*longPart
	product   *longPart
	bands     [][]string          // the sheet Price bands
	kinds     map[string]*longRow // of tools
}

var longTables = map[string]string{"materials": "material", "machines": "machine", "parts": "part", "bill_of_materials": "link", "operations": "operation",
	"joints": "joint"}

// longName is the quantity that a heading gives, without its unit.
func longName(heading string) string {
	heading, _, _ = strings.Cut(heading, " [")
	return strings.NewReplacer("line-balance", "line_balance", "floor-space", "floor_space", " ", "_", "-",
		"").Replace(strings.ToLower(strings.TrimSpace(heading)))
}

func longTable(t testing.TB, a *txtar.Archive, name string) [][]string {
	for _, f := range a.Files {
		if f.Name == name+".csv" {
			rows, err := csv.NewReader(strings.NewReader(string(f.Data))).ReadAll()
			if err != nil {
				t.Fatal(err)
			}
			return rows
		}
	}
	return nil
}

func newLongRow(scope, key string, cells map[string]string) *longRow {
	return &longRow{scope: scope, key: key, cells: cells, number: map[string]float64{}, choice: map[string]string{}, holds: map[string]bool{}}
}

// longRows reads a table whose rows are things.
func longRows(t testing.TB, a *txtar.Archive, table string) (out []*longRow) {
	rows := longTable(t, a, table)
	if len(rows) == 0 {
		return nil
	}
	keys := 1
	switch table {
	case "operations", "bill_of_materials":
		keys = 2
	case "joints":
		keys = 3
	}
	for _, r := range rows[1:] {
		cells := map[string]string{}
		for i, h := range rows[0] {
			cells[longName(h)] = r[i]
		}
		if table == "parts" { // the word, not the quantity of that name
			cells["grade"] = cells["material"]
			delete(cells, "material")
		}
		out = append(out, newLongRow(longTables[table], strings.Join(r[:keys], "/"), cells))
	}
	return out
}

// longColumns reads a table whose columns are things, from column first on.
func longColumns(t testing.TB, a *txtar.Archive, table, scope string, name, first int) (out []*longRow) {
	rows := longTable(t, a, table)
	for c := first; c < len(rows[0]); c++ {
		if rows[0][c] == "Source" || rows[0][c] == "Note" {
			continue
		}
		cells := map[string]string{}
		for _, r := range rows[1:] {
			cells[longName(r[name])] = r[c]
		}
		out = append(out, newLongRow(scope, rows[0][c], cells))
	}
	return out
}

// in takes a number from its cell, or the default; NaN stands for one that must be given.
func (r *longRow) in(name string, otherwise float64) float64 {
	if text := r.cells[name]; text != "" {
		v, err := strconv.ParseFloat(text, 64)
		if err != nil {
			panic(r.key + " " + name + ": " + text + " is no plain number")
		}
		otherwise = v
	}
	r.number[name] = otherwise
	return otherwise
}

// must takes a number that has no default.
func (r *longRow) must(name string) float64 { return r.in(name, math.NaN()) }

// is keeps what was reckoned, or what a cell says instead.
func (r *longRow) is(name string, reckoned float64) float64 { return r.in(name, reckoned) }

// of returns a number found before.
func (r *longRow) of(name string) float64 {
	v, ok := r.number[name]
	if !ok {
		panic(r.scope + " " + r.key + " has no " + name + " yet")
	}
	return v
}

func (r *longRow) flag(name string, holds bool) bool {
	r.number[name] = 0
	if holds {
		r.number[name] = 1
	}
	return holds
}

// choose takes a choice from its cell, or another's.
func (r *longRow) choose(name, otherwise string) string {
	if text := r.cells[name]; text != "" {
		otherwise = text
	}
	r.choice[name] = otherwise
	return otherwise
}

// check notes whether a condition holds; nothing is noted where one of the numbers it needs is not given.
func (r *longRow) check(say string, holds bool, needs ...float64) {
	for _, v := range needs {
		if math.IsNaN(v) {
			return
		}
	}
	r.holds[say] = holds
}

// longCeil is the next whole number; a billionth is taken off first, as README says.
func longCeil(v float64) float64 { return math.Ceil(v - 1e-9) }

// longRecovery is the capital recovery factor of n years at i percent per year: per year's share of a sum with its interest.
func longRecovery(i, n float64) float64 {
	if i == 0 {
		return 1 / n
	}
	growth := math.Pow(1+i/100, n)
	return i / 100 * growth / (growth - 1)
}

// reckon works a scenario through at an annual volume.
func reckon(t testing.TB, a *txtar.Archive, scenario int, volume float64) *longhand {
	c := &longhand{plants: map[string]*longRow{}, materials: map[string]*longRow{}, machines: map[string]*longMachine{}, parts: map[string]*longPart{}}
	c.facts = longColumns(t, a, "case", "case", 0, 2)[0]
	c.caseFacts()
	for _, p := range longColumns(t, a, "plants", "plant", 0, 2) {
		c.plants[p.key] = p
		c.plant(p)
	}
	c.toolRelations(t, a)
	c.bands = longTable(t, a, "price_bands")
	for _, m := range longRows(t, a, "materials") {
		c.materials[m.key] = m
		m.material()
	}
	c.scenario = longColumns(t, a, "scenarios", "scenario", 2, 3)[scenario]
	c.scenario.number["annual_volume"] = volume
	c.stock = longRows(t, a, "machines")
	c.structure(t, a)
	c.costs()
	c.total()
	return c
}
