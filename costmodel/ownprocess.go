package costmodel

import (
	"cmp"
	"fmt"
	"sort"
	"strconv"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// ownScopes are the words in the column Process that mean the equations of all rows of a scope.
var ownScopes = map[string]string{"all_operations": "operation", "all_parts": "part", "all_machines": "machine",
	"all_plants": "plant", "all_materials": "material", "all_scenarios": "scenario", "all_links": "link", "all_joints": "joint", "case": "case",
	"operation": "operation", "part": "part", "machine": "machine", "plant": "plant", "material": "material", "scenario": "scenario", "link": "link",
	"joint": "joint"}

// ownQuoteScopes are those of a model of quotes, which a model of a case passes over, as a model of quotes does all others.
var ownQuoteScopes = map[string]string{"all_quotes": "quote", "all_quote_lines": "quote line", "quote": "quote", "quote_line": "quote line"}

// withOwnProcesses adds the definitions of the sheet Processes to a copy of the library.
func (m *Model) withOwnProcesses(lib *Library, sys *units.System) *Library {
	t := m.Case.Table("Processes")
	if t == nil {
		return lib
	}
	changed := *lib
	out := &changed
	out.Forms, out.Processes = append([]*Template(nil), lib.Forms...), append([]*Template(nil), lib.Processes...)
	bases := basesOf(t)
	own := map[string]*Template{}
	for _, row := range t.Rows {
		process, quantity := t.TextAt(row, "process"), t.TextAt(row, "quantity")
		if process == "" && quantity == "" {
			continue
		}
		at := t.ValueAt(row, "quantity").Place
		if process == "" || quantity == "" {
			m.Diagnostics.Add("process", at, "an own definition needs both Process and Quantity", "fill both cells")
			continue
		}
		if _, quotes := ownQuoteScopes[table.Normalise(process)]; quotes != (lib.scopes != nil) {
			continue
		}
		key := ownKey(process)
		tpl := own[key]
		if tpl == nil {
			tpl = m.ownTemplate(out, lib, process, bases[key])
			own[key] = tpl
		}
		switch table.Normalise(quantity) {
		case basedOn:
			if tpl.based && tpl.defined.Row == 0 {
				tpl.defined = definitionCell(t, row).Place
			}
		case "check", checkError:
			m.ownCheck(tpl, t, row, table.Normalise(quantity) == checkError)
		default:
			m.ownItem(tpl, t, row, quantity, sys)
		}
	}
	return out
}

// ownTemplate makes room in out for own definitions: an addition to a scope, a copy of a process or form of the library, or a new
// one, which begins as the one that it is based on.
func (m *Model) ownTemplate(out, lib *Library, process string, base table.Value) *Template {
	name, form := formName(process)
	lists := [][]*Template{out.Processes, out.Forms}
	if form {
		lists = lists[1:]
	} else if scope, ok := ownScopes[table.Normalise(name)]; ok || ownQuoteScopes[table.Normalise(name)] != "" {
		scope = cmp.Or(scope, ownQuoteScopes[table.Normalise(name)])
		m.refuseBase(base, fmt.Sprintf("%q are the equations of all rows and based on nothing", name))
		t := &Template{Scope: scope}
		out.Scopes = append(append([]*Template(nil), out.Scopes...), t)
		return t
	}
	for _, called := range []func(*Template, string) bool{(*Template).named, (*Template).alias} {
		for _, list := range lists {
			for i, p := range list {
				if called(p, name) {
					m.refuseBase(base, fmt.Sprintf("%q is in the library already; its rows here change it wherever it is used", name))
					c := *p
					c.Items, c.Checks = append([]Item(nil), p.Items...), append([]Check(nil), p.Checks...)
					list[i] = &c
					return &c
				}
			}
		}
	}
	if form {
		t := m.fromBase(lib.Forms, base, name, lib.form(GivenMasses))
		out.Forms = append(out.Forms, t)
		return t
	}
	t := m.fromBase(lib.Processes, base, name, &Template{Scope: "operation"})
	out.Processes = append(out.Processes, t)
	return t
}

// ownProcess marks a process that a workbook adds.
const ownProcess = "own process of this workbook"

// ownThings are what a workbook may add, with who has them.
var ownThings = []struct{ scope, column, is, who, sheet string }{
	{"operation", "process", "process", "operation", "Operations"}, {"part", "form", "form", "part", "Parts"},
}

// checkOwnProcesses reports an added process or form that no row has: most likely its name is misspelt.
func (m *Model) checkOwnProcesses() {
	for _, own := range ownThings {
		used := map[*Variant]bool{}
		var names []string
		sc := m.Schema.byName[own.scope]
		for _, r := range m.records[own.scope] {
			used[sc.variant(r.Text(own.column))] = true
		}
		if own.scope == "operation" {
			for name := range ownScopes {
				names = append(names, strings.ReplaceAll(name, "_", " "))
			}
		}
		for _, v := range sc.Variants[1:] {
			if v.Template.Note != ownProcess {
				names = append(append(names, v.Template.Name), v.Template.Aliases...)
			}
		}
		sort.Strings(names)
		for _, v := range sc.Variants[1:] {
			if v.Template.Note != ownProcess || used[v] || v.Template.defined.Row == 0 {
				continue
			}
			if near := formula.Nearest(strings.ToLower(v.Template.Name), names); near != "" && !v.Template.based {
				m.Diagnostics.Add("process", v.Template.defined, fmt.Sprintf("no %s has the %s %q", own.who, own.is, v.Template.Name), "did you mean "+near+"?")
				continue
			}
			help := "use it in the sheet " + own.sheet
			if own.scope == "operation" {
				help += "; for the equations of all operations write all operations, for a form of material form: " + v.Template.Name
			}
			m.Diagnostics.Warn("process", v.Template.defined, fmt.Sprintf("no %s has the own %s %q", own.who, own.is, v.Template.Name), help)
		}
	}
}

// DefinitionHeadings are the names that the column of formulas and values may bear.
var DefinitionHeadings = []string{"formula_or_value", "formula", "value", "definition"}

// definitionCell is the cell with the formula or value, whichever heading the column bears.
func definitionCell(t *table.Table, row table.Row) table.Value {
	for _, c := range t.Columns {
		if name, _, _ := table.SplitHeading(c.Heading); contains(DefinitionHeadings, name) {
			return t.ValueAt(row, name)
		}
	}
	return t.ValueAt(row, DefinitionHeadings[0])
}

// ownItem reads a row that defines a quantity: by a number in its unit, a quantity, or an expression; an empty cell makes it an
// input, which a column of the sheet of its rows gives.
func (m *Model) ownItem(tpl *Template, t *table.Table, row table.Row, quantity string, sys *units.System) {
	name, unit, bracket := table.SplitHeading(quantity)
	if !bracket {
		unit = t.TextAt(row, "unit")
	}
	name = m.library.nameByLabel(tpl.Scope, name)
	v := definitionCell(t, row)
	if tpl.defined.Row == 0 {
		tpl.defined = v.Place
	}
	it := Item{Name: name, Label: table.Label(name), Unit: unit, Note: t.TextAt(row, "note"), Source: t.TextAt(row, "source"), place: v.Place}
	switch v.Kind {
	case table.Broken:
		m.Diagnostics.Add("cell", v.Place, v.Text, v.Help)
		return
	case table.Number:
		it.Is = numberIn(v, unit)
	case table.Text:
		text := strings.TrimSpace(v.Text)
		it.Is = strings.TrimPrefix(text, "=")
		if err := units.TwoReadings(it.Is); err != nil {
			m.Diagnostics.Add("number", v.Place, fmt.Sprintf("%s %q %v", it.Label, it.Is, err), "")
			return
		}
		if q, err := sys.ParseTyped(text); err == nil && !q.Bare { // a quantity with its unit, as in any other cell
			it.Is = `"` + text + `"`
		}
	case table.Empty:
		it.Input = true
	}
	for i := range tpl.Items {
		if tpl.Items[i].Name == name {
			tpl.Items[i] = it.inPlaceOf(&tpl.Items[i])
			return
		}
	}
	tpl.Items = append(tpl.Items, it)
}

// numberIn writes the number of a cell with its unit; in a cell formatted as percent it is a share, and its decimal point is moved.
func numberIn(v table.Value, unit string) string {
	n := v.Number
	if v.Percent && strings.HasPrefix(unit, "%") {
		n, _ = strconv.ParseFloat(strconv.FormatFloat(n, 'f', -1, 64)+"e2", 64)
	}
	if unit == "" || unit == "1" {
		return fmt.Sprint(n)
	}
	return fmt.Sprintf("\"%v %s\"", n, unit)
}

// nameByLabel is the name of the quantity of a scope that bears a label: set_up_time is setup_time. Any other text is a name itself.
func (lib *Library) nameByLabel(scope, name string) string {
	if it := lib.Describe(scope, name); it != nil && table.Normalise(it.Label) == name {
		return it.Name
	}
	return name
}

// inPlaceOf is an own definition that takes the place of one of the library: what it does not say stays, ranges only where the
// unit does.
func (it Item) inPlaceOf(old *Item) Item {
	it.Label, it.Symbol, it.aliases, it.Options, it.counts, it.compounds, it.noLever = old.Label, old.Symbol, old.aliases, old.Options, old.counts,
		old.compounds, old.noLever
	if it.Unit == old.Unit {
		it.Possible, it.Plausible = old.Possible, old.Plausible
	}
	it.Input = it.Input || old.Input // its number is a default
	if it.Is == old.Is {
		it.Kind, it.Note, it.Source = old.Kind, cmp.Or(it.Note, old.Note), cmp.Or(it.Source, old.Source)
		it.Otherwise, it.InsteadOf = old.Otherwise, old.InsteadOf
	}
	return it
}
