package quote

import (
	"math"
	"slices"

	"piececost/costmodel"
)

// A ComparedLine is a line against its counterpart in the should-cost, a piece, in the model currency.
type ComparedLine struct {
	Line    *costmodel.Record
	Element string
	Quoted  float64
	Product float64 // what its own factors come to; NaN where it states none
	Model   float64 // NaN where it has no counterpart
}

// A LeftAlone is a part of the should-cost that no line stands for.
type LeftAlone struct {
	Label string
	Model float64 // a piece
}

// groups are the elements of the should-cost by what lines call them; the names are those of comparedElements.
var groups = map[string]string{"material": "material", "scrap credit": "scrap_credit", "purchased parts": "purchased_parts", "process": "process",
	"set-up": "process", "rejects": "process", "overhead": "overhead", "SG&A": "sga", "profit": "sga"}

// lineByLine holds each line against its counterpart: of the part and operation that it names, else of its element, where it is the only
// line of that element that names none. Nothing is spread: what finds no counterpart stays alone, on either side.
func (a *Answer) lineByLine(o *Offer) (lines []ComparedLine, alone []LeftAlone) {
	if o.Model == nil || len(o.Lines) == 0 {
		return nil, nil
	}
	left := map[string]float64{}
	for _, e := range comparedElements {
		left[e.name] = valueOr(o.Entry, "model_"+e.name)
	}
	unnamed := map[string]int{}
	for _, l := range o.Lines {
		group := groups[a.Quotes.GivenOption(l.Record, "element")]
		if l.Record.Text("part") == "" {
			unnamed[group]++
		}
	}
	lines = make([]ComparedLine, len(o.Lines))
	for i, l := range o.Lines {
		lines[i] = a.comparedLine(o, l)
		group := groups[lines[i].Element]
		if group == "" || l.Record.Text("part") == "" {
			continue
		}
		if v, ok := o.Model.of(group, l.Record.Text("part"), l.Record.Text("operation")); ok {
			lines[i].Model = v
			left[group] -= v
		}
	}
	stood := map[string]bool{}
	for i, l := range o.Lines {
		group := groups[lines[i].Element]
		if group != "" && l.Record.Text("part") == "" && unnamed[group] == 1 {
			lines[i].Model = left[group]
			stood[group] = true
		}
	}
	for _, e := range comparedElements {
		if v := left[e.name]; !stood[e.name] && math.Abs(v) > 1e-9 {
			alone = append(alone, LeftAlone{e.label, v})
		}
	}
	return lines, alone
}

func (a *Answer) comparedLine(o *Offer, l Line) ComparedLine {
	out := ComparedLine{Line: l.Record, Element: a.Quotes.GivenOption(l.Record, "element"), Product: math.NaN(), Model: math.NaN(),
		Quoted: valueOr(l.Entry, "counted_amount") * o.Quote.Rate}
	names := []string{"product", "time_product", "surcharge_product"}
	if out.Element == "process" {
		names = []string{"time_product", "product", "surcharge_product"}
	}
	for _, name := range names {
		if v, ok := l.Entry.Value(name); ok && math.IsNaN(out.Product) {
			out.Product = v * o.Quote.Rate
		}
	}
	return out
}

// of is what a group of elements costs a piece at an operation of a part, or at all of them where none is named; ok is false where the
// should-cost has no such part or operation, and for what is taken on the whole.
func (c *ShouldCost) of(group, part, operation string) (total float64, ok bool) {
	if group == "sga" || group == "overhead" {
		return 0, false
	}
	volume := c.Detail.Scenario().Must("annual_volume")
	for _, op := range c.Detail.Entries("operation") {
		p, _ := op.Follow("part")
		if p.Record().Key != part || operation != "" && op.Record().Text("operation") != operation {
			continue
		}
		ok = true
		for _, e := range c.Plan.Model.Schema.Elements {
			own := e.Name
			if !slices.Contains([]string{"material", "scrap_credit", "purchased_parts", "tooling", "overhead", "working_capital"}, own) {
				own = "process"
			}
			if own == group {
				total += op.Must(e.Name) / volume
			}
		}
	}
	return total, ok
}
