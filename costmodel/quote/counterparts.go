package quote

import (
	"math"
	"slices"
	"strings"
)

// A Counterpart is what the should-cost has for lines of a breakdown. Lines that name a part, or an operation, stand against that; lines of
// the same element that name none stand together against the rest. Nothing is spread.
type Counterpart struct {
	Label           string  // element in words
	Part, Operation string  // where lines name them
	Lines           []Line  // none where the should-cost has what no line is for
	Model           float64 // a piece, in the model currency; NaN where the should-cost has nothing for the lines
	Outside         bool    // outside the sum of the lines: prices of tools, in total
}

// A lineKind is a kind of lines that have their counterparts among the same elements of cost.
type lineKind struct {
	label    string
	elements []string // of lines
	named    bool     // a line may name what of the should-cost it is for
}

var lineKinds = []lineKind{
	{"Material", []string{"material"}, true},
	{"Scrap credit", []string{"scrap credit"}, true},
	{"Purchased parts", []string{"purchased parts"}, true},
	{"Process, set-up and rejects", []string{"process", "set-up", "rejects"}, true},
	{"Overhead", []string{"overhead"}, false},
	{"SG&A and profit", []string{"SG&A", "profit"}, false},
	{"Packaging and freight", []string{"packaging", "freight"}, false},
	{"Tooling", []string{"tooling"}, false},
	{"Other", []string{"other"}, false},
	{"Tools, in total", []string{"tool"}, false},
}

// counterparts puts each line of a quote beside what the should-cost has for it, in the order of the elements; none without a should-cost or
// lines.
func (a *Answer) counterparts(o *Offer) (out []Counterpart) {
	if o.Model == nil || len(o.Lines) == 0 {
		return nil
	}
	for _, k := range lineKinds {
		var lines []Line
		for _, l := range o.Lines {
			if slices.Contains(k.elements, a.Quotes.GivenOption(l.Record, "element")) {
				lines = append(lines, l)
			}
		}
		named, rest := o.Model.namedBy(k, lines)
		out = append(out, named...)
		own := Counterpart{Label: k.label, Lines: rest, Model: a.whole(o, k), Outside: k.elements[0] == "tool"}
		if len(named) > 0 {
			own.Label += ", all else"
		}
		for _, c := range named {
			if !math.IsNaN(c.Model) {
				own.Model -= c.Model
			}
		}
		if len(rest) > 0 || size(own.Model) > hair*math.Abs(o.Model.Process+o.Model.Material) && k.label != "Tooling" {
			out = append(out, own)
		}
	}
	return out
}

// whole is what the should-cost has for a kind of lines a piece; NaN where it has no such element.
func (a *Answer) whole(o *Offer, k lineKind) float64 {
	c := o.Model
	switch k.label {
	case "Material":
		return c.Material
	case "Scrap credit":
		return c.ScrapCredit
	case "Purchased parts":
		return c.PurchasedParts
	case "Process, set-up and rejects":
		return c.Process
	case "Overhead":
		return c.Overhead
	case "SG&A and profit":
		return c.SGA
	case "Packaging and freight":
		return valueOr(o.Entry, "model_delivery")
	case "Tooling":
		return c.Tooling + c.ToolOverhead
	}
	return math.NaN()
}

// namedBy groups the lines of a kind that name a part or an operation, in the order of their first; the others are the rest.
func (c *ShouldCost) namedBy(k lineKind, lines []Line) (named []Counterpart, rest []Line) {
	for _, l := range lines {
		part, operation := l.Record.Text("part"), ""
		if k.label == "Process, set-up and rejects" {
			if operation = l.Record.Text("operation"); operation != "" && part == "" {
				part = c.Part.Record().Key
			}
		}
		if !k.named || part == "" {
			rest = append(rest, l)
			continue
		}
		at := slices.IndexFunc(named, func(x Counterpart) bool {
			return strings.EqualFold(x.Part, part) && strings.EqualFold(x.Operation, operation)
		})
		if at < 0 {
			at = len(named)
			named = append(named, Counterpart{Label: k.label, Part: part, Operation: operation, Model: c.costOf(k, part, operation)})
		}
		named[at].Lines = append(named[at].Lines, l)
	}
	for i := range named { // a part without an operation is the rest of its route
		for _, other := range named {
			if n := &named[i]; n.Operation == "" && other.Operation != "" && strings.EqualFold(n.Part, other.Part) && !math.IsNaN(other.Model) {
				n.Model -= other.Model
			}
		}
	}
	return named, rest
}

// costOf is what a part, or an operation of it, costs in a kind a piece; NaN where the should-cost does not know it.
func (c *ShouldCost) costOf(k lineKind, part, operation string) float64 {
	volume := c.Detail.Scenario().Must("annual_volume")
	total, found := 0.0, false
	if k.label == "Purchased parts" {
		for _, link := range c.Detail.Entries("link") {
			if child, ok := link.Follow("child"); ok && strings.EqualFold(child.Record().Key, part) && child.Must("has_route") == 0 {
				total, found = total+link.Must("child_cost")/volume, true
			}
		}
		return orNone(total, found)
	}
	for _, op := range c.Detail.Entries("operation") {
		of, ok := op.Follow("part")
		if !ok || !strings.EqualFold(of.Record().Key, part) || operation != "" && !strings.EqualFold(op.Record().Text("operation"), operation) {
			continue
		}
		found = true
		for _, e := range c.Plan.Model.Schema.Elements {
			if kindOf(e.Name) == k.label {
				total += op.Must(e.Name) / volume
			}
		}
	}
	return orNone(total, found)
}

// kindOf is the kind of lines that an element of cost of an operation belongs to.
func kindOf(element string) string {
	switch element {
	case "material":
		return "Material"
	case "scrap_credit":
		return "Scrap credit"
	case "purchased_parts":
		return "Purchased parts"
	case "tooling":
		return "Tooling"
	case "overhead", "working_capital":
		return "Overhead"
	}
	return "Process, set-up and rejects"
}

func orNone(v float64, there bool) float64 {
	if !there {
		return math.NaN()
	}
	return v
}

// OwnFactors is the quantity of a line that its own factors come to: time x rates, quantity x rate, or a surcharge on its base; "" for a
// line that states none.
func (l Line) OwnFactors() string {
	for _, name := range []string{"time_product", "product", "surcharge_product"} {
		if _, ok := l.Entry.Value(name); ok {
			return name
		}
	}
	return ""
}
