package scenarios

import (
	"crypto/sha256"
	"fmt"

	"piececost/costmodel"
)

const statementSheet = "Statement"

// statement writes the one page that is signed: claim, scope, ground rules, result, and the fingerprint of the inputs by
// which a later workbook can be told the same or different.
func (b *writer) statement() error {
	p, err := b.page(statementSheet, "Cost statement")
	if err != nil {
		return err
	}
	row := 5
	line := func(label, text string) {
		p.set(row, 1, label, look{kind: "label"})
		p.set(row, 2, text, look{kind: "text"})
		row++
	}
	c := b.result.Details[0].Plan.Case()
	line("Case", c.Text("case"))
	line("Claim", c.Text("claim"))
	line("Scope", c.Text("scope"))
	line("Price date", c.Text("price_date"))
	line("Currency", b.currency())
	line("Program", b.result.Program)
	line("Fingerprint of inputs", b.fingerprint())
	for _, r := range []struct{ label, quantity, format string }{{"Programme life [yr]", "programme_life", "0.##"}, {"Interest", "interest", "0.0##%"}} {
		p.set(row, 1, r.label, look{kind: "label"})
		s := b.sheets[0]
		p.link(row, 2, s.Ref(s.Main("case").Rows[0], r.quantity), look{kind: "text", format: r.format})
		row++
	}
	row = b.statementTable(p, row+1)
	p.set(row+1, 1, "Cost view: manufacturing cost of a good piece, with the required return on capital; the price adds SG&A and profit. Costs positive, credits negative.", look{kind: "faint"})
	p.set(row+2, 1, cautionText, look{kind: "faint"})
	p.heading(row+4, 4, "Agreed by", "Name", "Date", "Signature")
	for i, who := range []string{"Cost engineering", "Engineering", "Purchasing"} {
		p.set(row+5+i, 1, who, look{kind: "label"})
		for col := 2; col <= 4; col++ {
			p.set(row+5+i, col, nil, look{kind: "label"})
		}
		p.heights[row+5+i] = 30
	}
	p.widths[1] = 34
	for col := 2; col <= 1+max(3, len(b.sheets)); col++ {
		p.widths[col] = 22
	}
	p.onePage = true
	return p.flush()
}

// statementTable writes the result of each scenario and returns the next free row.
func (b *writer) statementTable(p *page, row int) int {
	head := []string{"Result"}
	for _, s := range b.sheets {
		head = append(head, s.Plan.Scenario.Name)
	}
	p.heading(row, 1, head...)
	row++
	for _, l := range []struct{ label, quantity, format string }{
		{"Product", "", ""}, {"Annual volume [1/yr]", "annual_volume", wholeFormat}, {"Piece cost [" + b.currency() + "]", "piece_cost", b.money()},
		{"Price [" + b.currency() + "]", "price", b.money()}, {"Net mass [kg]", "net_mass", massFormat},
		{"Tooling investment [" + b.currency() + "]", "tooling_investment", wholeFormat}, {"Own equipment investment [" + b.currency() + "]", "own_equipment_investment", wholeFormat},
	} {
		kind := "label"
		if l.quantity == "piece_cost" {
			kind = "total"
		}
		p.set(row, 1, l.label, look{kind: kind})
		for i, s := range b.sheets {
			if l.quantity == "" {
				p.set(row, 2+i, s.Plan.Scenario.Product, look{kind: "label", right: true})
				continue
			}
			numbers := "number"
			if kind == "total" {
				numbers = "total"
			}
			p.link(row, 2+i, scenarioRef(s, l.quantity), look{kind: numbers, format: l.format})
		}
		row++
	}
	if len(b.sheets) < 2 {
		return row
	}
	p.set(row, 1, "Against "+b.sheets[0].Plan.Scenario.Name, look{kind: "label"})
	p.set(row, 2, nil, look{kind: "label"})
	for i := range b.sheets[1:] {
		p.formula(row, 3+i, fmt.Sprintf("%s!%s%d", b.quoted(summarySheet), costmodel.ColumnName(3+i), b.verdictRow), Verdict(b.result.Details, i+1).Case, look{kind: "label", right: true})
	}
	return row + 1
}

// fingerprint is the beginning of the SHA-256 of every input cell that results rest on, in order.
func (b *writer) fingerprint() string {
	cells, _ := b.model().CellsRead()
	h := sha256.New()
	for _, c := range cells {
		fmt.Fprintf(h, "%s!%s\x00%d\x00%v\x00%s\n", c.Value.Place.Sheet, c.Value.Place.Cell(), c.Value.Kind, c.Value.Number, c.Value.Text)
	}
	return fmt.Sprintf("%x", h.Sum(nil))[:24]
}
