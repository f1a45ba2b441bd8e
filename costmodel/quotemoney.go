package costmodel

import (
	"fmt"
	"slices"

	"piececost/costmodel/formula"
)

// moneyOfQuote are the facts in the currency of the quote; all others with money are in the model currency, as costmodel/quote reads them.
var moneyOfQuote = map[string][]string{
	"quote": {"price_at_requested_volume", "notice_price", "tools_missing_price", "line_tolerance", "stated_labour_rate", "stated_machine_rate",
		"shared_surcharge", "stated_after_amortisation"},
	"quote line": {"amount_half", "rate_half", "machine_rate_half", "labour_rate_half", "surcharge_base", "surcharge_base_half"},
}

// exchangeRatesOf are model currency for one of the quote's.
var exchangeRatesOf = []string{"table_rate", "exchange_rate"}

// Currencies tells in which currency the money of quotes and lines is. The language knows one dimension of money; amounts of a quote are in
// its own currency until they are multiplied by its rate, which is followed here through the equations.
type Currencies struct {
	schema *Schema
	known  map[*Quantity]currencyPower
	Mixed  []string // equations that put money of the two together, for tests
}

// A currencyPower is the power of the quote's currency in a quantity's unit; open is that of a bare number, which may be any.
type currencyPower struct {
	power int
	open  bool
}

// CurrenciesOf reads the equations of a model of quotes.
func CurrenciesOf(m *Model) *Currencies {
	return &Currencies{schema: m.Schema, known: map[*Quantity]currencyPower{}}
}

// OfQuote tells whether a quantity of a scope is in the currency of the quote.
func (c *Currencies) OfQuote(sc *Scope, n int32) bool { return c.of(sc, n).power != 0 }

func (c *Currencies) of(sc *Scope, n int32) currencyPower {
	q := sc.Quantities[n]
	if p, ok := c.known[q]; ok {
		return p
	}
	d := sc.Variants[0].Definitions[n]
	if sc.Name != "quote" && sc.Name != "quote line" || d == nil {
		return currencyPower{}
	}
	p := currencyPower{power: int(q.Unit.Dim.Currency)}
	c.known[q] = p
	switch {
	case slices.Contains(exchangeRatesOf, q.Name):
		p.power = -1
	case d.Item.Fact:
		if !slices.Contains(moneyOfQuote[sc.Name], q.Name) {
			p.power = 0
		}
	case d.Equation != nil:
		if from := c.node(sc, d, d.Equation.Expr.Root); !from.open {
			p = from
		}
	}
	c.known[q] = p
	return p
}

// node follows an expression.
func (c *Currencies) node(sc *Scope, d *Definition, n *formula.Node) currencyPower {
	switch {
	case n.Kind == formula.Number:
		return currencyPower{open: true}
	case n.Kind == formula.Name || n.Kind == formula.Sum:
		return c.named(sc, d, n)
	case n.Kind == formula.Negate || n.Kind == formula.Convert:
		return c.node(sc, d, n.Args[0])
	case n.Kind == formula.Cond:
		c.node(sc, d, n.Args[0])
		return c.alike(sc, d, n.Args[1:])
	}
	if n.Kind == formula.Binary && (n.Op == formula.Mul || n.Op == formula.Div) {
		a, b := c.node(sc, d, n.Args[0]), c.node(sc, d, n.Args[1])
		if n.Op == formula.Div {
			b.power = -b.power
		}
		return currencyPower{a.power + b.power, a.open && b.open}
	}
	p := c.alike(sc, d, n.Args)
	if n.Kind == formula.Binary && n.Op != formula.Add && n.Op != formula.Sub || n.Kind == formula.Not || n.Fn != nil && !slices.Contains(likeTheirs,
		n.Fn.Name) {
		return currencyPower{} // a condition, or a function of a plain number
	}
	return p
}

// likeTheirs are the functions whose value is in the unit of their arguments.
var likeTheirs = []string{"min", "max", "abs", "sum"}

// alike is what operands have in common that are added, compared or chosen from.
func (c *Currencies) alike(sc *Scope, d *Definition, args []*formula.Node) currencyPower {
	out := currencyPower{open: true}
	for _, a := range args {
		p := c.node(sc, d, a)
		if !p.open && !out.open && p.power != out.power {
			c.Mixed = append(c.Mixed, fmt.Sprintf("%s of a %s: %s", d.Item.Name, sc.Name, d.Equation.Expr.Text))
		}
		if out.open {
			out = p
		}
	}
	return out
}

func (c *Currencies) named(sc *Scope, d *Definition, n *formula.Node) currencyPower {
	ref := d.Equation.Refs[n.Ref]
	if ref.Fixed || ref.Base || ref.Option > 0 {
		return currencyPower{}
	}
	if last := len(ref.Hops); last > 0 {
		sc = c.schema.Scope(Relations[ref.Hops[last-1]].To)
	}
	return c.of(sc, ref.Quantity)
}
