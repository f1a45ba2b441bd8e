package scenarios

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// summary writes the comparison of the scenarios, each at its own volume.
func (b *writer) summary(sheet string) error {
	ds := b.result.Details
	c := b.currency()
	if err := b.title(sheet, "Piece cost of the scenarios"); err != nil {
		return err
	}
	head := []string{fmt.Sprintf("%s a good piece", c)}
	for _, d := range ds {
		head = append(head, d.Plan.Scenario.Name)
	}
	row := 4
	if err := b.heading(sheet, row, 1, head...); err != nil {
		return err
	}
	line := func(label, quantity, kind, format string) error {
		row++
		values := make([]float64, len(ds))
		for i, d := range ds {
			values[i], _, _ = d.Scenario().In(quantity)
		}
		words := look{kind: "label"}
		if kind == "total" {
			words.kind = kind
		}
		return b.putRow(sheet, row, label, values, words, look{kind: kind, format: format})
	}
	lines := []struct{ label, quantity, kind, format string }{{"Annual volume [1/yr]", "annual_volume", "number", wholeFormat}}
	for _, e := range costmodel.Elements {
		lines = append(lines, struct{ label, quantity, kind, format string }{costmodel.ElementLabel(e), "piece_" + e, "number", moneyFormat})
	}
	lines = append(lines, []struct{ label, quantity, kind, format string }{
		{"Piece cost", "piece_cost", "total", moneyFormat},
		{"Price (with SG&A, profit, packaging, freight, duty)", "price", "number", moneyFormat},
		{"Net mass [kg]", "net_mass", "number", massFormat},
		{"Gross mass, bought for a good piece [kg]", "gross_mass", "number", massFormat},
		{fmt.Sprintf("Tooling investment [%s]", c), "tooling_investment", "number", wholeFormat},
		{fmt.Sprintf("Own equipment investment [%s]", c), "own_equipment_investment", "number", wholeFormat},
	}...)
	for _, l := range lines {
		if err := line(l.label, l.quantity, l.kind, l.format); err != nil {
			return err
		}
	}
	if err := b.massSaved(sheet, row+2); err != nil {
		return err
	}
	if err := b.width(sheet, 2, 1+len(ds), 17); err != nil {
		return err
	}
	if err := b.width(sheet, 1, 1, 52); err != nil {
		return err
	}
	return printSetup(b.f, sheet, false, 4)
}

// massSaved writes a sentence for every scenario after the first: what its saved mass costs.
func (b *writer) massSaved(sheet string, row int) error {
	ds := b.result.Details
	if len(ds) < 2 {
		return nil
	}
	if err := b.put(sheet, row, 1, fmt.Sprintf("Cost of mass saved against %s", ds[0].Plan.Scenario.Name), look{kind: "total"}); err != nil {
		return err
	}
	for i := range ds[1:] {
		text := fmt.Sprintf("%s: %s", ds[i+1].Plan.Scenario.Name, Verdict(ds, i+1).Words)
		if err := b.put(sheet, row+1+i, 1, text, look{kind: "text"}); err != nil {
			return err
		}
	}
	return nil
}

// Verdict judges cost and mass of a scenario against the first one.
func Verdict(ds []*costmodel.Detail, i int) study.MassVerdict {
	a, z := ds[0].Scenario(), ds[i].Scenario()
	return study.CompareMass(a.Must("piece_cost"), a.Must("net_mass"), z.Must("piece_cost"), z.Must("net_mass"), ds[0].Plan.Model.Schema.Units.ModelCurrency())
}

// breakdown writes part x element and step x element of every scenario, one below the other.
func (b *writer) breakdown(sheet string) error {
	if err := b.title(sheet, fmt.Sprintf("Where the money goes, %s a good piece", b.currency())); err != nil {
		return err
	}
	row := 4
	for _, d := range b.result.Details {
		for _, scope := range []string{"part", "operation"} {
			next, err := b.breakdownTable(sheet, row, d, scope)
			if err != nil {
				return err
			}
			row = next + 2
		}
	}
	if err := b.width(sheet, 3, 3+len(costmodel.Elements), 11.5); err != nil {
		return err
	}
	if err := b.width(sheet, 2, 2, 34); err != nil {
		return err
	}
	if err := b.width(sheet, 1, 1, 14); err != nil {
		return err
	}
	return printSetup(b.f, sheet, true, 0)
}

// breakdownTable writes the rows of a scope with their elements and a total, and returns the last row.
func (b *writer) breakdownTable(sheet string, row int, d *costmodel.Detail, scope string) (int, error) {
	what := map[string]string{"part": "part", "operation": "step"}[scope]
	title := fmt.Sprintf("%s at %.0f a year, by %s and element", d.Plan.Scenario.Name, d.Volume, what)
	if err := b.put(sheet, row, 1, title, look{kind: "total"}); err != nil {
		return row, err
	}
	row++
	head := []string{costmodel.ElementLabel(what), "Name"}
	for _, e := range costmodel.Elements {
		head = append(head, costmodel.ElementLabel(e))
	}
	if err := b.heading(sheet, row, 2, append(head, "Piece cost")...); err != nil {
		return row, err
	}
	sums := make([]float64, len(costmodel.Elements)+1)
	for _, l := range d.Lines(scope) {
		if scope == "part" && l.Must("has_route") == 0 {
			continue // bought parts are in the step they join at
		}
		row++
		if err := b.breakdownRow(sheet, row, d, l, sums); err != nil {
			return row, err
		}
	}
	row++
	if err := b.put(sheet, row, 1, "Total", look{kind: "total"}); err != nil {
		return row, err
	}
	if err := b.put(sheet, row, 2, nil, look{kind: "total"}); err != nil {
		return row, err
	}
	for i, v := range sums {
		if err := b.put(sheet, row, i+3, v, look{kind: "total", format: moneyFormat}); err != nil {
			return row, err
		}
	}
	return row, nil
}

func (b *writer) breakdownRow(sheet string, row int, d *costmodel.Detail, l costmodel.Line, sums []float64) error {
	if err := b.put(sheet, row, 1, l.Record().Key, look{kind: "label"}); err != nil {
		return err
	}
	if err := b.put(sheet, row, 2, l.Record().Name(), look{kind: "label", wrap: true}); err != nil {
		return err
	}
	for i, q := range append(append([]string{}, costmodel.Elements...), "annual_cost") {
		v := l.Must(q) / d.Volume
		sums[i] += v
		if err := b.put(sheet, row, i+3, v, look{kind: "number", format: moneyFormat}); err != nil {
			return err
		}
	}
	return nil
}
