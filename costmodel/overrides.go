package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// An Override is a row of the sheet Overrides that is in force: a quantity of a row that a person set against the model,
// in one scenario or, without a name, in all.
type Override struct {
	Scenario, Sheet, Row, Column string
	Value                        table.Value
	record                       *Record
}

// overrideRank lets an override win over every change of a scenario.
const overrideRank = 9

// readOverrides reads the sheet Overrides. A row works as a scenario's change does, and wins over one.
func (m *Model) readOverrides() {
	t := m.Case.Table("Overrides")
	if t == nil {
		return
	}
	for _, row := range t.Rows {
		if state := t.TextAt(row, "state"); state != "" && !strings.EqualFold(state, table.InForce) {
			continue
		}
		if v := t.ValueAt(row, "value"); v.Kind != table.Empty {
			m.override(t, row, v)
		}
	}
}

func (m *Model) override(t *table.Table, row table.Row, v table.Value) {
	scenarios := m.overriddenScenarios(t.ValueAt(row, "scenario"))
	sheet := t.ValueAt(row, "sheet")
	l := table.LayoutOf(sheet.Text)
	if l == nil || l.Scope == "" {
		m.Diagnostics.Add("selector", sheet.Place, fmt.Sprintf("there is no input sheet %q", sheet.Text),
			nearestOr(sheet.Text, inputSheets(), "write the name of an input sheet, or Scenarios"))
		return
	}
	rows, column := m.inOrder(l, t.ValueAt(row, "row"), t.ValueAt(row, "column"))
	for _, s := range scenarios {
		target, ok := m.overrideTarget(s, l, rows, column)
		if !ok {
			return // said once
		}
		if target.text == "" && m.Schema.isTotal(l.Scope, m.Schema.byName[l.Scope].Quantities[target.quantity].Name) {
			m.Diagnostics.Add("override", column.Place, fmt.Sprintf("%s is a total", cellText(column)),
				"set one of the costs that it adds up, so that the statement still adds up")
			return
		}
		target.rank = overrideRank
		if len(scenarios) == 1 {
			target.rank++ // of one scenario: more specific than of all
		}
		m.applyChange(s, target, v)
		o := &Override{Scenario: s.Name, Sheet: l.Sheet, Row: cellText(rows), Column: cellText(column), Value: v,
			record: &Record{Scope: l.Scope, Sheet: t.Sheet, Key: cellText(rows), texts: map[string]table.Value{}}}
		for _, name := range table.Provenance {
			if p := t.ValueAt(row, name); p.Kind != table.Empty {
				o.record.texts[name] = p
			}
		}
		m.Overrides = append(m.Overrides, o)
	}
}

// isTotal tells whether a quantity adds up the cost elements, or one element over the steps.
func (s *Schema) isTotal(scope, name string) bool {
	element := s.isElement(strings.TrimPrefix(name, "piece_"))
	return strings.HasSuffix(name, "annual_cost") || strings.HasSuffix(name, "piece_cost") || element && scope != "operation"
}

// overriddenScenarios finds the scenario that a cell names; an empty cell means all.
func (m *Model) overriddenScenarios(name table.Value) []*Scenario {
	if name.Kind == table.Empty {
		return m.Scenarios
	}
	var names []string
	for _, s := range m.Scenarios {
		if s.Name == strings.TrimSpace(cellText(name)) {
			return []*Scenario{s}
		}
		names = append(names, s.Name)
	}
	m.Diagnostics.Add("selector", name.Place, fmt.Sprintf("there is no scenario %q", cellText(name)),
		nearestOr(cellText(name), names, "write the name of a scenario, or leave the cell empty for all"))
	return nil
}

// overrideTarget is what a row of Overrides aims at. The scenario's own quantities stand under the sheet Scenarios.
func (m *Model) overrideTarget(s *Scenario, l *table.Layout, rows, column table.Value) (target, bool) {
	if l.Scope != "scenario" {
		return m.changeTarget(l, rows, column)
	}
	name, unit, bracket := table.SplitHeading(cellText(column))
	sc := m.Schema.byName["scenario"]
	n, ok := sc.byHeading(name)
	if !ok || name == "annual_volume" {
		m.Diagnostics.Add("selector", column.Place, fmt.Sprintf("%q is no quantity of a scenario that can be overridden", cellText(column)),
			"the annual volume is changed in the sheet Scenarios itself")
		return target{}, false
	}
	q := sc.Quantities[n]
	u := units.One
	if !q.Flag && len(q.Options) == 0 {
		u = m.columnUnit(q, column.Place, fmt.Sprintf("%q", cellText(column)), unit, bracket, fmt.Sprintf("write %s [%s]", q.Label, m.ShownUnit(q.Unit)))
	}
	return target{layout: l, place: rows.Place, quantity: n, unit: u, records: []*Record{s.record}}, true
}

// A CellMeaning is what a number in an input cell is.
type CellMeaning struct {
	Scope, Key string
	Quantity   string     // name
	Unit       units.Unit // of the bare number; One where the cell is formatted as percent
}

// Meanings maps the input cells that hold numbers to what they are.
func (m *Model) Meanings() map[table.Place]CellMeaning {
	out := map[table.Place]CellMeaning{}
	for _, sc := range m.Schema.Scopes {
		for _, r := range m.records[sc.Name] {
			for _, f := range r.fields {
				if f.value.Kind != table.Number {
					continue
				}
				u := f.unit
				if f.value.Percent {
					u = units.One
				}
				out[f.value.Place] = CellMeaning{Scope: sc.Name, Key: r.Key, Quantity: sc.Quantities[f.quantity].Name, Unit: u}
			}
		}
	}
	return out
}

// QuantityNamed finds a quantity of a scope by its name or heading without unit; ok is false for what can't be overridden.
func (m *Model) QuantityNamed(scope, heading string) (*Quantity, bool) {
	sc := m.Schema.byName[scope]
	if sc == nil {
		return nil, false
	}
	n, ok := sc.byHeading(table.Normalise(heading))
	if !ok || sc.Quantities[n].Structural {
		return nil, false
	}
	return sc.Quantities[n], true
}
