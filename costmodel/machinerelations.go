package costmodel

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// The sheet Machine relations gives a row of Machines that is sized by what its operations need its price where the cell Price is empty: Base price and
// Price per size, own or fitted to the sheet Past machines.

const machineRelations = "Machine relations"

// MachineCoefficients are the coefficients of a price relation, as the column Coefficient has them.
var MachineCoefficients = []string{"Base price", "Price per size"}

// A machineTerm is a coefficient of a price relation.
type machineTerm struct {
	value    float64 // in the unit in which it is shown
	place    table.Place
	provided map[string]string
}

// MachineCoefficients lists the coefficients of the price relation of a row of Machines, as they stand.
func (m *Model) MachineCoefficients(machine *Record) (out []Coefficient) {
	for i, u := range m.machineUnits(m.sizeOf(machine)) {
		c := Coefficient{Name: table.Normalise(MachineCoefficients[i]), Label: MachineCoefficients[i], Unit: m.ShownUnit(u), Fitted: true}
		if x := m.machineTerms[machine][i]; x != nil {
			c.Value, c.Place = x.value, x.place
		}
		out = append(out, c)
	}
	return out
}

// machineUnits are the units of the coefficients: money, and money per unit of the size.
func (m *Model) machineUnits(size *Variant) []units.Unit {
	sc := m.Schema.byName[machineScope]
	rated := sc.Quantities[sc.MustQuantity(size.Template.size.rated)]
	per, err := m.Schema.Units.Parse("currency/" + rated.Unit.Text)
	if err != nil {
		panic(err) // of templates/machines
	}
	return []units.Unit{sc.Quantities[sc.MustQuantity("price")].Unit, per}
}

// readMachineRelations reads the sheet and gives the machines that it names their price.
func (m *Model) readMachineRelations() {
	m.machineTerms = map[*Record][2]*machineTerm{}
	t := m.Case.Table(machineRelations)
	if t == nil || len(t.Rows) == 0 {
		return
	}
	for _, name := range []string{"machine", "coefficient", "value"} {
		if _, ok := t.Column(name); !ok {
			m.Diagnostics.Add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(name)), "add it to the heading row")
			return
		}
	}
	for _, row := range t.Rows {
		if !rowEmpty(t, row) && m.inForce(t, row) {
			m.relationRow(t, row)
		}
	}
	for _, r := range m.records[machineScope] {
		if m.machineTerms[r] != [2]*machineTerm{} {
			m.attachRelation(r)
		}
	}
}

func rowEmpty(t *table.Table, row table.Row) bool {
	return !slices.ContainsFunc([]string{"machine", "coefficient", "value"}, func(c string) bool { return t.ValueAt(row, c).Kind != table.Empty })
}

// relationMachine finds the row of Machines that a row of a sheet is about; nil where something is wrong, which is reported.
func (m *Model) relationMachine(v table.Value) *Record {
	key := cellText(v)
	recs := m.byKey[machineScope][key]
	switch {
	case m.unread[machineScope]:
	case len(recs) == 0:
		m.Diagnostics.Add("reference", v.Place, fmt.Sprintf("machine %q is not in the sheet Machines", table.Shortened(key)),
			nearestOr(key, m.keys(machineScope), "write the key of a row there whose Sized by is filled in"))
	case m.sizeOf(recs[0]) == nil:
		m.Diagnostics.Add("size", v.Place, fmt.Sprintf("machine %s is no price relation: its Sized by is empty", key), "fill in Sized by in the sheet Machines")
	default:
		return recs[0]
	}
	return nil
}

