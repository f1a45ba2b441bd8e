package fit_test

import (
	"context"
	"fmt"

	"piececost/costmodel/fit"
)

// Five invented tools whose price is 2,000 and 150 per hour, but for one that cost a tenth more; nobody can tell what their
// surface adds.
func ExampleFit() {
	p := fit.Problem{
		Of:           "tool price",
		Coefficients: []fit.Coefficient{{Name: "intercept"}, {Name: "hours", NotNegative: true}, {Name: "surface", NotNegative: true}},
	}
	for i, hours := range []float64{20, 60, 100, 300, 500} {
		row := fit.Row{Label: fmt.Sprintf("tool %d", i+1), X: []float64{1, hours, 2 * hours}, Observed: 2000 + 150*hours}
		p.Rows = append(p.Rows, row)
	}
	p.Rows[4].Observed *= 1.1
	_, err := fit.Fit(context.Background(), p)
	fmt.Println(err.(fit.Refused)[0].What)

	p.Coefficients[2].Held = true // at 0
	r, err := fit.Fit(context.Background(), p)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range r.Coefficients {
		fmt.Printf("%s, %s: %.0f, %.0f to %.0f\n", c.Name, c.State, c.Value, c.Low, c.High)
	}
	last := r.Rows[4]
	fmt.Printf("tool 5: %.0f fitted for %.0f; the others say %.0f\n", last.Fitted, last.Observed, last.LeftOut)
	fmt.Println(r.Warnings[0].What)
	// The numbers of the line are also those of weighted sums in fractions, with t = 3.182.

	// Output:
	// the data can't tell `hours` and `surface` apart; in every row one is the same multiple or sum of the others
	// intercept, found: 1826, 1045 to 2607
	// hours, found: 155, 141 to 170
	// surface, held: 0, 0 to 0
	// tool 5: 79576 fitted for 84700; the others say 77000
	// row `tool 1` dominates the fit (Cook's distance 2.2, above 1 is strong)
}
