package live

import (
	"fmt"
	"sort"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// Build lays out the calculation of a scenario at a volume: which blocks, rows and columns, and where each stands.
func Build(name string, d *costmodel.Detail, inputs *Inputs) *Sheet {
	s := &Sheet{Name: name, Plan: d.Plan, Detail: d, Inputs: inputs, main: map[string]*Block{}, variants: map[*costmodel.Variant]*Block{}}
	rows := map[string][]plan.Entity{}
	for e := 0; e < d.Plan.Entities(); e++ {
		scope := d.Plan.RowScope(plan.Entity(e)).Name
		rows[scope] = append(rows[scope], plan.Entity(e))
	}
	rows["machine"] = s.computed(rows["machine"], "annual_capital")
	rows["material"] = s.computed(rows["material"], "price")
	rows["link"] = s.linksUp(rows["part"])
	scopes := caseScopes
	if len(rows["quote"]) > 0 {
		scopes = quoteScopes
		s.quoteMoney()
	}
	for _, scope := range scopes {
		s.addMain(scope, rows[scope])
	}
	s.addVariants("machine", rows["machine"])
	s.addUses(rows["part"])
	s.addVariants("part", rows["part"])
	s.addVariants("operation", rows["operation"])
	s.addMain("operation", rows["operation"])
	for _, b := range s.Blocks {
		s.addColumns(b)
	}
	s.place()
	return s
}

// The scopes whose rows have a block each, in their order. Operations come last, behind the blocks of their processes.
var (
	caseScopes  = []string{"scenario", "case", "plant", "material", "machine", "part", "link", "joint", "tool kind"}
	quoteScopes = []string{"case", "request", "quote", "quote line"}
)

// computed keeps the rows for which a quantity was computed: an unused machine may lack inputs.
func (s *Sheet) computed(rows []plan.Entity, quantity string) []plan.Entity {
	var out []plan.Entity
	for _, e := range rows {
		if s.Plan.Compiled(e, s.Plan.RowScope(e).MustQuantity(quantity)) {
			out = append(out, e)
		}
	}
	return out
}

var blockTitles = map[string]string{"scenario": "Scenario", "case": "Case", "plant": "Plants", "material": "Materials", "machine": "Machines",
	"part": "Parts and assemblies", "link": "Bill of materials, children's assemblies first", "joint": "Joints", "operation": "Operations",
	"tool kind": "Tool relations",
	"request":   "Request", "quote": "Quotes", "quote line": "Quote lines"}

// variantTitles are what the blocks of a scope's forms, processes or sizes are called, before the name of each.
var variantTitles = map[string]string{"part": "Form", "operation": "Process", "machine": "Machines sized by"}

// ScopeOfTitle returns the scope of the rows of a block by its title without number, and the input sheet that lists them;
// "" for a block whose cells are no quantities of rows.
func ScopeOfTitle(title string) (scope, sheet string) {
	switch {
	case strings.HasPrefix(title, "Form: "):
		scope = "part"
	case strings.HasPrefix(title, "Process: "):
		scope = "operation"
	case strings.HasPrefix(title, variantTitles["machine"]+": "):
		scope = "machine"
	}
	for s, t := range blockTitles {
		if t == title {
			scope = s
		}
	}
	for _, l := range table.Layouts {
		if l.Scope != "" && l.Scope == scope {
			return scope, l.Sheet
		}
	}
	return "", ""
}

func (s *Sheet) addMain(scope string, rows []plan.Entity) {
	if len(rows) == 0 {
		return
	}
	b := s.newBlock(blockTitles[scope], s.Plan.RowScope(rows[0]), rows)
	s.main[scope] = b
}

func (s *Sheet) newBlock(title string, scope *costmodel.Scope, rows []plan.Entity) *Block {
	b := &Block{Title: fmt.Sprintf("%d  %s", len(s.Blocks)+1, title), Scope: scope, Rows: rows, byQuantity: map[int32]*Column{},
		pulled: map[string]*Column{}, rowOf: map[plan.Entity]int{}}
	for i, e := range rows {
		b.rowOf[e] = i
	}
	s.Blocks = append(s.Blocks, b)
	return b
}

// addVariants makes a block for each form or process in use that gives quantities of its own.
func (s *Sheet) addVariants(scope string, rows []plan.Entity) {
	byVariant := map[*costmodel.Variant][]plan.Entity{}
	var order []*costmodel.Variant
	for _, e := range rows {
		v := s.Plan.RowVariant(e)
		if v == nil {
			continue
		}
		if _, ok := byVariant[v]; !ok {
			order = append(order, v)
		}
		byVariant[v] = append(byVariant[v], e)
	}
	for _, v := range order {
		if !s.hasOwn(v, byVariant[v]) {
			continue
		}
		what := variantTitles[scope]
		b := s.newBlock(what+": "+v.Template.Name, s.Plan.RowScope(byVariant[v][0]), byVariant[v])
		b.Variant = v
		s.variants[v] = b
	}
}

func (s *Sheet) hasOwn(v *costmodel.Variant, rows []plan.Entity) bool {
	for n := range v.Definitions {
		for _, e := range rows {
			if s.Plan.Compiled(e, n) {
				return true
			}
		}
	}
	return false
}

// linksUp orders the links so that a running sum by parent has no circle: the links of a child come before those of
// its parents, and within a parent they run by joining step.
func (s *Sheet) linksUp(parts []plan.Entity) []plan.Entity {
	var out []plan.Entity
	for i := len(parts) - 1; i >= 0; i-- {
		links := append([]plan.Entity(nil), s.Plan.Members(parts[i], costmodel.RelationNumber("part", "children"))...)
		sort.SliceStable(links, func(a, b int) bool { return s.joinsAt(links[a]) < s.joinsAt(links[b]) })
		out = append(out, links...)
	}
	return out
}

// joinsAt orders steps; they are numbered along the routes.
func (s *Sheet) joinsAt(link plan.Entity) plan.Entity {
	return s.Plan.Follow(link, costmodel.RelationNumber("link", "operation"))
}

// addUses makes the block of links grouped by child, parents first, in which demand runs down.
func (s *Sheet) addUses(parts []plan.Entity) {
	var rows []plan.Entity
	for _, p := range parts {
		rows = append(rows, s.Plan.Members(p, costmodel.RelationNumber("part", "uses"))...)
	}
	if len(rows) > 0 {
		s.uses = s.newBlock("Demand down, parents first", s.Plan.RowScope(rows[0]), rows)
	}
}

// place gives every block its rows and every column its place, and finds the rows that hold running sums.
func (s *Sheet) place() {
	row := 4
	for _, b := range s.Blocks {
		b.First = row + HeadingRows
		row = b.First + len(b.Rows) + 1
		for i, c := range b.Columns {
			c.At = i + 1
		}
	}
}

// addColumns decides the columns of a block: keys, links to other blocks, quantities in the order of their definition,
// running sums.
func (s *Sheet) addColumns(b *Block) {
	s.keyColumns(b)
	if b == s.uses {
		s.useColumns(b)
		return
	}
	var quantities []int32
	for i, q := range b.Scope.Quantities {
		n := int32(i)
		if s.inBlock(b, n) && !q.Structural {
			quantities = append(quantities, n)
		}
	}
	for _, n := range quantities {
		b.byQuantity[n] = &Column{} // known before names are pulled in, so that own quantities are not
	}
	s.structureColumns(b, quantities)
	for _, n := range quantities {
		s.pullNames(b, n)
	}
	for _, n := range quantities {
		s.quantityColumn(b, n)
	}
	if b.Scope.Name == "link" {
		s.sumColumns(b)
	}
}

// inBlock tells whether a quantity has its home, or a link to it, in a block.
func (s *Sheet) inBlock(b *Block, n int32) bool {
	if b.Variant != nil {
		if b.Variant.Definitions[n] == nil {
			return false
		}
	} else if s.onlyVariants(b, n) {
		return false
	}
	for _, e := range b.Rows {
		if s.Plan.Compiled(e, n) {
			return true
		}
	}
	return false
}

// onlyVariants tells whether a quantity is nothing that all rows share: it stays in the blocks of its forms or processes.
func (s *Sheet) onlyVariants(b *Block, n int32) bool {
	if len(b.Scope.Variants) == 1 || b.Scope.Variants[0].Definitions[n] != nil {
		return false
	}
	for _, e := range b.Rows {
		v := s.Plan.RowVariant(e)
		if s.Plan.Compiled(e, n) && (v == nil || v.Definitions[n] == nil) {
			return false // given by a cell where no variant defines it
		}
	}
	return true
}

// column makes a column for a quantity.
func (s *Sheet) newColumn(q *costmodel.Quantity, kind ColumnKind) *Column {
	c := &Column{Heading: q.Label, Unit: s.shownUnit(q), Factor: q.Unit.Factor, Zero: q.Unit.Zero, Kind: kind, Text: len(q.Options) > 0}
	if strings.Contains(q.Unit.Text, "%") {
		c.Percent = true
		c.Factor *= 100
	}
	if q.Flag {
		c.Unit = "1 yes, 0 no"
	}
	if q.Check != nil {
		c.Unit = "1 holds, 0 does not"
	}
	if len(q.Options) > 0 {
		c.Unit, c.Factor = "choice", 1
	}
	return c
}

func (b *Block) add(c *Column) *Column {
	b.Columns = append(b.Columns, c)
	return c
}
