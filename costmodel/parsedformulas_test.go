package costmodel

import (
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// TestParsedFormulas: a formula that a library keeps is that of the rates that are asked for, and no caller's change of it reaches
// the next.
func TestParsedFormulas(t *testing.T) {
	var p parsedFormulas
	parsed := func(rate float64) *formula.Expr {
		t.Helper()
		sys, err := units.NewSystem("EUR", map[string]float64{"USD": rate})
		if err != nil {
			t.Fatal(err)
		}
		expr, err := p.parse(`mass * "2 USD"`, sys)
		if err != nil {
			t.Fatal(err)
		}
		return expr
	}
	for _, rate := range []float64{0.9, 0.8, 0.8, 0.8, 0.9} { // dollars at these rates, by hand 2 x rate
		expr := parsed(rate)
		if got := expr.Root.Args[1].Value; got != 2*rate {
			t.Errorf("2 USD at %v is %v EUR", rate, got)
		}
		if got := expr.Names[0].Path; got != "mass" {
			t.Errorf("the name is %q", got)
		}
		expr.Root.Args[1].Value, expr.Names[0].Path, expr.Root.Args[0] = 7, "other", nil
	}
}

// TestParsedFormulasRefused: a text that is no formula is one every time.
func TestParsedFormulasRefused(t *testing.T) {
	sys, err := units.NewSystem("EUR", nil)
	if err != nil {
		t.Fatal(err)
	}
	var p parsedFormulas
	for range 2 {
		if _, err := p.parse("mass *", sys); err == nil {
			t.Error("mass * was parsed")
		}
	}
}
