package costmodel

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// Machines that are rows of a price relation: where a row of Machines says under Sized by what it is sized by (force, power, bed length), it is
// no machine but a relation, and every operation on it has a machine of its own: as large as the operation needs, with the row's Size reserve,
// rounded up to its Size series. Price and whatever else of the row depends on the size are expressions over it. What is sized, by which need,
// stands in templates/machines.

const (
	machineScope = "machine"
	sizeColumn   = "sized_by"
	seriesColumn = "size_series"
	seriesSource = "column Size series of the sheet Machines"

	// mostSizes is how many sizes a series may have: a spreadsheet formula has one condition inside another for each.
	mostSizes = 60
)

// sizeNames are the quantities of a size: of the machine what is sized, what is wanted of it, the least that is enough and the
// largest there is; need is of the operation.
type sizeNames struct{ rated, need, wanted, least, largest string }

// sizeFaults are names that a size of templates/machines lacks.
func (lib *Library) sizeFaults() (out []error) {
	for _, t := range lib.Sizes {
		for _, n := range []struct{ scope, name string }{{machineScope, t.size.rated}, {"operation", t.size.need}, {machineScope, t.size.wanted},
			{machineScope, t.size.least}, {machineScope, t.size.largest}} {
			if lib.itemOf(t, n.scope, n.name) == nil {
				out = append(out, fmt.Errorf("%s: there is no quantity %q of a %s, which the size %s asks for", t.File, n.name, n.scope, t.Name))
			}
		}
	}
	return out
}

// sizeOf is by what a machine is sized; nil for one whose size is typed.
func (m *Model) sizeOf(machine *Record) *Variant {
	return m.variantOf(m.Schema.byName[machineScope], machine)
}

// addNeeds has a process need what its check holds against a machine's figure that a machine may be sized by: a check of the rated force says
// which force is needed.
func (s *Schema) addNeeds(sc *Scope, v *Variant, sizes []*Template) (pending []pendingEquation) {
	if sc.Name != "operation" {
		return nil
	}
	for _, size := range sizes {
		n, known := sc.index[size.size.need]
		if !known || v.Definitions[n] != nil {
			continue
		}
		i := slices.IndexFunc(v.Template.Checks, func(c Check) bool { return c.Has == machineScope+"."+size.size.rated && c.Needs != "" })
		d := sc.definition(nil, n)
		if i < 0 || d == nil {
			continue
		}
		it := d.Item
		it.Is, it.Note, it.place = v.Template.Checks[i].Needs, "what the process holds against the machine's", v.Template.Checks[i].place
		def := &Definition{Item: it, Unit: d.Unit}
		v.define(n, def)
		pending = append(pending, pendingEquation{sc, def, formula.Type{Unit: d.Unit}, nil})
	}
	return pending
}

// readSizes looks at the machines that are sized by what their operations need, and gives them their series.
func (m *Model) readSizes() {
	sc := m.Schema.byName[machineScope]
	for _, r := range m.records[machineScope] {
		name, size := r.Text(sizeColumn), m.sizeOf(r)
		switch {
		case size != nil:
			m.readSize(sc, r, size)
		case name != "":
			known := sizesKnown(sc)
			m.Diagnostics.Add("size", r.TextPlace(sizeColumn), fmt.Sprintf("machine %s is sized by %q, which is unknown", r.Key, table.Shortened(name)),
				nearestOr(strings.ToLower(name), known, "write one of "+strings.Join(known, ", ")+", or clear the cell"))
		default:
			m.sizeWithoutRelation(sc, r)
		}
	}
}

// sizesKnown are the words of the column Sized by.
func sizesKnown(machines *Scope) (names []string) {
	for _, v := range machines.Variants[1:] {
		names = append(names, v.Template.Name)
	}
	return names
}

