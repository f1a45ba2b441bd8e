package costmodel

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// missing makes the error for a quantity that has neither a cell nor an equation.
func (g *graph) missing(r *row, quantity int32, d *Definition) error {
	q := r.scope.Quantities[quantity]
	needsVariant := r.scope.Name == "part" || r.scope.Name == "operation"
	if g.quiet || g.model.suspected[q] || g.model.unread[r.scope.Name] || needsVariant && r.variant == nil {
		return plan.ErrReported
	}
	if text, _ := g.st.text(r.rec, gradeColumn); text != "" && g.model.broughtBy(r, quantity) {
		return plan.ErrReported // a grade that is not known, which is reported
	}
	if d != nil && d.Item.InsteadOf != "" {
		return g.missingInstead(r, q, d.Item.InsteadOf)
	}
	who := r.scope.Name + " " + r.rec.Key
	if r.scope.Name == "operation" {
		who = "operation " + r.rec.Key
	}
	if r.scope.Name == "case" || r.scope.Name == "plant" || r.scope.Name == "scenario" {
		sheet := map[string]string{"case": "Case", "plant": "Plants", "scenario": "Scenarios"}[r.scope.Name]
		return g.diagnose("missing", r.rec.Place, fmt.Sprintf("%s of %s is missing", q.Label, strings.TrimSpace(who)),
			fmt.Sprintf("add a row %s [%s] to the sheet %s", q.Label, g.model.ShownUnit(q.Unit), sheet))
	}
	unit := q.Unit
	if d != nil {
		unit = d.Unit
	}
	if r.scope.Name == toolKindScope {
		return g.missingCoefficient(r, q, unit)
	}
	heading := fmt.Sprintf("%s [%s]", q.Label, g.model.ShownUnit(unit))
	if len(q.Options) > 0 || unit.Text == "1" {
		heading = q.Label
	}
	col := g.model.columnOf(r.rec.Sheet, r.scope, quantity)
	elsewhere := ""
	if d != nil && d.Equation != nil { // it takes over that of another row
		other := Relations[d.Equation.Refs[0].Hops[0]]
		sheet := slices.IndexFunc(table.Layouts, func(l table.Layout) bool { return l.Scope == other.To })
		elsewhere = fmt.Sprintf(", or give its %s one in the sheet %s", other.Name, table.Layouts[sheet].Sheet)
	}
	if g.model.broughtBy(r, quantity) {
		elsewhere += ", or write under Grade one that `piececost grades` lists"
	}
	if col == 0 {
		return g.missingColumn(r, heading, elsewhere)
	}
	heading = g.model.headingAt(r.rec.Sheet, col)
	what := "fill its cell under " + heading
	if len(q.Options) > 0 {
		what = fmt.Sprintf("write one of %s under %s", strings.Join(q.Options, ", "), heading)
	}
	at := r.rec.Place
	at.Col = col
	return g.diagnose("missing", at, fmt.Sprintf("%s of %s is missing", q.Label, who), what+elsewhere)
}

// missingColumn is said once for all rows that need it.
func (g *graph) missingColumn(r *row, heading, elsewhere string) error {
	t := g.model.Case.Table(r.rec.Sheet)
	if t == nil || len(t.Merged) > 0 {
		return plan.ErrReported
	}
	who := r.scope.Name + "s"
	if r.variant != nil {
		who = fmt.Sprintf("%ss of %s", r.scope.Name, r.variant.Template.Name)
	}
	d := g.diagnose("missing", t.Place, fmt.Sprintf("the sheet has no column %s, which %s need", heading, who),
		"add it and fill it in, first for "+r.rec.Key+elsewhere)
	d.Row = r.rec.Place
	return d
}

// headingAt is the heading of a column as it stands in the sheet.
func (m *Model) headingAt(sheet string, col int) string {
	for _, c := range m.Case.Table(sheet).Columns {
		if c.Place.Col == col {
			return c.Heading
		}
	}
	return ""
}

// columnOf finds the column of a quantity in its sheet, 0 where there is none.
func (m *Model) columnOf(sheet string, sc *Scope, quantity int32) int {
	t := m.Case.Table(sheet)
	if t == nil {
		return 0
	}
	for _, c := range t.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		if n, ok := sc.byHeading(name); ok && n == quantity {
			return c.Place.Col
		}
	}
	return 0
}

func (g *graph) diagnose(code string, at table.Place, summary, help string, related ...table.Related) table.Diagnostic {
	return table.Diagnostic{Code: code, Severity: table.Error, Summary: table.Brief(summary), Help: table.Brief(help), Place: at, Related: related,
		Scenario: g.st.scenario.Name}
}

