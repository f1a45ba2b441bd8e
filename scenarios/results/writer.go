package results

import (
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/sheet"
)

type writer struct {
	*sheet.Book
	result    *Result
	sheets    []*live.Sheet // calculations, as Details
	quotes    *live.Sheet   // calculation of the quotes; nil without any
	inputs    *live.Inputs
	amounts   string                  // format of amounts of a piece
	ranged    map[table.Place]bool    // inputs outside their plausible range, by the findings
	overrides func(*sheet.Book) error // nil where the sheet stays as it is

	verdictRow              int // of Summary
	firstInput, lastInput   int // rows of Input record
	firstFilled, lastFilled int
	chainChecks             []chainCheck // of Quotes on equal terms
}

func (b *writer) model() *costmodel.Model { return b.result.Details[0].Plan.Model }

func (b *writer) currency() string { return b.model().Schema.Units.ModelCurrency() }

// money is the format of amounts of a piece: a cheap piece shows two decimals more.
func (b *writer) money() string {
	if b.amounts == "" {
		b.amounts = b.amountFormat()
	}
	return b.amounts
}

func (b *writer) amountFormat() string {
	for _, d := range b.result.Details {
		if d.Statement().Digits > 2 {
			return sheet.CentFormat
		}
	}
	return sheet.MoneyFormat
}

// fineMoney is the format of differences of piece costs: two decimals more than the costs have.
func (b *writer) fineMoney() string {
	if b.money() == sheet.CentFormat {
		return "#,##0.000000"
	}
	return "#,##0.0000"
}

func (b *writer) scenarioName(i int) string { return b.result.Details[i].Plan.Scenario.Name }

// scenarioRef is a quantity of a scenario's own row.
func scenarioRef(s *live.Sheet, name string) live.Ref {
	return s.Ref(s.Detail.Scenario().Entity(), name)
}

// nameOf is what a person calls a row, its key where it has no name.
func nameOf(r *costmodel.Record) string { return strings.TrimSpace(r.Name()) }
