package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

const (
	toolRelations = "Tool relations"
	pastTools     = "Past tools"
)

// The words in the column State of Tool relations. A row that was replaced stays for the record and is not read.
const (
	StateFitted   = "fitted"
	StateOwn      = "own"
	StateReplaced = "replaced"
)

// listedRecords reads a sheet on which a row is one quantity of a thing: all rows of a thing make one record.
func (m *Model) listedRecords(l *table.Layout, t *table.Table) (out []*Record) {
	sc := m.Schema.byName[l.Scope]
	for _, name := range []string{l.Key[0], "coefficient", "value"} {
		if _, ok := t.Column(name); !ok {
			m.Diagnostics.Add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(name)), "add it to the heading row")
			m.unreadable(l.Scope)
			return nil
		}
	}
	by := map[string]*Record{}
	for _, row := range t.Rows {
		key, coefficient := t.ValueAt(row, l.Key[0]), t.ValueAt(row, "coefficient")
		value := t.ValueAt(row, "value")
		if cellText(key) == "" && cellText(coefficient) == "" && value.Kind == table.Empty || !m.inForce(t, row) {
			continue
		}
		if cellText(key) == "" || cellText(coefficient) == "" {
			m.Diagnostics.Add("key", key.Place, fmt.Sprintf("the row has no %s", strings.ToLower(table.Label(l.Key[0]))+" or no coefficient"),
				"fill both cells or clear the row")
			continue
		}
		r := by[table.Normalise(cellText(key))]
		if r == nil {
			r = &Record{Scope: l.Scope, Sheet: l.Sheet, Key: cellText(key), Place: key.Place, Row: row.Number,
				texts: map[string]table.Value{l.Key[0]: key}}
			by[table.Normalise(r.Key)] = r
			out = append(out, r)
		}
		m.coefficientRow(sc, r, t, row)
	}
	return out
}

// inForce tells whether a row of Tool relations is read.
func (m *Model) inForce(t *table.Table, row table.Row) bool {
	state := strings.ToLower(t.TextAt(row, "state"))
	if known := []string{"", StateFitted, StateOwn, StateReplaced}; !slices.Contains(known, state) {
		m.Diagnostics.Add("state", t.ValueAt(row, "state").Place, fmt.Sprintf("unknown state %q", table.Shortened(state)),
			"write one of "+strings.Join(known[1:], ", ")+", or leave the cell empty")
	}
	return state != StateReplaced
}

// coefficientRow adds the coefficient of a row to the record of its kind.
func (m *Model) coefficientRow(sc *Scope, r *Record, t *table.Table, row table.Row) {
	k := t.ValueAt(row, "coefficient")
	name, unit, bracket := table.SplitHeading(cellText(k))
	n, ok := sc.byHeading(name)
	if !ok {
		var known []string
		for _, q := range sc.Quantities {
			if q.Check == nil && !q.Structural {
				known = append(known, q.Label)
			}
		}
		help := "it is one of " + strings.Join(known, ", ")
		if near := formula.Nearest(table.Label(name), known); near != "" {
			help = "did you mean " + near + "?"
		}
		m.Diagnostics.Add("coefficient", k.Place, fmt.Sprintf("unknown coefficient %q", table.Shortened(cellText(k))), help)
		return
	}
	q := sc.Quantities[n]
	if text := cellText(t.ValueAt(row, "unit")); text != "" && !bracket {
		unit, bracket = text, true
	}
	u := m.columnUnit(q, k.Place, fmt.Sprintf("%q", cellText(k)), unit, bracket, fmt.Sprintf("write %s in the column Unit", m.ShownUnit(q.Unit)))
	v := t.ValueAt(row, "value")
	if v.Kind == table.Empty {
		m.Diagnostics.Add("coefficient", v.Place, fmt.Sprintf("%s of %s has no value", q.Label, r.Key), "fill the cell or clear the row")
		return
	}
	if old := r.field(n); old != nil {
		m.Diagnostics.Add("duplicate", k.Place, fmt.Sprintf("%s of %s stands twice", q.Label, r.Key),
			"delete one of the two, or write "+StateReplaced+" under State", table.Related{Place: old.value.Place, Note: "first at"})
		return
	}
	r.fields = append(r.fields, givenField{quantity: n, value: v, unit: u, provided: provenanceOf(t, row)})
}

// provenanceOf are the words of a row that say where its value comes from.
func provenanceOf(t *table.Table, row table.Row) map[string]string {
	out := map[string]string{}
	for _, name := range slices.Concat([]string{"state", "count"}, table.Provenance) {
		if text := cellText(t.ValueAt(row, name)); text != "" {
			out[name] = text
		}
	}
	return out
}
