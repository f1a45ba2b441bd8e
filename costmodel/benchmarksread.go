package costmodel

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// benchmarkCode is the code of findings of the sheet Benchmarks.
const benchmarkCode = "benchmark"

// benchmarkReader reads the sheet Benchmarks.
type benchmarkReader struct {
	model *Model
	table *table.Table
	by    map[string]*Benchmark // by part
	seen  map[string]table.Place
	sizes []units.Unit // m2, m, m3
}

// readBenchmarks reads the sheet Benchmarks into the model.
func (m *Model) readBenchmarks() {
	t := m.Case.Table("Benchmarks")
	if t == nil || len(t.Rows) == 0 {
		return
	}
	r := &benchmarkReader{model: m, table: t, by: map[string]*Benchmark{}, seen: map[string]table.Place{}}
	for _, text := range []string{"m2", "m", "m3"} {
		u, err := m.Schema.Units.Parse(text)
		if err != nil {
			panic(err)
		}
		r.sizes = append(r.sizes, u)
	}
	if !r.columns() {
		return
	}
	before := m.Diagnostics.Count(table.Error)
	for _, row := range t.Rows {
		r.row(row)
	}
	if m.Diagnostics.Count(table.Error) > before {
		m.Benchmarks = nil
		return
	}
	r.finish()
}

// columns tells whether the sheet has what a benchmark can't do without.
func (r *benchmarkReader) columns() bool {
	ok := true
	for _, need := range []string{"benchmark", "mass", "size"} {
		if _, have := r.table.Column(need); !have {
			r.model.Diagnostics.Add("heading", r.table.Place, fmt.Sprintf("the sheet has no column %q", table.Label(need)),
				"its columns are Benchmark, Part, Mass [kg], Size, Size unit, Cost [EUR]")
			ok = false
		}
	}
	return ok
}

// row reads a row: a measured part, or the size of the own one.
func (r *benchmarkReader) row(row table.Row) {
	m := r.model
	at := r.table.ValueAt(row, "benchmark").Place
	name := strings.TrimSpace(r.table.TextAt(row, "benchmark"))
	if name == "" {
		for _, c := range []string{"mass", "size", "cost"} {
			if r.table.ValueAt(row, c).Kind != table.Empty {
				m.Diagnostics.Add("key", at, "the row has no name", "name the measured part, or write own for your own size; else clear the row")
				return
			}
		}
		return
	}
	part := strings.TrimSpace(r.table.TextAt(row, "part"))
	if d := m.referenceError(part, "part", "part", "Parts"); d != nil {
		m.Diagnostics.Add("reference", r.table.ValueAt(row, "part").Place, d.Summary, d.Help)
		return
	}
	key := strings.ToLower(part + "/" + name)
	if first, twice := r.seen[key]; twice {
		m.Diagnostics.Add("duplicate", at, name+" stands twice", "delete one of the two, or name them apart", table.Related{Place: first, Note: "first at"})
		return
	}
	r.seen[key] = at
	b := r.by[part]
	if b == nil {
		b = &Benchmark{Part: part, place: at, own: map[string]BenchmarkCell{}}
		r.by[part] = b
		m.Benchmarks = append(m.Benchmarks, b)
	}
	if r.isOwn(name) {
		r.own(b, row, name)
		return
	}
	r.measured(b, row, name)
}

// isOwn tells whether a row gives the size of the own part: in all scenarios, or in the one whose name it bears.
func (r *benchmarkReader) isOwn(name string) bool {
	if strings.EqualFold(name, ownRow) {
		return true
	}
	for _, s := range r.model.Scenarios {
		if strings.EqualFold(s.Name, name) {
			return true
		}
	}
	return false
}

// own reads the size of the own part, whose mass and cost are computed.
func (r *benchmarkReader) own(b *Benchmark, row table.Row, name string) {
	for _, c := range []string{"mass", "cost"} {
		if v := r.table.ValueAt(row, c); v.Kind != table.Empty {
			r.model.Diagnostics.Add(benchmarkCode, v.Place, fmt.Sprintf("the %s of the own part is computed, but %s gives one", c, name),
				"clear the cell; a row named own or after a scenario gives the own size alone")
		}
	}
	if c := r.size(b, row, name); !math.IsNaN(c.Value) {
		b.own[strings.ToLower(name)] = c
	}
}

func (r *benchmarkReader) measured(b *Benchmark, row table.Row, name string) {
	kg, money := r.sizeless("kg"), r.sizeless("currency")
	p := &MeasuredPart{Name: name, Source: r.table.TextAt(row, "source"), Place: r.table.ValueAt(row, "benchmark").Place}
	p.Mass = r.above(row, "mass", name, r.heading(row, "mass", name, kg))
	p.Size = r.size(b, row, name)
	p.Cost = BenchmarkCell{Value: math.NaN()}
	if r.table.ValueAt(row, "cost").Kind != table.Empty {
		p.Cost = r.above(row, "cost", name, r.heading(row, "cost", name, money))
	}
	b.Rows = append(b.Rows, p)
}

func (r *benchmarkReader) sizeless(text string) units.Unit {
	u, err := r.model.Schema.Units.Parse(text)
	if err != nil {
		panic(err)
	}
	return u
}

