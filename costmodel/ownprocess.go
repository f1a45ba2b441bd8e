package costmodel

import (
	"fmt"
	"sort"
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

// withOwnProcesses adds the definitions of the sheet Processes to a copy of the library.
func (m *Model) withOwnProcesses(lib *Library) *Library {
	t := m.Case.Table("Processes")
	if t == nil {
		return lib
	}
	changed := *lib
	out := &changed
	out.Forms, out.Processes = append([]*Template(nil), lib.Forms...), append([]*Template(nil), lib.Processes...)
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
		tpl := own[table.Normalise(process)]
		if tpl == nil {
			tpl = out.ownTemplate(process)
			own[table.Normalise(process)] = tpl
		}
		m.ownItem(tpl, t, row, quantity, at)
	}
	return out
}

// ownTemplate makes room for own definitions: a copy of a process, a new process, or an addition to a scope.
func (lib *Library) ownTemplate(process string) *Template {
	if scope, ok := ownScopes[table.Normalise(process)]; ok {
		t := &Template{Scope: scope}
		lib.Scopes = append(append([]*Template(nil), lib.Scopes...), t)
		return t
	}
	for _, called := range []func(*Template, string) bool{(*Template).named, (*Template).alias} {
		for _, list := range [][]*Template{lib.Processes, lib.Forms} {
			for i, p := range list {
				if called(p, process) {
					c := *p
					c.Items = append([]Item(nil), p.Items...)
					list[i] = &c
					return &c
				}
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
			names = append(append(names, v.Template.Name), v.Template.Aliases...)
		}
	}
	sort.Strings(names)
	for _, v := range sc.Variants[1:] {
		if v.Template.Note != ownProcess || used[v] || len(v.Template.Items) == 0 {
			continue
		}
		at := v.Template.Items[0].place
		if near := formula.Nearest(strings.ToLower(v.Template.Name), names); near != "" {
			m.Diagnostics.Add("process", at, fmt.Sprintf("no operation has the process %q", v.Template.Name), "did you mean "+near+"?")
		} else {
			m.Diagnostics.Warn("process", at, fmt.Sprintf("no operation has the own process %q", v.Template.Name),
				"use it in the sheet Operations; for the equations of all operations write all operations")
		}
	}
}

// definitionCell is the cell with the formula or value, whichever heading the column bears.
func definitionCell(t *table.Table, row table.Row) table.Value {
	for _, c := range t.Columns {
		switch name, _, _ := table.SplitHeading(c.Heading); name {
		case "formula_or_value", "formula", "value", "definition":
			return t.ValueAt(row, name)
		}
	}
	return t.ValueAt(row, "formula_or_value")
}

func (m *Model) ownItem(tpl *Template, t *table.Table, row table.Row, quantity string, at table.Place) {
	name, unit, bracket := table.SplitHeading(quantity)
	if !bracket {
		unit = t.TextAt(row, "unit")
	}
	v := definitionCell(t, row)
	it := Item{Name: name, Label: table.Label(name), Unit: unit, Note: t.TextAt(row, "note"), Source: t.TextAt(row, "source"), place: v.Place}
	switch v.Kind {
	case table.Broken:
		m.Diagnostics.Add("cell", v.Place, v.Text, v.Help)
		return
	case table.Number:
		it.Is = fmt.Sprintf("\"%v %s\"", v.Number, unit)
		if unit == "" || unit == "1" {
			it.Is = fmt.Sprint(v.Number)
		}
	case table.Text:
		it.Is = strings.TrimPrefix(strings.TrimSpace(v.Text), "=")
		if err := units.TwoReadings(it.Is); err != nil {
			m.Diagnostics.Add("number", v.Place, fmt.Sprintf("%s %q %v", it.Label, it.Is, err), "")
			return
		}
	case table.Empty:
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
