package live

import (
	"piececost/costmodel"
	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// equationOf is the library's equation of a quantity in a block: its form's or process's, or the one all rows share.
func (b *Block) equationOf(n int32) *costmodel.Definition {
	v := b.Scope.Variants[0]
	if b.Variant != nil {
		v = b.Variant
	}
	if d := v.Definitions[n]; d != nil && d.Equation != nil {
		return d
	}
	return nil
}

// elsewhere returns the block of the row's form or process where that defines the quantity.
func (s *Sheet) elsewhere(b *Block, e plan.Entity, n int32) *Block {
	v := s.Plan.RowVariant(e)
	if b.Variant != nil || v == nil || v.Definitions[n] == nil {
		return nil
	}
	home := s.variants[v]
	if home == nil || home.byQuantity[n] == nil {
		return nil
	}
	return home
}

// byEquation lists the rows of a block whose quantity comes from the block's equation, and those where it comes from the one that
// takes its place.
func (s *Sheet) byEquation(b *Block, n int32) (rows, otherwise []plan.Entity) {
	for _, e := range b.Rows {
		if !s.Plan.Compiled(e, n) || s.elsewhere(b, e, n) != nil || s.fromGrade(e, n) {
			continue
		}
		o := s.Plan.Origin(e, n)
		switch {
		case o.Kind != costmodel.FromEquation && (o.Kind != costmodel.FromChange || o.Input != nil):
		case o.Otherwise:
			otherwise = append(otherwise, e)
		default:
			rows = append(rows, e)
		}
	}
	return rows, otherwise
}

// uniform tells whether one formula can serve every row: all names lead somewhere in all rows.
func (s *Sheet) uniform(b *Block, rows []plan.Entity, eq *plan.Equation) bool {
	for i := range eq.Refs {
		ref := &eq.Refs[i]
		if ref.Fixed || len(ref.Hops) == 0 {
			continue
		}
		for _, e := range rows {
			if _, ok := s.reach(e, ref); !ok {
				return false
			}
		}
	}
	return true
}

// reach follows a reference without its last many.
func (s *Sheet) reach(e plan.Entity, ref *plan.Ref) (plan.Entity, bool) {
	hops := ref.Hops
	if ref.Many {
		hops = hops[:len(hops)-1]
	}
	for _, h := range hops {
		if e = s.Plan.Follow(e, h); e < 0 {
			return e, false
		}
	}
	return e, ref.Many || s.Plan.RowScope(e).Quantities[ref.Quantity].Structural || s.Plan.Compiled(e, ref.Quantity)
}

// structureColumns adds the flags of the structure that a column's one formula asks for.
func (s *Sheet) structureColumns(b *Block, quantities []int32) {
	for _, n := range quantities {
		d := b.equationOf(n)
		if d == nil {
			continue
		}
		rows, _ := s.byEquation(b, n)
		if len(rows) == 0 || !s.uniform(b, rows, d.Equation) {
			continue
		}
		for _, ref := range d.Equation.Refs {
			if len(ref.Hops) > 0 || ref.Fixed || ref.Base {
				continue
			}
			q := b.Scope.Quantities[ref.Quantity]
			if q.Structural && b.byQuantity[ref.Quantity] == nil {
				s.structureColumn(b, ref.Quantity, q)
			}
		}
	}
}

func (s *Sheet) structureColumn(b *Block, n int32, q *costmodel.Quantity) {
	c := s.newColumn(q, Key)
	c.Note = "follows from the structure"
	c.Whole = true
	c.fill = func(_ int, e plan.Entity) Cell { return Cell{Kind: Number, Num: s.Detail.Of(e, n)} }
	b.add(c)
	b.byQuantity[n] = c
}

// pullNames adds a link column for every name beyond its own row that the equation of a quantity uses.
func (s *Sheet) pullNames(b *Block, n int32) {
	d := b.equationOf(n)
	if d == nil {
		return
	}
	rows, _ := s.byEquation(b, n)
	if len(rows) == 0 {
		return
	}
	if !s.uniform(b, rows, d.Equation) {
		return // row by row, by addresses
	}
	for i := range d.Equation.Refs {
		ref := &d.Equation.Refs[i]
		if ref.Fixed || ref.Base || len(ref.Hops) == 0 && b.byQuantity[ref.Quantity] != nil {
			continue
		}
		use := d.Equation.Expr.Names[i]
		path := use.Path
		if use.Many {
			path = "sum(" + path + ")"
		}
		s.pullColumn(b, pullKey(path, ref), ref)
	}
}

func (s *Sheet) pullColumn(b *Block, key string, ref *plan.Ref) {
	if b.pulled[key] != nil {
		return
	}
	q := s.targetQuantity(b.Scope, ref)
	c := s.newColumn(q, Link)
	c.Heading = key
	c.Note = "link to another block"
	c.fill = func(_ int, e plan.Entity) Cell {
		text, ok := s.refText(e, ref)
		if !ok {
			return Cell{}
		}
		return s.valued(c, q, text, s.refValue(e, ref))
	}
	b.add(c)
	b.pulled[key] = c
}

// refValue is the coherent value of a reference.
func (s *Sheet) refValue(e plan.Entity, ref *plan.Ref) float64 {
	at, _ := s.reach(e, ref)
	if !ref.Many {
		return s.Detail.Of(at, ref.Quantity)
	}
	sum := 0.0
	for _, m := range s.Plan.Members(at, ref.Hops[len(ref.Hops)-1]) {
		if s.Plan.Compiled(m, ref.Quantity) {
			sum += s.Detail.Of(m, ref.Quantity)
		}
	}
	return sum
}

// valued makes a cell of a formula text and a coherent value in a column's unit; 0 and 1 stand as plain numbers.
func (s *Sheet) valued(c *Column, q *costmodel.Quantity, text string, v float64) Cell {
	if len(q.Options) > 0 {
		return Cell{Kind: Word, Text: q.Options[int(v)], Formula: text}
	}
	if text == "0" || text == "1" {
		return Cell{Kind: Number, Num: c.shown(v)}
	}
	return Cell{Kind: Number, Num: c.shown(v), Formula: text}
}

// quantityColumn adds the column of a quantity.
func (s *Sheet) quantityColumn(b *Block, n int32) {
	q := b.Scope.Quantities[n]
	made := s.newColumn(q, Quantity)
	c := b.byQuantity[n]
	*c = *made
	c.quantity = n
	if q.Check != nil {
		c.Heading = "Check: " + q.Check.Say
	}
	d := b.equationOf(n)
	rows, otherwise := s.byEquation(b, n)
	switch {
	case s.fact(b, n) != nil:
		c.Kind, c.Note, c.Source = Link, s.fact(b, n).Item.Note, factSource
	case len(rows)+len(otherwise) == 0 && s.ofGrades(b, c, n):
	case len(rows)+len(otherwise) == 0:
		c.Kind = Link
	case d != nil:
		c.Words, c.Source, c.Note = d.Item.Default(), d.Item.Source, d.Item.Note
	}
	whole := d != nil && len(rows) > 0 && s.uniform(b, rows, d.Equation)
	c.fill = func(row int, e plan.Entity) Cell { return s.quantityCell(b, c, q, n, row, e, whole) }
	b.add(c)
}

// quantityCell is the content of a quantity's home cell.
func (s *Sheet) quantityCell(b *Block, c *Column, q *costmodel.Quantity, n int32, row int, e plan.Entity, whole bool) Cell {
	if !s.Plan.Compiled(e, n) {
		return Cell{}
	}
	v := s.Detail.Of(e, n)
	if home := s.elsewhere(b, e, n); home != nil {
		return s.valued(c, q, home.address(home.byQuantity[n], home.rowOf[e]), v)
	}
	o := s.Plan.Origin(e, n)
	if s.fromGrade(e, n) {
		return Cell{Kind: Number, Num: c.shown(v), Found: true}
	}
	switch o.Kind {
	case costmodel.FromCell:
		return s.inputCell(b, c, q, row, e, o.Input, v)
	case costmodel.FromChange:
		return s.changeCell(b, c, q, n, row, e, o, v)
	}
	return s.equationCell(b, c, q, o.Definition.Equation, row, e, v, whole && !o.Otherwise)
}

// equationCell writes the library's equation; a default without names is a plain number.
func (s *Sheet) equationCell(b *Block, c *Column, q *costmodel.Quantity, eq *plan.Equation, row int, e plan.Entity, v float64, whole bool) Cell {
	if len(eq.Refs) == 0 {
		if len(q.Options) > 0 {
			return Cell{Kind: Word, Text: q.Options[int(v)]}
		}
		return Cell{Kind: Number, Num: c.shown(v)}
	}
	r := rowNames{s: s, b: b, row: row, e: e, eq: eq, whole: whole}
	return s.valued(c, q, s.formulaText(r, c, q, eq.Expr.Root), v)
}

// formulaText writes an expression in the unit of a column.
func (s *Sheet) formulaText(r rowNames, c *Column, q *costmodel.Quantity, root *formula.Node) string {
	t := translator{r}
	switch {
	case len(q.Options) > 0:
		return r.cell(root)
	case q.Flag:
		return "IF(" + t.condition(root) + ",1,0)"
	}
	out := t.node(root)
	return c.written(out).text
}

// inputCell links to an input cell, or writes the translation of a text in it, which Input record guards.
func (s *Sheet) inputCell(b *Block, c *Column, q *costmodel.Quantity, row int, e plan.Entity, g *costmodel.Given, v float64) Cell {
	if g.Value.Kind == table.Reckoned {
		return s.factCell(c, e, g, v)
	}
	live := g.Value.Kind == table.Number || len(q.Options) > 0
	s.Inputs.add(Input{Place: g.Value.Place, Value: g.Value, Key: s.keyOf(e), Heading: c.Heading, Live: live, Record: s.Plan.RowRecord(e)})
	switch {
	case len(q.Options) > 0:
		return Cell{Kind: Word, Text: q.Options[int(v)], Formula: CellRef(g.Value.Place), Input: true}
	case g.Value.Kind == table.Number:
		t := c.same(CellRef(g.Value.Place), g.Unit())
		return Cell{Kind: Number, Num: c.shown(v), Formula: t.text, Input: true}
	case g.Def.Kind == plan.Given:
		return Cell{Kind: Number, Num: c.shown(v)}
	}
	r := rowNames{s: s, b: b, row: row, e: e, eq: g.Def.Eq}
	return s.valued(c, q, s.formulaText(r, c, q, g.Def.Eq.Expr.Root), v)
}

// changeCell takes the scenario's cell where it is filled, else what stands without the change.
func (s *Sheet) changeCell(b *Block, c *Column, q *costmodel.Quantity, n int32, row int, e plan.Entity, o costmodel.Origin, v float64) Cell {
	before := func() Cell {
		old := s.Detail.Of(e, n) // its value is not shown, only its formula
		switch {
		case o.Input != nil:
			return s.inputCell(b, c, q, row, e, o.Input, old)
		case o.Definition != nil && o.Definition.Equation != nil:
			return s.equationCell(b, c, q, o.Definition.Equation, row, e, old, false)
		}
		return Cell{}
	}
	s.Inputs.add(Input{Place: o.Change.Value.Place, Value: o.Change.Value, Key: s.keyOf(e), Heading: c.Heading,
		Live: o.Change.Value.Kind == table.Number || len(q.Options) > 0})
	at := CellRef(o.Change.Value.Place)
	switch {
	case o.Change.Def.Kind == plan.Computed:
		r := rowNames{s: s, b: b, row: row, e: e, eq: o.Change.Def.Eq, base: func() term {
			return c.read(s.beforeText(before(), o, c), precCompare)
		}}
		return s.valued(c, q, s.formulaText(r, c, q, o.Change.Def.Eq.Expr.Root), v)
	case o.Change.Value.Kind != table.Number && len(q.Options) == 0:
		return Cell{Kind: Number, Num: c.shown(v)}
	}
	new := at
	if len(q.Options) == 0 {
		new = c.same(at, o.Change.Unit()).text
	}
	if old := before(); old.Formula != "" {
		new = "IF(" + at + `="",` + old.Formula + "," + new + ")"
	}
	out := s.valued(c, q, new, v)
	out.Input = true
	return out
}

// beforeText is the unchanged value as a formula, or as the number it was.
func (s *Sheet) beforeText(cell Cell, o costmodel.Origin, c *Column) string {
	if cell.Formula != "" {
		return cell.Formula
	}
	v := 0.0
	switch {
	case o.Input != nil:
		v = o.Input.Def.Value
	case o.Definition != nil && o.Definition.Equation != nil:
		v = formula.Eval(o.Definition.Equation.Expr.Root, nil, nil)
	}
	return number(c.shown(v))
}