// heading is the unit of a column as its heading says it; one without is an error, unless the cell has a unit of its own.
func (r *benchmarkReader) heading(row table.Row, column, name string, wanted units.Unit) units.Unit {
	m := r.model
	c, _ := r.table.Column(column)
	_, text, given := table.SplitHeading(c.Heading)
	if !given {
		if v := r.table.ValueAt(row, column); v.Kind == table.Number {
			m.Diagnostics.Add("unit", v.Place, fmt.Sprintf("the %s of %s has no unit", column, name),
				fmt.Sprintf("write the unit into the heading: %s [%s]", table.Label(column), m.ShownUnit(wanted)))
		}
		return wanted
	}
	u, err := m.Schema.Units.Parse(text)
	switch {
	case err != nil:
		m.Diagnostics.Add("unit", c.Place, err.Error(), "")
	case !u.Fits(wanted):
		m.Diagnostics.Add("dimension", c.Place, fmt.Sprintf("%s is %s, wanted is %s", text, u.Describe(), wanted.Describe()), u.Help(wanted))
	default:
		return u
	}
	return wanted
}

// above reads a number that must be above 0.
func (r *benchmarkReader) above(row table.Row, column, name string, unit units.Unit) BenchmarkCell {
	m := r.model
	v := r.table.ValueAt(row, column)
	label := fmt.Sprintf("the %s of %s", column, name)
	if v.Kind == table.Empty {
		m.Diagnostics.Add(benchmarkCode, v.Place, label+" is missing", "write it, or clear the row: a benchmark is mass per size")
		return BenchmarkCell{Value: math.NaN()}
	}
	out := BenchmarkCell{Value: m.statedNumber(benchmarkCode, label, unit, v), Cell: v}
	if v.Kind == table.Number && unit.Zero == 0 {
		out.Times = unit.Factor
	}
	if out.Value <= 0 {
		help := "write a number above 0, or clear the row"
		if column == "cost" {
			help = "write a number above 0, or clear the cell where the cost is not known"
		}
		m.Diagnostics.Add("possible", v.Place, fmt.Sprintf("%s is %s, but it must be above 0", label, ShownNumber(unit.Shown(out.Value))), help)
		out.Value = math.NaN()
	}
	return out
}

// size reads a size; all sizes of one part are areas, lengths or volumes.
func (r *benchmarkReader) size(b *Benchmark, row table.Row, name string) BenchmarkCell {
	none := BenchmarkCell{Value: math.NaN()}
	unit, at, ok := r.sizeUnit(row, name)
	if !ok {
		return none
	}
	kind := r.kind(unit)
	switch {
	case kind.Text == "":
		r.model.Diagnostics.Add("dimension", at, fmt.Sprintf("the size of %s is %s, wanted is an area, a length or a volume", name, unit.Describe()),
			"write the size in m2, mm, l or the like")
		return none
	case b.Size.Text == "":
		b.Size, b.firstSize = kind, unit
	case kind.Dim != b.Size.Dim:
		r.model.Diagnostics.Add(benchmarkCode, at, fmt.Sprintf("the size of %s is %s, but that of the first row is %s", name, unit.Describe(),
			b.firstSize.Describe()), "per area, per length and per volume are no one number: measure all of them the same way",
			table.Related{Place: b.place, Note: "the first row at"})
		return none
	}
	return r.above(row, "size", name, unit)
}

// sizeUnit is the unit of a row's size: that under Size unit, else that of the number itself, else that of the heading.
func (r *benchmarkReader) sizeUnit(row table.Row, name string) (units.Unit, table.Place, bool) {
	m := r.model
	v := r.table.ValueAt(row, "size")
	if v.Kind == table.Text {
		if q, err := m.Schema.Units.ParseTyped(v.Text); err == nil && !q.Bare {
			return q.Unit, v.Place, true
		}
	}
	text, at := r.table.TextAt(row, "size_unit"), r.table.ValueAt(row, "size_unit").Place
	if text == "" {
		c, _ := r.table.Column("size")
		_, text, _ = table.SplitHeading(c.Heading)
		at = c.Place
	}
	if text == "" {
		m.Diagnostics.Add("unit", v.Place, fmt.Sprintf("the size of %s has no unit", name), "write m2, m or m3 under Size unit")
		return units.Unit{}, v.Place, false
	}
	u, err := m.Schema.Units.Parse(text)
	if err != nil {
		m.Diagnostics.Add("unit", at, err.Error(), "write m2, m or m3 under Size unit")
		return units.Unit{}, at, false
	}
	return u, at, true
}

// kind is m2, m or m3, as the unit is an area, a length or a volume; a unit without text where it is none of them.
func (r *benchmarkReader) kind(u units.Unit) units.Unit {
	for _, k := range r.sizes {
		if u.Fits(k) {
			return k
		}
	}
	return units.Unit{}
}

// finish evaluates what was read and says where something is missing for a comparison.
func (r *benchmarkReader) finish() {
	m := r.model
	kept := m.Benchmarks[:0]
	for _, b := range m.Benchmarks {
		if len(b.Rows) == 0 {
			m.Diagnostics.Warn(benchmarkCode, b.place, "the own size of the "+b.Name()+" is held against nothing",
				"add measured parts of others below it, with the same Part")
			continue
		}
		e, err := newBenchmarkEquations(m.Schema.benchmark, m.Schema.Units, b.Size.Text)
		if err != nil {
			continue // said when the library was loaded
		}
		b.evaluate(e)
		kept = append(kept, b)
		r.ownMissing(b)
	}
	m.Benchmarks = kept
}

// ownMissing says that scenarios are not held against a benchmark.
func (r *benchmarkReader) ownMissing(b *Benchmark) {
	var names []string
	for _, s := range r.model.Scenarios {
		if _, ok := b.OwnSizeIn(s.Name); !ok {
			names = append(names, s.Name)
		}
	}
	if len(names) > 0 {
		r.model.Diagnostics.Warn(benchmarkCode, b.place, fmt.Sprintf("the own size of the %s is missing in %s: not held against the benchmarks",
			b.Name(), strings.Join(names, ", ")), "add a row named own, or after the scenario, with Size and Size unit and the same Part")
	}
}