// relationRow takes a coefficient.
func (m *Model) relationRow(t *table.Table, row table.Row) {
	r := m.relationMachine(t.ValueAt(row, "machine"))
	if r == nil {
		return
	}
	k, v := t.ValueAt(row, "coefficient"), t.ValueAt(row, "value")
	i := slices.IndexFunc(MachineCoefficients, func(c string) bool { return table.Normalise(c) == table.Normalise(cellText(k)) })
	if i < 0 {
		m.Diagnostics.Add("coefficient", k.Place, fmt.Sprintf("unknown coefficient %q", table.Shortened(cellText(k))),
			"it is one of "+strings.Join(MachineCoefficients, ", "))
		return
	}
	want := m.machineUnits(m.sizeOf(r))[i]
	u, err := m.Schema.Units.Parse(t.TextAt(row, "unit"))
	switch terms := m.machineTerms[r]; {
	case t.TextAt(row, "unit") == "" || err != nil || !u.Fits(want):
		m.Diagnostics.Add("unit", t.ValueAt(row, "unit").Place, fmt.Sprintf("the unit of %s of %s is %q", MachineCoefficients[i], r.Key,
			table.Shortened(t.TextAt(row, "unit"))), fmt.Sprintf("write %s in the column Unit", m.ShownUnit(want)))
	case v.Kind != table.Number || v.Percent || !PossibleNumber(v.Number) || v.Number < 0:
		m.Diagnostics.Add("coefficient", v.Place, fmt.Sprintf("%s of %s must be a number of 0 or more", MachineCoefficients[i], r.Key), "write a plain number")
	case terms[i] != nil:
		m.Diagnostics.Add("duplicate", k.Place, fmt.Sprintf("%s of %s stands twice", MachineCoefficients[i], r.Key),
			"delete one of the two, or write "+StateReplaced+" under State", table.Related{Place: terms[i].place, Note: "first at"})
	default:
		terms[i] = &machineTerm{value: want.Shown(u.Coherent(v.Number)), place: v.Place, provided: provenanceOf(t, row)}
		m.machineTerms[r] = terms
	}
}

// attachRelation gives a machine the price that its relation comes to.
func (m *Model) attachRelation(r *Record) {
	sc, size := m.Schema.byName[machineScope], m.sizeOf(r)
	n := sc.MustQuantity("price")
	terms := m.machineTerms[r]
	if f := r.field(n); f != nil {
		at := terms[0]
		if at == nil {
			at = terms[1]
		}
		m.Diagnostics.Add("size", f.value.Place, fmt.Sprintf("Price of machine %s is given here and in the sheet %s", r.Key, machineRelations),
			"clear the cell, or write "+StateReplaced+" under State of the relation", table.Related{Place: at.place, Note: "the relation at"})
		return
	}
	var parts, words []string
	for i, u := range m.machineUnits(size) {
		x := terms[i]
		if x == nil {
			continue
		}
		text := strconv.Quote(strconv.FormatFloat(x.value, 'f', -1, 64) + " " + m.ShownUnit(u))
		if i == 1 {
			text += " * " + size.Template.size.rated
		}
		parts, words = append(parts, text), append(words, x.words(MachineCoefficients[i]))
	}
	m.attachEquation(sc, r, size, n, strings.Join(parts, " + "), "the price relation of the sheet "+machineRelations, strings.Join(words, ", "))
}

// words say where a coefficient comes from.
func (x *machineTerm) words(name string) string {
	out := name + " " + x.place.Sheet + "!" + x.place.Cell()
	for _, p := range []struct{ key, format string }{{"state", " %s"}, {"date", " %s"}, {"count", " from %s past machines"}} {
		if text := x.provided[p.key]; text != "" {
			out += fmt.Sprintf(p.format, text)
		}
	}
	return out
}

// attachEquation gives a row an equation of its own for a quantity, which takes the place of the library's.
func (m *Model) attachEquation(sc *Scope, r *Record, v *Variant, n int32, text, is, source string) {
	q := sc.Quantities[n]
	eq, err := m.Schema.equation(sc, text, formula.Rules{Want: formula.Type{Unit: q.Unit}}, nil)
	if err != nil {
		panic(err) // the text is ours
	}
	out := &Definition{Equation: eq, Unit: q.Unit}
	if d := sc.definition(v, n); d != nil {
		out.Item = d.Item
	}
	out.Item.Is, out.Item.Source, out.Item.Input = is, source, false
	r.banded = append(r.banded, bandedPrice{n, out})
}
