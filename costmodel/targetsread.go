package costmodel

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// targetReader reads the sheet Targets.
type targetReader struct {
	model     *Model
	table     *table.Table
	scenarios map[int]string // by column
	seen      map[string]table.Place
}

// readTargets reads the sheet Targets into the model.
func (m *Model) readTargets() {
	t := m.Case.Table("Targets")
	if t == nil || len(t.Rows) == 0 {
		return
	}
	r := &targetReader{model: m, table: t, scenarios: map[int]string{}, seen: map[string]table.Place{}}
	if !r.columns() {
		return
	}
	for _, row := range t.Rows {
		if target := r.row(row); target != nil {
			m.Targets = append(m.Targets, target)
		}
	}
}

// columns finds the scenarios' columns; a heading that is nearly one's name would silently be ignored.
func (r *targetReader) columns() bool {
	m := r.model
	var names []string
	for _, s := range m.Scenarios {
		names = append(names, s.Name)
	}
	have := map[string]bool{}
	for i, c := range r.table.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		have[name] = true
		l := table.LayoutOf(r.table.Sheet)
		if name == "" || contains(l.Key, name) || contains(l.Texts, name) || table.IsProvenance(name) {
			continue
		}
		text := strings.TrimSpace(c.Heading)
		for _, s := range names {
			if strings.EqualFold(s, text) {
				r.scenarios[i] = s
			}
		}
		if near := formula.Nearest(text, names); r.scenarios[i] == "" && near != "" {
			m.Diagnostics.Add("heading", c.Place, fmt.Sprintf("heading %q is no scenario", c.Heading), "did you mean "+near+
				"? If the column is your own, give it a name less alike")
		}
	}
	ok := true
	for _, need := range []string{"quantity", "direction", "target"} {
		if !have[need] {
			m.Diagnostics.Add("heading", r.table.Place, fmt.Sprintf("the sheet has no column %q", table.Label(need)),
				"its columns are Quantity, Part, Unit, Direction, Target, then one a scenario where needed")
			ok = false
		}
	}
	return ok
}

// row reads one requirement; nil where the row is empty or has a fault.
func (r *targetReader) row(row table.Row) *Target {
	m := r.model
	at := r.table.ValueAt(row, "quantity")
	label, unit, bracket := table.SplitHeading(r.table.TextAt(row, "quantity"))
	if label == "" {
		if r.table.ValueAt(row, "target").Kind != table.Empty {
			m.Diagnostics.Add("key", at.Place, "the row has no quantity", "fill the cell or clear the row")
		}
		return nil
	}
	t := &Target{Part: r.table.TextAt(row, "part"), Place: at.Place, source: r.table.TextAt(row, "source"), wanted: math.NaN(), columns: map[string]float64{}}
	if c := r.table.TextAt(row, "unit"); c != "" {
		unit, bracket = c, true
	}
	before := m.Diagnostics.Count(table.Error)
	r.quantity(t, row, label)
	if t.scope == nil && !t.Stated {
		return nil
	}
	r.unit(t, row, unit, bracket)
	r.direction(t, row)
	if m.Diagnostics.Count(table.Error) > before {
		return nil
	}
	r.values(t, row)
	r.once(t)
	if m.Diagnostics.Count(table.Error) > before {
		return nil
	}
	return t
}

