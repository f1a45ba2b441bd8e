package quote

import (
	"slices"
	"strings"

	"piececost/costmodel"
)

// A Pattern is one of templates/quotes of which a quote's findings hold the evidence.
type Pattern struct {
	costmodel.QuotePattern
	Evidence []string // names of rules
}

// patterns are those of which a quote's findings hold the evidence.
func (a *Answer) patterns(o *Offer) (out []Pattern) {
	for _, p := range a.Quotes.Library.Patterns {
		if p.Where != "" && valueOr(o.Entry, p.WhereName()) != 1 {
			continue
		}
		all, any := o.having(p.All), o.having(p.Any)
		if len(all) == len(p.All) && len(any) >= p.AtLeast {
			out = append(out, Pattern{p, append(all, any...)})
		}
	}
	return out
}

// having lists the rules of a list of findings that a quote has: "r9 low" is one below its bounds, "r10" on any side.
func (o *Offer) having(list []string) (out []string) {
	for _, text := range list {
		rule, side, _ := strings.Cut(text, " ")
		if slices.ContainsFunc(o.Findings, func(f Finding) bool { return f.Rule.Name == rule && (side == "" || (side == "high") == f.Above()) }) {
			out = append(out, rule)
		}
	}
	return out
}
