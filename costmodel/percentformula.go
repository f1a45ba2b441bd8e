package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// fractionFormula is an expression typed as text into a cell that is formatted as percent: its plain numbers are
// fractions there, while in another cell of the column they would be percent.
type fractionFormula struct {
	place       table.Place
	label, unit string
}

// noteFractions keeps an expression that means something else in a cell without the percent format.
func (m *Model) noteFractions(sc *Scope, q *Quantity, v table.Value, text string, u units.Unit, base *formula.Type, eq *plan.Equation) {
	other, err := m.Schema.equation(sc, text, formula.Rules{Want: formula.Type{Flag: q.Flag, Unit: u}, Grace: true}, base)
	if err == nil && !sameNumbers(eq.Expr.Root, other.Expr.Root) {
		m.fractions = append(m.fractions, fractionFormula{v.Place, q.Label, m.ShownUnit(u)})
	}
}

// sameNumbers tells whether two readings of one expression have the same numbers.
func sameNumbers(a, b *formula.Node) bool {
	if a.Kind != b.Kind || a.Value != b.Value || len(a.Args) != len(b.Args) {
		return false
	}
	for i := range a.Args {
		if !sameNumbers(a.Args[i], b.Args[i]) {
			return false
		}
	}
	return true
}

// warnFractions says once a column that plain numbers of expressions are read as fractions.
func (m *Model) warnFractions() {
	cells := map[string][]string{}
	for _, f := range m.fractions {
		key := fmt.Sprint(f.place.Sheet, "|", f.place.Col)
		cells[key] = append(cells[key], f.place.Cell())
	}
	for _, f := range m.fractions {
		key := fmt.Sprint(f.place.Sheet, "|", f.place.Col)
		if len(cells[key]) == 0 {
			continue // said
		}
		m.Diagnostics.Warn("percent", f.place,
			fmt.Sprintf("%s is a formula in a cell formatted as percent, so its plain numbers are read as fractions: 0.5 as 50 %s, not as "+
				"0.5 %s (%s)", f.label, f.unit, f.unit, shortList(cells[key])),
			fmt.Sprintf(`write "0.5 %s" in quotation marks in the formula, or format the cells as numbers`, f.unit))
		cells[key] = nil
	}
	m.fractions = nil
}

// shortList names the first five cells.
func shortList(cells []string) string {
	if more := len(cells) - 5; more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(cells[:5], ", "), more)
	}
	return strings.Join(cells, ", ")
}
