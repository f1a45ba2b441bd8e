package costmodel

import (
	"math"
	"sort"

	"github.com/shopspring/decimal"

	"piececost/costmodel/units"
)

// An Amount is a line of a statement.
type Amount struct {
	Name  string // the quantity
	Label string
	Exact float64         // unrounded, model currency
	Money decimal.Decimal // rounded to the currency's smallest coin; the lines add up to the total
}

// A Statement is the cost of a piece in money: lines that add up to the total shown.
type Statement struct {
	currency string
	Digits   int32 // decimals of Money
	Lines    []Amount
	Total    Amount
}

// Statement makes the statement of a scenario at a detail's volume.
func (d *Detail) Statement() Statement {
	s := d.Scenario()
	elements := d.Plan.Model.Schema.Elements
	exact := make([]float64, len(elements))
	for i, e := range elements {
		exact[i] = s.Must(e.PieceName())
	}
	currency := d.Plan.Model.Schema.Units.ModelCurrency()
	return newStatement(currency, elements, exact)
}

// cheapBelow is the total below which a statement shows two decimals more than the smallest coin, since a cent is then
// too coarse to compare designs by (common practice, no source).
const cheapBelow = 10

// MoneyDigits returns the decimals in which an amount a piece is shown.
func MoneyDigits(currency string, amount float64) int32 {
	digits := units.MinorDigits(currency)
	if math.Abs(amount) < cheapBelow {
		digits += 2
	}
	return digits
}

// newStatement rounds lines to the currency's smallest coin (a cheap piece to a hundredth of it) so that they add up to their rounded sum: every line is
// rounded down, and what is missing goes coin by coin to the lines with the largest remainder.
func newStatement(currency string, elements []Element, exact []float64) Statement {
	sum := decimal.Zero
	for _, v := range exact {
		sum = sum.Add(decimal.NewFromFloat(v))
	}
	digits := MoneyDigits(currency, sum.InexactFloat64())
	st := Statement{currency: currency, Digits: digits}
	down := decimal.Zero
	coin := decimal.New(1, -digits)
	for i, e := range elements {
		v := decimal.NewFromFloat(exact[i])
		line := Amount{Name: e.Name, Label: e.Label, Exact: exact[i], Money: v.RoundFloor(digits)}
		down = down.Add(line.Money)
		st.Lines = append(st.Lines, line)
	}
	st.Total = Amount{Name: "piece_cost", Label: "Piece cost", Exact: sum.InexactFloat64(), Money: sum.Round(digits)}
	order := make([]int, len(elements))
	for i := range order {
		order[i] = i
	}
	remainder := func(i int) decimal.Decimal {
		return decimal.NewFromFloat(exact[i]).Sub(st.Lines[i].Money)
	}
	sort.SliceStable(order, func(a, b int) bool { return remainder(order[a]).GreaterThan(remainder(order[b])) })
	missing := int(st.Total.Money.Sub(down).Div(coin).Round(0).IntPart())
	for i := 0; i < missing && i < len(order); i++ {
		l := &st.Lines[order[i]]
		l.Money = l.Money.Add(coin)
	}
	return st
}
