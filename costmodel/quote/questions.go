package quote

import (
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// Questions are what a supplier is asked. They hold his own numbers alone: none of the model, of another quote or of a target. The base
// list is the same for every supplier, so that what is asked gives nothing away.
type Questions struct {
	Quote    string
	Supplier string
	Base     []string
	Own      []OwnQuestion
	Agreed   []AgreedFact
	Talks    []Talk // with this supplier
}

// An OwnQuestion follows from the supplier's own numbers.
type OwnQuestion struct {
	Rule string
	Ask  string
	Line string // of a rule of lines
	Own  []OwnNumber
}

// An OwnNumber is what the supplier stated, as it stands in his cell.
type OwnNumber struct{ Label, Text string }

// An AgreedFact is a line whose amount both have agreed on.
type AgreedFact struct {
	Line, Text     string
	Stated, Agreed string
}

// Questions for a supplier.
func (a *Answer) Questions(o *Offer) Questions {
	out := Questions{Quote: o.Quote.Key, Supplier: o.Quote.Text("supplier"), Talks: a.Talks[o.Quote]}
	for _, x := range a.Quotes.Library.Open {
		out.Base = append(out.Base, x.Ask)
	}
	for _, r := range a.Quotes.Library.Rules {
		if r.Open != "" {
			out.Base = append(out.Base, r.Open)
		}
	}
	// in the order of the rules, since that of their effects would tell of the model
	findings := slices.Clone(o.Findings)
	order := func(f Finding) int {
		return slices.IndexFunc(a.Quotes.Library.Rules, func(r ruleText) bool { return r.Name == f.Rule.Name })
	}
	slices.SortStableFunc(findings, func(x, y Finding) int { return order(x) - order(y) })
	for _, f := range findings {
		q := OwnQuestion{Rule: f.Rule.Name, Ask: f.Rule.Question}
		entry := o.Entry
		if f.Line != nil {
			q.Line = f.Line.Text("line")
			for _, l := range o.Lines {
				if l.Record == f.Line {
					entry = l.Entry
				}
			}
		}
		for _, cell := range a.Quotes.CellsOf(a.Plan, entry, o.Quote, f.Rule.ValueName()) {
			if cell.Name != "element" && cell.Value.Kind != table.Empty {
				q.Own = append(q.Own, OwnNumber{ownLabel(cell), shownText(cell.Value, strings.ReplaceAll(cell.Unit, "currency", o.Quote.Currency))})
			}
		}
		out.Own = append(out.Own, q)
	}
	for _, l := range o.Lines {
		agreed, ok := a.Quotes.ValueOf(l.Record, "agreed")
		if !ok {
			continue
		}
		stated, _ := a.Quotes.ValueOf(l.Record, "amount")
		out.Agreed = append(out.Agreed, AgreedFact{l.Record.Text("line"), l.Record.Text("text"), shownText(stated, ""), shownText(agreed, "")})
	}
	return out
}

// ownLabel names a cell: of a line by its number and the supplier's own words.
func ownLabel(c costmodel.CellOf) string {
	if c.Record.Scope != "quote line" {
		return c.Label
	}
	out := "line " + c.Record.Text("line")
	if text := c.Record.Text("text"); text != "" {
		out += " (" + text + ")"
	}
	return out + ", " + strings.ToLower(c.Label)
}

// shownText is a cell as it was typed.
func shownText(v table.Value, unit string) string {
	text := v.Text
	if v.Kind == table.Number {
		text = strconv.FormatFloat(v.Number, 'f', -1, 64)
		if v.Percent {
			text = strconv.FormatFloat(v.Number*100, 'g', 12, 64) + "%"
		}
		if unit != "" && unit != "1" && !(v.Percent && unit == "%") {
			text += " " + unit
		}
	}
	return text
}
