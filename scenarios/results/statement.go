package results

import (
	"crypto/sha256"
	"fmt"

	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// statement writes the one page that is signed: claim, scope, ground rules, result, and the fingerprint of the inputs by
// which a later workbook can be told the same or different.
func (b *writer) statement() error {
	p, err := b.Page(StatementSheet, "Cost statement")
	if err != nil {
		return err
	}
	row := 5
	line := func(label, text string) {
		p.Set(row, 1, label, sheet.Look{Kind: "label"})
		p.Set(row, 2, text, sheet.Look{Kind: "text"})
		row++
	}
	c := b.result.Details[0].Plan.Case()
	line("Case", c.Text("case"))
	line("Claim under test", c.Text("claim_under_test"))
	line("Scope", c.Text("scope"))
	line("Price date", c.Text("price_date"))
	line("Currency", b.currency())
	line("Program", b.result.Program)
	line("Fingerprint of inputs", b.fingerprint())
	for _, r := range []struct{ label, quantity, format string }{{"Programme life [yr]", "programme_life", "0.##"},
		{"Interest rate", "interest_rate", "0.0##%"}} {
		p.Set(row, 1, r.label, sheet.Look{Kind: "label"})
		s := b.sheets[0]
		p.Link(row, 2, s.Ref(s.Main("case").Rows[0], r.quantity), sheet.Look{Kind: "text", Format: r.format})
		row++
	}
	row = b.statementTable(p, row+1)
	p.Set(row+1, 1, "Basis: manufacturing cost per good piece, with the required return on capital; the price adds SG&A and profit. Costs "+
		"positive, credits negative.", sheet.Look{Kind: "faint"})
	p.Set(row+2, 1, cautionText, sheet.Look{Kind: "faint"})
	p.Heading(row+4, 4, "Agreed by", "Name", "Date", "Signature")
	for i, who := range []string{"Cost engineering", "Engineering", "Purchasing"} {
		p.Set(row+5+i, 1, who, sheet.Look{Kind: "label"})
		for col := 2; col <= 4; col++ {
			p.Set(row+5+i, col, nil, sheet.Look{Kind: "label"})
		}
		p.Heights[row+5+i] = 30
	}
	p.Widths[1] = 34
	for col := 2; col <= 1+max(3, len(b.sheets)); col++ {
		p.Widths[col] = 22
	}
	p.OnePage = true
	return p.Flush()
}

// statementTable writes the result of each scenario and returns the next free row.
func (b *writer) statementTable(p *sheet.Page, row int) int {
	head := []string{"Result"}
	for _, s := range b.sheets {
		head = append(head, s.Plan.Scenario.Name)
	}
	p.Heading(row, 1, head...)
	row++
	for _, l := range []struct{ label, quantity, format string }{
		{"Product", "", ""}, {"Annual volume [1/yr]", "annual_volume", sheet.WholeFormat}, {"Piece cost [" + b.currency() + "]", "piece_cost", b.money()},
		{"Price [" + b.currency() + "]", "price", b.money()}, {"Net mass [kg]", "net_mass", sheet.MassFormat},
		{"Tooling investment [" + b.currency() + "]", "tooling_investment", sheet.WholeFormat},
		{"Product-specific equipment investment [" + b.currency() + "]", "product_specific_equipment_investment", sheet.WholeFormat},
	} {
		kind := "label"
		if l.quantity == "piece_cost" {
			kind = "total"
		}
		p.Set(row, 1, l.label, sheet.Look{Kind: kind})
		for i, s := range b.sheets {
			if l.quantity == "" {
				p.Set(row, 2+i, s.Plan.Scenario.Product, sheet.Look{Kind: "label", Right: true})
				continue
			}
			numbers := "number"
			if kind == "total" {
				numbers = "total"
			}
			p.Link(row, 2+i, scenarioRef(s, l.quantity), sheet.Look{Kind: numbers, Format: l.format})
		}
		row++
	}
	if len(b.sheets) < 2 {
		return row
	}
	p.Set(row, 1, "Against "+b.sheets[0].Plan.Scenario.Name, sheet.Look{Kind: "label"})
	p.Set(row, 2, nil, sheet.Look{Kind: "label"})
	for i := range b.sheets[1:] {
		p.Formula(row, 3+i, fmt.Sprintf("%s!%s%d", b.Quoted(SummarySheet), table.ColumnName(3+i), b.verdictRow),
			Verdict(b.result.Details, i+1).Case, sheet.Look{Kind: "label", Right: true})
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
