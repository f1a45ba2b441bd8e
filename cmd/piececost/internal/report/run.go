package report

import (
	"fmt"
	"io"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/scenarios"
)

// PrintRun prints the scenario comparison:, what the saved mass costs, and the piece cost over volume.
func PrintRun(w io.Writer, r *scenarios.Result) {
	currency := r.Details[0].Plan.Model.Schema.Units.ModelCurrency()
	t := elementsTable(r.Details)
	t.Corner = currency + " per good piece"
	t.PrintWhole(w)
	if len(r.Details) > 1 {
		fmt.Fprintln(w)
		term.Wrap(w, "", "  ", "Cost of mass saved against "+r.Details[0].Plan.Scenario.Name)
		for i := range r.Details[1:] {
			term.Wrap(w, "  ", "    ", r.Details[i+1].Plan.Scenario.Name+" "+scenarios.Verdict(r.Details, i+1).Words)
		}
	}
	fmt.Fprintln(w)
	PrintSweep(w, r.Sweeps, nil, currency)
}

// elementsTable has a column for each scenario: its piece cost by element, which adds up, then mass and investment.
func elementsTable(ds []*costmodel.Detail) *term.Blocks {
	b := &term.Blocks{}
	statements := make([]costmodel.Statement, len(ds))
	for i, d := range ds {
		statements[i] = d.Statement()
		b.Groups = append(b.Groups, []term.Column{{Head: d.Plan.Scenario.Name}})
	}
	row := func(label string, value func(i int) string) {
		b.Labels = append(b.Labels, label)
		for i := range ds {
			b.Groups[i][0].Cells = append(b.Groups[i][0].Cells, value(i))
		}
	}
	money := func(a costmodel.Amount, i int) string {
		return term.GroupDigits(a.Money.StringFixed(statements[i].Digits))
	}
	quantity := func(label, key string, digits int) {
		row(label, func(i int) string { return term.Grouped(ds[i].Scenario().Must(key), digits) })
	}
	row("Annual volume [1/yr]", func(i int) string { return term.Grouped(ds[i].Volume, 0) })
	for n, e := range ds[0].Plan.Model.Schema.Elements {
		row(e.Label, func(i int) string { return money(statements[i].Lines[n], i) })
	}
	b.Line()
	row("Piece cost", func(i int) string { return money(statements[i].Total, i) })
	b.Line()
	row("Price", func(i int) string { return term.Grouped(ds[i].Scenario().Must("price"), int(statements[i].Digits)) })
	quantity("Net mass [kg]", "net_mass", 3)
	quantity("Gross mass [kg]", "gross_mass", 3)
	quantity("Tooling investment", "tooling_investment", 0)
	quantity("Product-specific equipment investment", "product_specific_equipment_investment", 0)
	return b
}
