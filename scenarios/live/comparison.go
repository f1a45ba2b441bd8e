package live

import (
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/formula"
)

// ComparisonCells says in which cells quantities of a comparison stand, in coherent units; every other quantity is written out
// in their terms.
type ComparisonCells struct {
	Of    *costmodel.Comparison
	Cells map[costmodel.ComparedName]string
}

// Number writes the equation of a quantity as a spreadsheet formula without its =.
func (c ComparisonCells) Number(name costmodel.ComparedName) string {
	t := translator{comparisonNames{c}}
	return t.settle(t.node(c.Of.Equation(string(name)).Root)).text
}

// Condition writes a condition as a test.
func (c ComparisonCells) Condition(name costmodel.ComparedName) string {
	return translator{comparisonNames{c}}.condition(c.Of.Equation(string(name)).Root)
}

// Verdict writes the names of the case that holds.
func (c ComparisonCells) Verdict() string {
	t := translator{comparisonNames{c}}
	var parts []string
	for _, list := range c.Of.Verdict {
		var out strings.Builder
		last := len(list) - 1
		for n := range list {
			name := `"` + strings.ReplaceAll(list[n].Name, `"`, `""`) + `"`
			if n == last {
				out.WriteString(name + strings.Repeat(")", last))
				break
			}
			out.WriteString("IF(" + t.condition(list[n].Condition().Root) + "," + name + ",")
		}
		parts = append(parts, out.String())
	}
	return strings.Join(parts, `&"`+costmodel.VerdictJoint+`"&`)
}

// comparisonNames leads a name to its cell or to its equation.
type comparisonNames struct{ ComparisonCells }

func (c comparisonNames) name(n *formula.Node) term {
	if cell, ok := c.Cells[costmodel.ComparedName(n.Name)]; ok {
		return term{text: cell, prec: precAtom, factor: 1}
	}
	e := c.Of.Equation(n.Name)
	if e == nil {
		panic("the input " + n.Name + " of a comparison has no cell")
	}
	return translator{c}.node(e.Root)
}

func (c comparisonNames) condition(n *formula.Node) string {
	switch n.Name {
	case "yes":
		return "1=1"
	case "no":
		return "1=0"
	}
	return translator{c}.condition(c.Of.Equation(n.Name).Root)
}

func (comparisonNames) settled(*formula.Node) (value, known bool) { return false, false }

func (comparisonNames) curve(name, _ string) term { panic("a comparison sees no curve " + name) }
