package formula_test

import (
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"piececost/costmodel/formula"
)

// TestPrintReadsBack: an expression printed for a person and read again has the same value. Quantities are printed
// without quotation marks, so expressions with any are left out.
func TestPrintReadsBack(t *testing.T) {
	texts := []string{"-(a ^ b)", "(-a) ^ b", "(a ^ b) ^ c", "a ^ (b ^ c)", "a - (b - c)", "a - (b + c)", "a / (b / c)", "a / (b * c)", "a / b * c",
		"a * (b + c)", "-(a + b)", "-(a * b) - -c", "a * -b", "a ^ -b", "not (a < b) ? 1 : 2", "not (a < b and c > b) ? 1 : 2",
		"(a < b or b < c) and c < a ? 1 : 2", "a < b or b < c and c < a ? 1 : 2", "a < b ? (b < c ? 1 : 2) : (c < a ? 3 : 4)",
		"(a < b ? a : b) * c", "max(a < b ? 1 : 2, -b, (a + b) * c)", "a != b ? a : b", "(a + b < c ? 1 : 0) + (a >= b ? 1 : 0)", "1200.5 * a + .5"}
	files, _ := filepath.Glob("../../testdata/formula/[12]-*.txt")
	for _, file := range files {
		raw, _ := os.ReadFile(file)
		for _, line := range strings.Split(string(raw), "\n") {
			if text, ok := strings.CutPrefix(line, "eval "); ok && !strings.Contains(text, "1.00000000000001") { // printed to 12 digits
				texts = append(texts, text)
			}
		}
	}
	read := 0
	for _, text := range texts {
		expr, err := formula.Parse(text, testUnits(t))
		if err != nil {
			continue
		}
		read++
		printed := formula.Print(expr.Root, func(n *formula.Node) string { return n.Name })
		again, err := formula.Parse(printed, testUnits(t))
		if err != nil {
			t.Errorf("%s is printed as %s, which is refused: %v", text, printed, err)
			continue
		}
		for seed := range 8 {
			if a, b := valueWith(expr, seed), valueWith(again, seed); math.Abs(a-b) > 1e-14*math.Abs(a) {
				t.Errorf("%s is %v, but %s, as it is printed, %v", text, a, printed, b)
			}
		}
	}
	if read < 50 {
		t.Errorf("only %d expressions were read", read)
	}
}

// valueWith evaluates with values that follow from the names and the seed; conditions and numbers alike are 1 or more.
func valueWith(expr *formula.Expr, seed int) float64 {
	values := make([]float64, len(expr.Names))
	for i, n := range expr.Names {
		values[i] = 1 + float64((int(hash(n.Path))+3*seed)%5)/2
	}
	return formula.Eval(expr.Root, values, nil)
}