// sizeWithoutRelation reports a series or reserve of a machine whose size is typed.
func (m *Model) sizeWithoutRelation(sc *Scope, r *Record) {
	at, what := table.Place{}, ""
	if r.Text(seriesColumn) != "" {
		at, what = r.TextPlace(seriesColumn), table.Label(seriesColumn)
	}
	for _, f := range r.fields {
		ofSize := slices.ContainsFunc(sc.Variants[1:], func(v *Variant) bool { return v.defined(f.quantity) != nil })
		if what == "" && ofSize && sc.definition(nil, f.quantity) == nil {
			at, what = f.value.Place, sc.Quantities[f.quantity].Label
		}
	}
	if what != "" {
		m.Diagnostics.Add("size", at, fmt.Sprintf("machine %s has a %s, but Sized by is empty", r.Key, what),
			"write one of "+strings.Join(sizesKnown(sc), ", ")+" under Sized by, or clear the cell")
	}
}

// readSize checks a row that is a relation, and attaches its series.
func (m *Model) readSize(sc *Scope, r *Record, size *Variant) {
	n := sc.MustQuantity(size.Template.size.rated)
	q := sc.Quantities[n]
	if f := r.field(n); f != nil {
		m.Diagnostics.Add("size", f.value.Place, fmt.Sprintf("machine %s is sized by %s, and its %s is given", r.Key, size.Template.Name, q.Label),
			"clear one of the two cells", table.Related{Place: r.TextPlace(sizeColumn), Note: "Sized by at"})
		return
	}
	value := r.texts[seriesColumn]
	if cellText(value) == "" {
		return
	}
	series, help, err := m.sizeSeries(cellText(value), q)
	if err != nil {
		m.Diagnostics.Add("size", value.Place, fmt.Sprintf("Size series of %s: %v", r.Key, err), help)
		return
	}
	names := size.Template.size
	m.attachEquation(sc, r, size, n, seriesText(names.least, series, q), "the next size of the series", seriesSource)
	m.attachEquation(sc, r, size, sc.MustQuantity(names.largest), sizeText(series[len(series)-1], q), "the end of the size series", seriesSource)
}

// sizeSeries reads sizes with commas between them and the unit behind the last; without one they are in the unit of the quantity.
func (m *Model) sizeSeries(text string, q *Quantity) (series []float64, help string, err error) {
	help = fmt.Sprintf("write rising sizes with commas between them and their unit at the end: 630, 800, 1000 %s", m.ShownUnit(q.Unit))
	words := splitList(text)
	last := len(words) - 1
	figure, unit, _ := strings.Cut(words[last], " ")
	words[last] = figure
	u := q.Unit
	if strings.TrimSpace(unit) != "" {
		if u, err = m.Schema.Units.Parse(strings.TrimSpace(unit)); err != nil {
			return nil, help, err
		}
		if !u.Fits(q.Unit) {
			return nil, help, fmt.Errorf("%s is %s, wanted is %s", strings.TrimSpace(unit), u.Describe(), q.Unit.Describe())
		}
	}
	if len(words) > mostSizes {
		return nil, help, fmt.Errorf("it has %d sizes, and %d are the most", len(words), mostSizes)
	}
	for _, w := range words {
		v, err := strconv.ParseFloat(w, 64)
		if err != nil || !(v > 0) || !PossibleNumber(v) {
			return nil, help, fmt.Errorf("%q is no size", table.Shortened(w))
		}
		if v = u.Coherent(v); len(series) > 0 && v <= series[len(series)-1] {
			return nil, help, errors.New("its sizes do not rise at " + w)
		}
		series = append(series, v)
	}
	return series, "", nil
}

// seriesText is the expression that takes the first size that is enough; behind the end it is the last, and the check of the size says so.
func seriesText(least string, series []float64, q *Quantity) string {
	last := len(series) - 1
	text := sizeText(series[last], q)
	for i := last - 1; i >= 0; i-- {
		size := sizeText(series[i], q)
		if i < last-1 {
			text = "(" + text + ")"
		}
		text = fmt.Sprintf("%s <= %s ? %s : %s", least, size, size, text)
	}
	return text
}

func sizeText(size float64, q *Quantity) string {
	return fmt.Sprintf("%q", strconv.FormatFloat(roundedSize(q.Unit.Shown(size)), 'f', -1, 64)+" "+q.Unit.Text)
}

// roundedSize drops the crumbs of a unit's factor.
func roundedSize(v float64) float64 {
	out, err := strconv.ParseFloat(strconv.FormatFloat(v, 'g', 14, 64), 64)
	if err != nil {
		return v
	}
	return out
}
