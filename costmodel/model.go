package costmodel

import (
	"fmt"
	"sort"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// A Model is a case read against a library. It is not changed after New and may be shared.
type Model struct {
	Case        *Case
	Library     *Library
	Schema      *Schema
	Scenarios   []*Scenario
	Volumes     []float64 // of the sheet Volumes, 1/yr, ascending; may be empty
	Diagnostics Diagnostics

	suspected map[*Quantity]bool              // a heading or row is nearly its name, and that is reported
	records   map[string][]*Record            // by scope
	byKey     map[string]map[string][]*Record // by scope and key
}

// New reads a case. The model is usable where its Diagnostics have no error; all problems of the tables are found in one
// go, those of a scenario's structure by Compile.
func New(c *Case, lib *Library) *Model {
	m := &Model{Case: c, Library: lib, suspected: map[*Quantity]bool{}, records: map[string][]*Record{}, byKey: map[string]map[string][]*Record{}}
	m.requireSheets()
	sys := m.readCurrencies()
	curves := m.readCurves(sys)
	lib = m.withOwnProcesses(lib)
	m.Schema = newSchema(lib, sys, curves, &m.Diagnostics)
	for i := range Layouts {
		l := &Layouts[i]
		t := c.Table(l.Sheet)
		if t == nil || l.Scope == "" || l.Scope == "scenario" {
			continue
		}
		recs := m.readSheet(l, t)
		for _, r := range recs {
			m.readFields(r)
		}
		m.records[l.Scope] = recs
		m.index(l.Scope, recs)
	}
	m.checkReferences()
	m.checkOwnProcesses()
	m.readScenarios()
	m.readVolumes()
	m.checkPlausible()
	return m
}

func (m *Model) readSheet(l *Layout, t *Table) []*Record {
	if l.Shape == ColumnsAre {
		return m.columnRecords(l, t)
	}
	return m.rowRecords(l, t)
}

// Records lists the things of a scope, in sheet order.
func (m *Model) Records(scope string) []*Record { return m.records[scope] }

// index finds records by key and reports keys that stand twice for the same alternative.
func (m *Model) index(scope string, recs []*Record) {
	by := map[string][]*Record{}
	for _, r := range recs {
		for _, other := range by[r.Key] {
			same := strings.EqualFold(other.Text("alternative"), r.Text("alternative"))
			if scope == "link" {
				same = same && other.Text("joins_at_step") == r.Text("joins_at_step")
			}
			if same {
				help := "delete one of the two"
				switch scope {
				case "part", "operation":
					help += ", or tell them apart by their Alternative"
				case "link":
					help = "put the sum of the quantities in one row"
				}
				m.Diagnostics.add("duplicate", r.Place, fmt.Sprintf("%s stands twice", r.Key), help, Related{other.Place, "first at"})
			}
		}
		by[r.Key] = append(by[r.Key], r)
	}
	m.byKey[scope] = by
}

// requireSheets reports required sheets that are missing, sheets that stand twice and merged headings.
func (m *Model) requireSheets() {
	have := map[string]bool{}
	for _, t := range m.Case.Tables {
		if have[t.Sheet] {
			m.Diagnostics.add("sheet", t.Place, fmt.Sprintf("two sheets are called %s but for upper and lower case", t.Sheet), "rename one of them")
		}
		have[t.Sheet] = true
		seen := map[string]bool{}
		for _, g := range t.Merged {
			if !seen[g.Range] {
				m.Diagnostics.add("heading", g.Place, fmt.Sprintf("the heading row has merged cells (%s)", g.Range), "unmerge them and give every column its own heading")
			}
			seen[g.Range] = true
		}
	}
	for i := range Layouts {
		l := &Layouts[i]
		if !l.Required || m.Case.Table(l.Sheet) != nil {
			continue
		}
		m.Diagnostics.add("sheet", Place{File: m.Case.File}, fmt.Sprintf("the workbook has no sheet %q", l.Sheet), fmt.Sprintf("add it (a row is %s), or start from a workbook made by `piececost new`", l.About))
	}
}

// readCurrencies makes the system of units from the model currency and the exchange rates.
func (m *Model) readCurrencies() *units.System {
	model, at := "EUR", Place{File: m.Case.File, Sheet: "Case"}
	found := false
	if t := m.Case.Table("Case"); t != nil {
		for _, row := range t.Rows {
			if Normalise(textAt(t, row, "quantity")) == "model_currency" {
				for i, c := range t.Columns {
					if n, _, _ := SplitHeading(c.Heading); n != "" && n != "quantity" && n != "unit" && !isProvenance(n) && row.Cells[i].Kind == Text {
						model, at, found = strings.TrimSpace(row.Cells[i].Text), row.Cells[i].Place, true
						break
					}
				}
			}
		}
		if !found {
			m.Diagnostics.add("currency", t.Place, "the model currency is missing", "add a row Model currency with a code such as EUR")
		}
	}
	rates := m.exchangeRates()
	sys, err := units.NewSystem(model, rates)
	if err != nil {
		m.Diagnostics.add("currency", at, "model currency: "+err.Error(), "")
		delete(rates, "EUR")
		sys, _ = units.NewSystem("EUR", nil)
	}
	return sys
}

// exchangeRates reads the sheet Currencies: model currency for one unit of each code.
func (m *Model) exchangeRates() map[string]float64 {
	rates := map[string]float64{}
	t := m.Case.Table("Currencies")
	if t == nil {
		return rates
	}
	for _, row := range t.Rows {
		code := strings.TrimSpace(textAt(t, row, "code"))
		if code == "" {
			continue
		}
		v := valueAt(t, row, "rate")
		switch {
		case !units.IsCurrency(code):
			m.Diagnostics.add("currency", valueAt(t, row, "code").Place, fmt.Sprintf("%q is not a currency code of ISO 4217", code), "write three capital letters such as CZK")
		case v.Kind != Number || !(v.Number > 0):
			m.Diagnostics.add("currency", v.Place, fmt.Sprintf("the exchange rate of %s must be a number above 0", code), "write how much model currency one unit of it is")
		default:
			rates[code] = v.Number
		}
	}
	return rates
}

// textAt returns the words of a cell by heading name, "" where there are none.
func textAt(t *Table, row Row, name string) string {
	v := valueAt(t, row, name)
	if v.Kind == Number {
		return fmt.Sprint(v.Number)
	}
	return strings.TrimSpace(v.Text)
}

// valueAt returns a cell by heading name.
func valueAt(t *Table, row Row, name string) Value {
	for i, c := range t.Columns {
		if n, _, _ := SplitHeading(c.Heading); n == name {
			return row.Cells[i]
		}
	}
	return Value{Place: Place{File: t.Place.File, Sheet: t.Sheet, Row: row.Number, Col: 1}}
}

// readCurves reads the sheet Tables: Curve, X, X unit, Y, Y unit; the points of a curve in rising X.
func (m *Model) readCurves(sys *units.System) map[string]*curve {
	out := map[string]*curve{}
	t := m.Case.Table("Tables")
	if t == nil {
		return out
	}
	for _, row := range t.Rows {
		name := textAt(t, row, "curve")
		if name == "" {
			continue
		}
		x, y := valueAt(t, row, "x"), valueAt(t, row, "y")
		if x.Kind != Number || y.Kind != Number {
			m.Diagnostics.add("curve", x.Place, fmt.Sprintf("curve %s: X and Y must be numbers", name), "")
			continue
		}
		c := out[name]
		if c == nil {
			c = &curve{}
			c.x, c.y = m.curveUnit(sys, t, row, "x_unit"), m.curveUnit(sys, t, row, "y_unit")
			out[name] = c
		}
		xv := x.Number * c.x.Factor
		if n := len(c.X); n > 0 && xv <= c.X[n-1] {
			m.Diagnostics.add("curve", x.Place, fmt.Sprintf("curve %s: X does not rise", name), "sort its points by X and give each X once")
			continue
		}
		c.X, c.Y = append(c.X, xv), append(c.Y, y.Number*c.y.Factor)
		c.xAt, c.yAt = append(c.xAt, x.Place), append(c.yAt, y.Place)
	}
	return out
}

func (m *Model) curveUnit(sys *units.System, t *Table, row Row, name string) units.Unit {
	v := valueAt(t, row, name)
	u, err := sys.Parse(textAt(t, row, name))
	if err != nil {
		m.Diagnostics.add("unit", v.Place, err.Error(), "")
	}
	return u
}

// ownScopes are the words in the column Process that mean the equations of all rows of a scope.
var ownScopes = map[string]string{"all_operations": "operation", "all_parts": "part", "all_machines": "machine",
	"all_plants": "plant", "all_materials": "material", "all_scenarios": "scenario", "all_links": "link", "case": "case",
	"operation": "operation", "part": "part", "machine": "machine", "plant": "plant", "material": "material", "scenario": "scenario", "link": "link"}

// withOwnProcesses adds the definitions of the sheet Processes to a copy of the library.
func (m *Model) withOwnProcesses(lib *Library) *Library {
	t := m.Case.Table("Processes")
	if t == nil {
		return lib
	}
	out := &Library{Scopes: lib.Scopes, Forms: append([]*Template(nil), lib.Forms...), Processes: append([]*Template(nil), lib.Processes...)}
	own := map[string]*Template{}
	for _, row := range t.Rows {
		process, quantity := textAt(t, row, "process"), textAt(t, row, "quantity")
		if process == "" && quantity == "" {
			continue
		}
		at := valueAt(t, row, "quantity").Place
		if process == "" || quantity == "" {
			m.Diagnostics.add("process", at, "an own definition needs both Process and Quantity", "fill both cells")
			continue
		}
		tpl := own[Normalise(process)]
		if tpl == nil {
			tpl = out.ownTemplate(process)
			own[Normalise(process)] = tpl
		}
		m.ownItem(tpl, t, row, quantity, at)
	}
	return out
}

// ownTemplate makes room for own definitions: a copy of a process, a new process, or an addition to a scope.
func (lib *Library) ownTemplate(process string) *Template {
	if scope, ok := ownScopes[Normalise(process)]; ok {
		t := &Template{Scope: scope}
		lib.Scopes = append(append([]*Template(nil), lib.Scopes...), t)
		return t
	}
	for _, list := range [][]*Template{lib.Processes, lib.Forms} {
		for i, p := range list {
			if Normalise(p.Name) == Normalise(process) {
				c := *p
				c.Items = append([]Item(nil), p.Items...)
				list[i] = &c
				return &c
			}
		}
	}
	t := &Template{Scope: "operation", Name: strings.TrimSpace(process), Note: ownProcess}
	lib.Processes = append(lib.Processes, t)
	return t
}

// ownProcess marks a process that a workbook adds.
const ownProcess = "own process of this workbook"

// checkOwnProcesses reports an added process that no step has: most likely its name is misspelt.
func (m *Model) checkOwnProcesses() {
	used := map[*Variant]bool{}
	var names []string
	sc := m.Schema.byName["operation"]
	for _, r := range m.records["operation"] {
		used[sc.variant(r.Text("process"))] = true
	}
	for name := range ownScopes {
		names = append(names, strings.ReplaceAll(name, "_", " "))
	}
	for _, v := range sc.Variants[1:] {
		if v.Template.Note != ownProcess {
			names = append(names, v.Template.Name)
		}
	}
	sort.Strings(names)
	for _, v := range sc.Variants[1:] {
		if v.Template.Note != ownProcess || used[v] || len(v.Template.Items) == 0 {
			continue
		}
		at := v.Template.Items[0].Place
		if near := formula.Nearest(strings.ToLower(v.Template.Name), names); near != "" {
			m.Diagnostics.add("process", at, fmt.Sprintf("no step has the process %q", v.Template.Name), "did you mean "+near+"?")
		} else {
			m.Diagnostics.warn("process", at, fmt.Sprintf("no step has the own process %q", v.Template.Name), "use it in the sheet Operations; for the equations of all steps write all operations")
		}
	}
}

// definitionCell is the cell with the formula or value, whichever heading the column bears.
func definitionCell(t *Table, row Row) Value {
	for _, c := range t.Columns {
		switch name, _, _ := SplitHeading(c.Heading); name {
		case "formula_or_value", "formula", "value", "definition":
			return valueAt(t, row, name)
		}
	}
	return valueAt(t, row, "formula_or_value")
}

func (m *Model) ownItem(tpl *Template, t *Table, row Row, quantity string, at Place) {
	name, unit, bracket := SplitHeading(quantity)
	if !bracket {
		unit = textAt(t, row, "unit")
	}
	v := definitionCell(t, row)
	it := Item{Name: name, Label: labelOf(name), Unit: unit, Note: textAt(t, row, "note"), Source: textAt(t, row, "source"), Place: v.Place}
	switch v.Kind {
	case Broken:
		m.Diagnostics.add("cell", v.Place, v.Text, v.Help)
		return
	case Number:
		it.Is = fmt.Sprintf("\"%v %s\"", v.Number, unit)
		if unit == "" || unit == "1" {
			it.Is = fmt.Sprint(v.Number)
		}
	case Text:
		it.Is = strings.TrimPrefix(strings.TrimSpace(v.Text), "=")
	case Empty:
		it.Input = true
	}
	for i := range tpl.Items {
		if tpl.Items[i].Name == name {
			tpl.Items[i] = it
			return
		}
	}
	tpl.Items = append(tpl.Items, it)
}

// checkReferences reports words that name something that is not there, in every row, used by a scenario or not.
func (m *Model) checkReferences() {
	for _, r := range m.records["part"] {
		m.refer(r, "material", "material", "Materials")
		if v := m.Schema.byName["part"].variant(r.Text("form")); v == nil {
			m.unknownVariant(r, "form", m.Schema.byName["part"])
		}
	}
	for _, r := range m.records["link"] {
		for _, end := range []string{"parent", "child"} {
			m.refer(r, end, "part", "Parts")
		}
	}
	for _, r := range m.records["operation"] {
		m.refer(r, "part", "part", "Parts")
		m.refer(r, "machine", "machine", "Machines")
		m.refer(r, "plant", "plant", "Plants")
		switch p := r.Text("process"); {
		case p == "":
			m.Diagnostics.add("process", r.TextPlace("process"), fmt.Sprintf("step %s has no process", r.Key), "write one of those that `piececost processes` lists; timed operation takes any step whose time is known")
		case m.Schema.byName["operation"].variant(p) == nil:
			m.unknownVariant(r, "process", m.Schema.byName["operation"])
		}
		if r.Text("machine") == "" {
			m.Diagnostics.add("machine", r.TextPlace("machine"), fmt.Sprintf("step %s has no machine", r.Key), "write a key of the sheet Machines")
		}
		if _, ok := stepNumber(r.Text("step")); !ok {
			m.Diagnostics.add("step", r.TextPlace("step"), fmt.Sprintf("step %q is not a number", r.Text("step")), "number the steps 10, 20, 30")
		}
	}
}

// refer reports a word that should be a key of a sheet.
func (m *Model) refer(r *Record, column, scope, sheet string) {
	if err := m.referenceError(r.Text(column), column, scope, sheet); err != nil {
		m.Diagnostics.add("reference", r.TextPlace(column), err.Summary, err.Help)
	}
}

func (m *Model) referenceError(key, column, scope, sheet string) *Diagnostic {
	if key == "" || len(m.byKey[scope][key]) > 0 {
		return nil
	}
	help := fmt.Sprintf("add it to the sheet %s or correct it", sheet)
	if near := formula.Nearest(key, m.keys(scope)); near != "" {
		help = "did you mean " + near + "?"
	}
	return &Diagnostic{Summary: fmt.Sprintf("%s %q is not in the sheet %s", column, key, sheet), Help: help}
}

func (m *Model) keys(scope string) []string {
	var out []string
	for _, r := range m.records[scope] {
		out = append(out, r.Key)
	}
	return out
}

func (m *Model) unknownVariant(r *Record, column string, sc *Scope) {
	var names []string
	for _, v := range sc.Variants[1:] {
		names = append(names, v.Template.Name)
	}
	help := "the choices are " + strings.Join(names, ", ")
	if near := formula.Nearest(strings.ToLower(r.Text(column)), names); near != "" {
		help = "did you mean " + near + "?"
	}
	m.Diagnostics.add(column, r.TextPlace(column), fmt.Sprintf("unknown %s %q", column, r.Text(column)), help)
}
