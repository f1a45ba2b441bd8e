package costmodel

import (
	"fmt"
	"sort"
	"strconv"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// changedCell is a cell of Scenarios or Overrides that changes a quantity, with the first record that it changes.
type changedCell struct {
	scope  *Scope
	record *Record
	field  givenField
}

// percentColumn is a column of a sheet, or a row of changes, whose cells are in percent.
type percentColumn struct {
	formatted bool // some cell is formatted as percent, so that its number is a fraction
	plain     []changedCell
}

// checkPercent warns where plain numbers under [%] are probably fractions: 0.04 is read as 0.04 %, but beside cells
// formatted as percent, or where only 4 % is plausible, 4 % may be meant. One warning a column says both readings.
func (m *Model) checkPercent() {
	m.twoWays = map[table.Place]bool{}
	columns := map[string]*percentColumn{}
	var order []string
	add := func(key string, c changedCell) {
		if columns[key] == nil {
			columns[key] = &percentColumn{}
			order = append(order, key)
		}
		columns[key].add(c)
	}
	for _, sc := range m.Schema.Scopes {
		for _, r := range m.records[sc.Name] {
			for i := range r.fields {
				add(fmt.Sprint(r.Sheet, "|", r.fields[i].value.Place.Col), changedCell{sc, r, r.fields[i]})
			}
		}
	}
	sort.SliceStable(m.changed, func(i, j int) bool { return leftOf(m.changed[i].place(), m.changed[j].place()) })
	for _, c := range m.changed {
		key := fmt.Sprint(c.place().Sheet, "|row|", c.place().Row)
		add(key, c)
		if f := c.record.field(c.field.quantity); f != nil && f.value.Kind == table.Number && f.value.Percent {
			columns[key].formatted = true // what is changed is a fraction
		}
	}
	for _, key := range order {
		m.warnPercent(columns[key])
	}
	m.warnFractions()
}

func (c changedCell) place() table.Place { return c.field.value.Place }

func leftOf(a, b table.Place) bool {
	if a.Sheet != b.Sheet {
		return a.Sheet < b.Sheet
	}
	if a.Row != b.Row {
		return a.Row < b.Row
	}
	return a.Col < b.Col
}

// add sorts a cell in percent by its format; others don't count. A number typed as text is plain, whatever the format.
func (p *percentColumn) add(c changedCell) {
	f := &c.field
	if f.def.failed || f.def.Kind != plan.Given || !strings.Contains(f.unit.Text, "%") {
		return
	}
	switch {
	case f.value.Kind == table.Number && f.value.Percent:
		p.formatted = true
	case f.value.Kind == table.Number, f.value.Kind == table.Text && isBareNumber(f.value.Text):
		p.plain = append(p.plain, c)
	}
}

func isBareNumber(text string) bool {
	_, err := strconv.ParseFloat(strings.TrimSpace(text), 64)
	return err == nil
}

func (m *Model) warnPercent(p *percentColumn) {
	var cells []changedCell
	for _, c := range p.plain {
		if m.probablyFraction(c, p.formatted) {
			cells = append(cells, c)
		}
	}
	if len(cells) == 0 {
		return
	}
	var names []string
	for _, c := range cells {
		m.twoWays[c.place()] = true
		names = append(names, c.place().Cell())
	}
	first := cells[0].field
	label, unit := cells[0].scope.Quantities[first.quantity].Label, " "+m.ShownUnit(first.unit)
	number := first.def.Value / first.unit.Factor
	format := func(v float64) string { return strconv.FormatFloat(v, 'g', 6, 64) + unit }
	m.Diagnostics.Warn("percent", cells[0].place(),
		fmt.Sprintf("%s is read as %s; formatted as percent it would be %s (not formatted as percent: %s)", label, format(number), format(100*number),
			shortList(names)),
		fmt.Sprintf("format the cells as percent if %s is meant; write %s in the cell if that is", format(100*number), format(number)))
}

// probablyFraction tells whether a plain number under [%] may be a fraction: the only plausible reading, or one of two in
// a column of mixed formats. Without a plausible range a share below 100 % is taken to be one.
func (m *Model) probablyFraction(c changedCell, mixed bool) bool {
	read := c.field.def.Value
	if read == 0 || m.impossible[c.place()] {
		return false
	}
	var lo, hi float64
	def := c.scope.ranged(m.variantOf(c.scope, c.record), c.field.quantity, hasPlausible)
	switch {
	case def != nil:
		lo, hi = def.Item.Plausible[0]*def.Unit.Factor, def.Item.Plausible[1]*def.Unit.Factor
	case mixed:
		lo, hi = 0, below100(c.field.unit)
	default:
		return false
	}
	within := func(v float64) bool { return IsPlausible(v, lo, hi) }
	return within(100*read) && (mixed || !within(read))
}

// below100 is just under 100 % in a unit, coherent: a plain 1 is 1 %, as nobody types a share of all as 1 among percents.
func below100(u units.Unit) float64 { return 100 * u.Factor * (1 - 1e-6) }

// checkUncertainPercent is checkPercent for a row of Uncertainty, whose numbers are in the unit of the cell it names.
func (m *Model) checkUncertainPercent(t *table.Table, row table.Row, f foundInput) {
	if len(f.records) == 0 {
		return
	}
	p := percentColumn{}
	for _, r := range f.records {
		x := r.field(f.quantity)
		p.formatted = p.formatted || x != nil && x.value.Kind == table.Number && x.value.Percent
	}
	for _, name := range []string{"low", "likely", "high"} {
		v := t.ValueAt(row, name)
		if v.Kind == table.Number && !v.Percent {
			p.add(changedCell{f.scope, f.records[0], givenField{quantity: f.quantity, value: v, unit: f.unit, def: given(v.Number * f.unit.Factor)}})
		}
	}
	m.warnPercent(&p)
}