// quantity finds what the row means: a quantity of the scenario or of a part, or one that the program can't compute.
func (r *targetReader) quantity(t *Target, row table.Row, label string) {
	m := r.model
	scope := "scenario"
	if t.Part != "" {
		scope = "part"
		if d := m.referenceError(t.Part, "part", "part", "Parts"); d != nil {
			m.Diagnostics.Add("reference", r.table.ValueAt(row, "part").Place, d.Summary, d.Help)
		}
	}
	sc := m.Schema.byName[scope]
	if n, ok := sc.byHeading(label); ok {
		if q := sc.Quantities[n]; q.Flag || len(q.Options) > 0 || q.Structural {
			m.Diagnostics.Add("target", t.Place, q.Label+" is a choice, not a number", "name a quantity that has a value")
			return
		}
		t.scope, t.quantity, t.Label = sc, n, sc.Quantities[n].Label
		return
	}
	if near := formula.Nearest(label, m.targetNames(sc)); near != "" {
		m.Diagnostics.Add("target", t.Place, fmt.Sprintf("%q is no quantity of the %s", r.table.TextAt(row, "quantity"), scope),
			fmt.Sprintf("did you mean %s? If the value is your own, give it a name less alike", table.Label(near)))
		return
	}
	for i := range row.Cells {
		t.Stated = t.Stated || r.scenarios[i] != "" && row.Cells[i].Kind != table.Empty
	}
	t.Label, _, _ = strings.Cut(r.table.TextAt(row, "quantity"), "[")
	t.Label = strings.TrimSpace(t.Label)
	if !t.Stated {
		m.Diagnostics.Add("target", t.Place, fmt.Sprintf("%q is nothing the program computes for the %s, and no scenario's column holds its value",
			t.Label, scope), "name a quantity such as Piece cost or Net mass, or write what was measured or simulated under each scenario's name")
	}
}

// targetNames lists the quantities that a target can name, as headings are normalised.
func (m *Model) targetNames(sc *Scope) []string {
	var out []string
	for _, q := range sc.Quantities {
		if q.Check == nil && !q.Flag && len(q.Options) == 0 && !q.Structural {
			out = append(out, table.Normalise(q.Label))
		}
	}
	return out
}

// unit reads the unit. A stated value may have a unit that the program does not know, since nothing is converted.
func (r *targetReader) unit(t *Target, row table.Row, text string, given bool) {
	m := r.model
	place := r.table.ValueAt(row, "unit").Place
	if place.Col == 1 { // the sheet has no column Unit, or it is the first
		place = t.Place
	}
	if !t.Stated {
		q := t.scope.Quantities[t.quantity]
		t.Unit = m.columnUnit(q, place, fmt.Sprintf("%q", t.Label), text, given, fmt.Sprintf("write %s in the column Unit", m.ShownUnit(q.Unit)))
		return
	}
	u, err := m.Schema.Units.Parse(text)
	if err != nil {
		u = units.Unit{Text: text, Factor: 1}
	}
	t.Unit = u
}

func (r *targetReader) direction(t *Target, row table.Row) {
	v := r.table.ValueAt(row, "direction")
	switch text := strings.ToLower(r.table.TextAt(row, "direction")); text {
	case "at most":
	case "at least":
		t.atLeast = true
	default:
		help := "write at most or at least"
		if near := formula.Nearest(text, table.Directions); near != "" {
			help = "did you mean " + near + "?"
		}
		r.model.Diagnostics.Add("target", v.Place, fmt.Sprintf("the direction of %s is %q", t.Label, r.table.TextAt(row, "direction")), help)
	}
}

// values reads the target and the scenarios' columns.
func (r *targetReader) values(t *Target, row table.Row) {
	wanted := r.table.ValueAt(row, "target")
	if wanted.Kind != table.Empty {
		t.wanted = r.possible(t, wanted)
	}
	for i, v := range row.Cells {
		if name := r.scenarios[i]; name != "" && v.Kind != table.Empty {
			t.columns[name] = r.possible(t, v)
		}
	}
	switch {
	case wanted.Kind != table.Empty:
	case t.Stated:
		r.model.Diagnostics.Add("target", wanted.Place, t.Label+" has no target", "write it in the column Target")
	case len(t.columns) == 0:
		r.model.Diagnostics.Add("target", wanted.Place, t.Label+" has no target", "write it in the column Target, or under a scenario's name where it differs")
	}
}

// possible reads a cell of the row.
func (r *targetReader) possible(t *Target, v table.Value) float64 {
	return r.model.statedNumber("target", t.Label, t.Unit, v)
}

// once reports a requirement that stands twice.
func (r *targetReader) once(t *Target) {
	key := strings.ToLower(t.Name() + "/" + t.Direction())
	if first, ok := r.seen[key]; ok {
		r.model.Diagnostics.Add("duplicate", t.Place, fmt.Sprintf("%s %s stands twice", t.Name(), t.Direction()), "delete one of the two",
			table.Related{Place: first, Note: "first at"})
		return
	}
	r.seen[key] = t.Place
}