// Absent implements plan.Graph.
func (g *graph) Absent(e plan.Entity, quantity int32, name string) error {
	r := &g.rows[e]
	q := r.scope.Quantities[quantity]
	head := name
	if i := strings.Index(name, "."); i > 0 {
		head = name[:i]
	}
	if v := r.variant; head == "machine" && v != nil && v.Template.noMachine {
		return g.diagnose("absent", g.placeOf(e, quantity), fmt.Sprintf("%s of %s needs %s, but %s has no machine", q.Label, g.label(e), name, v.Template.Name),
			"override the quantity, or take a process of our own")
	}
	switch head {
	case "machine", "plant", "first", "last":
		return plan.ErrReported // a step without a machine or a part without steps
	}
	if text, _ := g.st.text(r.rec, head); head == "material" && text != "" {
		return plan.ErrReported // a grade that is not there
	}
	help := ""
	if head == "material" {
		help = "write a material for the part, or override the quantity"
	}
	if rows, ok := lackedRows[head]; ok {
		return g.diagnose("absent", g.placeOf(e, quantity), fmt.Sprintf("%s needs %s (%s)", g.label(e), rows.what, q.Label), rows.help)
	}
	return g.diagnose("absent", g.placeOf(e, quantity), fmt.Sprintf("%s of %s needs %s, but it has no %s", q.Label, g.label(e), name, head), help)
}

// placeOf is the cell that gives a quantity, or the key of its row.
func (g *graph) placeOf(e plan.Entity, quantity int32) table.Place {
	r := &g.rows[e]
	if c := g.st.scenario.changesOf(r.rec); c != nil {
		if ch, ok := c.fields[quantity]; ok {
			return ch.value.Place
		}
	}
	if f := r.rec.field(quantity); f != nil {
		return f.value.Place
	}
	return r.rec.Place
}

// Cycle implements plan.Graph.
func (g *graph) Cycle(cells []plan.Cell) error {
	var names []string
	var related []table.Related
	at := table.Place{}
	for _, c := range cells {
		e, n := plan.Locate(g, c)
		q := g.rows[e].scope.Quantities[n]
		names = append(names, fmt.Sprintf("%s of %s", q.Name, g.label(e)))
		if g.rows[e].rec.field(n) != nil {
			p := g.placeOf(e, n)
			related = append(related, table.Related{Place: p, Note: q.Name})
			if at.Row == 0 {
				at = p
			}
		}
	}
	if at.Row == 0 {
		e, _ := plan.Locate(g, cells[0])
		at = g.rows[e].rec.Place
	}
	names = append(names, names[0])
	if len(names) > 8 {
		names = append(append(names[:4:4], fmt.Sprintf("... %d more", len(names)-7)), names[len(names)-3:]...)
	}
	return g.diagnose("cycle", at, "these quantities need each other: "+strings.Join(names, " - "), "break the circle: one of them must not use the next",
		related...)
}

// NotFinite implements plan.Graph.
func (g *graph) NotFinite(c plan.Cell, value float64) error {
	e, n := plan.Locate(g, c)
	q := g.rows[e].scope.Quantities[n]
	text := ""
	if def, err := g.Define(e, n); err == nil && def.Kind == plan.Computed {
		text = def.Eq.Expr.Text
	}
	var related []table.Related
	at := g.placeOf(e, n)
	if def, err := g.Define(e, n); err == nil && def.Kind == plan.Computed {
		for i, ref := range def.Eq.Refs {
			if len(ref.Hops) == 0 && !ref.Base && !ref.Fixed && g.rows[e].rec.field(ref.Quantity) != nil {
				related = append(related, table.Related{Place: g.placeOf(e, ref.Quantity), Note: def.Eq.Expr.Names[i].Path})
			}
		}
	}
	if len(related) > 0 && at == g.rows[e].rec.Place {
		at = related[0].Place
	}
	return g.diagnose("number", at, fmt.Sprintf("%s of %s gives no number: %s", q.Label, g.label(e), text), "look for a 0 it divides by", related...)
}

// missingInstead says that an input is missing which another would do instead of: that one is only named as what helps too.
func (g *graph) missingInstead(r *row, other *Quantity, name string) error {
	n := r.scope.MustQuantity(name)
	err := g.missing(r, n, nil)
	var d table.Diagnostic
	if errors.As(err, &d) {
		d.Help += fmt.Sprintf(", or give %s, from which it follows", other.Label)
		return d
	}
	return err
}
