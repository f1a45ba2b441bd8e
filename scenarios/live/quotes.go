package live

import (
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/plan"
)

// factSource stands over the columns of a sheet of quotes whose numbers the program read: their cells are sums of input cells, or plain
// numbers of the run.
const factSource = "read by the program"

// fact is what a quantity of a quote is that the language can't state; nil for any other.
func (s *Sheet) fact(b *Block, n int32) *costmodel.Definition {
	if d := b.Scope.Variants[0].Definitions[n]; d != nil && d.Item.Fact {
		return d
	}
	return nil
}

// factCell writes a fact: the sum of its cells, or the number that was found.
func (s *Sheet) factCell(c *Column, e plan.Entity, g *costmodel.Given, v float64) Cell {
	out := Cell{Kind: Number, Num: c.shown(v)}
	if len(g.Cells) == 0 {
		out.Found = true
		return out
	}
	sum := term{factor: 1}
	for i, cell := range g.Cells {
		s.Inputs.add(Input{Place: cell.Place, Key: s.keyOf(e), Heading: c.Heading, Live: true})
		part := scaled(term{text: CellRef(cell.Place), prec: precAtom}, cell.Times/c.Factor)
		if i == 0 {
			sum.text = part.text
			continue
		}
		sum.text += "+" + part.text
	}
	out.Formula, out.Input = sum.text, true
	return out
}

// quoteKeys adds the currency that the money of a quote is in.
func (s *Sheet) quoteKeys(b *Block) {
	wordColumn(b, "Currency of the quote", func(e plan.Entity) string {
		if b.Scope.Name == "quote line" {
			e = s.Plan.Follow(e, costmodel.RelationNumber("quote line", "quote"))
		}
		if code := s.Plan.RowRecord(e).Text("currency"); code != "" {
			return code
		}
		return s.Plan.Model.Schema.Units.ModelCurrency()
	})
}

// quoteMoney finds which quantities of quotes and their lines are in the currency of the quote.
func (s *Sheet) quoteMoney() {
	s.ofQuote = map[*costmodel.Quantity]bool{}
	c := costmodel.CurrenciesOf(s.Plan.Model)
	for _, scope := range []string{"quote", "quote line"} {
		sc := s.Plan.Model.Schema.Scope(scope)
		for n, q := range sc.Quantities {
			s.ofQuote[q] = q.Unit.Dim.Currency != 0 && c.OfQuote(sc, int32(n))
		}
	}
}

// shownUnit is a quantity's unit in words; money of a quote is in the quote's own currency, which stands in the row.
func (s *Sheet) shownUnit(q *costmodel.Quantity) string {
	if s.ofQuote[q] {
		return strings.ReplaceAll(q.Unit.Text, "currency", "quote's currency")
	}
	return s.Plan.Model.ShownUnit(q.Unit)
}
