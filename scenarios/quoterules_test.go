package scenarios

import (
	"math"
	"slices"
	"strings"
	"testing"

	"piececost/costmodel/quote"
)

// TestQuoteRules breaks each rule by a change of the sample's quotes and sees its value and effect; with the value just inside its bounds the
// rule is silent. In both the whole answer is that of the reference.
func TestQuoteRules(t *testing.T) {
	sample := smallQuoteSheets(t)
	has := map[string]bool{"r34": true} // of a change request: changePriceFaults
	for _, c := range quoteRuleCases {
		has[strings.Fields(c.rule)[0]] = true
		t.Run(strings.ReplaceAll(c.rule, "/", "-")+" "+c.breaks, func(t *testing.T) {
			at := 0
			if c.quote != "" {
				at = int(c.quote[1] - '1')
			}
			of, a := mustAsk(t, c.breaks, sample.edit(t, append(slices.Clone(c.with), c.breaks)...))
			ref := of.reference(t)
			reportDifferences(t, ref, a)
			c.found(t, a.Offers[at], ref.quotes[at])
			of, a = mustAsk(t, c.inside, sample.edit(t, append(slices.Clone(c.with), c.inside)...))
			reportDifferences(t, of.reference(t), a)
			if f := finding(a.Offers[at], c.rule); f != nil {
				t.Errorf("with %s: found with %v outside %v to %v", c.inside, f.Value, f.Low, f.High)
			}
		})
	}
	for _, r := range quoteLibrary(t).Rules {
		if !has[r.Name] {
			t.Errorf("no case breaks %s", r.Name)
		}
	}
}

func finding(o *quote.Offer, name string) *quote.Finding {
	if i := slices.IndexFunc(o.Findings, func(f quote.Finding) bool { return findingName(f) == name }); i >= 0 {
		return &o.Findings[i]
	}
	return nil
}

func reportDifferences(t *testing.T, ref refAnswer, a *quote.Answer) {
	t.Helper()
	for _, d := range ref.differs(a) {
		t.Error(d)
	}
}

// found looks for the finding and its numbers. What is reckoned by hand has seven digits or more.
func (c quoteRuleCase) found(t *testing.T, o *quote.Offer, q *refQuote) {
	f := finding(o, c.rule)
	if f == nil {
		t.Fatalf("with %s: not found", c.breaks)
	}
	value, effect := c.value(q.model), math.NaN()
	if strings.HasPrefix(c.rule, "r1") && f.Rule.Unit == "d" {
		value *= 86400
	}
	if c.effect != nil {
		effect = c.effect(q.model)
	}
	if !sameTo(f.Value, value, 1e-7) || !sameTo(f.Effect, effect, 1e-7) || !sameTo(f.AYear, effect*120000, 1e-6) {
		t.Errorf("with %s: %v with effect %v, want %v and %v", c.breaks, f.Value, f.Effect, value, effect)
	}
	if f.Rule.Question == "" || !strings.HasSuffix(strings.TrimSpace(f.Rule.Question), "?") && !strings.HasSuffix(f.Rule.Question, ".") {
		t.Errorf("%s asks %q", c.rule, f.Rule.Question)
	}
}

// quoteLacks are inputs without which rules can't be checked, and whether what is missing is then asked for.
var quoteLacks = []struct {
	without []string
	rules   string // not checked then, and checked with what is taken away
	asked   string
}{
	{noLines, "r1 r4 r5 r6 r7 r8 r15 r17 r18 r32m r32p r32o r32g r33u r35 r39", "r1 r4 r5 r7 r8 r15 r18"},
	{[]string{"Q1/1 | Quantity |"}, "r5 r6 r7 r39", "r5 r7"},
	{[]string{"Q1/1 | Material |"}, "r4", "r4"},
	{[]string{"Q1/2 | delete", "Q1 | Scrap |"}, "r6 r8", "r8"},
	{[]string{"Q1 | Capacity a week |"}, "r13", "r13"},
	{[]string{"Q1/3 | Time |"}, "r15", "r15"},
	{[]string{"Q1/3 | Reject |"}, "r17", ""},
	{[]string{"Q1 | Tool owner |"}, "r24", "r24"},
	{[]string{"Q1 | Index clause |"}, "r20", "r20"},
	{[]string{"Q1 | Base month |"}, "r20m", ""},
	{[]string{"Q1 | Valid until |"}, "r22", "r22"},
	{[]string{"Request | Award date |"}, "r22", "r22"},
	{[]string{"Q1 | Payment days |"}, "r37", "r37"},
	{[]string{"Q1 | Yearly reduction |"}, "r33", "r33"},
	{[]string{"delete | Q3"}, "r32 r32m r32p r32o r32g r42", ""},
	{[]string{"delete | Q3", "delete | Q2"}, "r32 r32m r32p r32o r32g r32s r42", ""},
}

// TestQuoteRulesNotChecked takes away what a rule rests on: it is then not checked, and what the supplier can state is an open point.
func TestQuoteRulesNotChecked(t *testing.T) {
	sample := smallQuoteSheets(t)
	_, a := mustAsk(t, "sample", sample)
	before := a.Offers[0]
	for _, c := range quoteLacks {
		of, a := mustAsk(t, strings.Join(c.without, " "), sample.edit(t, c.without...))
		reportDifferences(t, of.reference(t), a)
		var rules, asked []string
		for _, n := range a.Offers[0].NotChecked {
			if !slices.ContainsFunc(before.NotChecked, func(b quote.NotChecked) bool { return b.Rule.Name == n.Rule.Name }) {
				rules = append(rules, n.Rule.Name)
			}
			if len(n.Needs) == 0 {
				t.Errorf("without %v: %s does not say what it needs", c.without, n.Rule.Name)
			}
		}
		for _, p := range a.Offers[0].OpenPoints {
			if !slices.Contains(before.OpenPoints, p) {
				asked = append(asked, p.Rule)
			}
		}
		if got := strings.Join(rules, " "); got != c.rules {
			t.Errorf("without %v not checked are %s, want %s", c.without, got, c.rules)
		}
		if got := strings.Join(asked, " "); got != c.asked {
			t.Errorf("without %v open are %s, want %s", c.without, got, c.asked)
		}
	}
}

// TestQuoteOpenPoints: a quote with nothing but price, currency and volume comes through, with an open point for each thing a supplier can
// state and no finding.
func TestQuoteOpenPoints(t *testing.T) {
	sheets := smallQuoteSheets(t).edit(t, "delete | Q1", "delete | Q2", "delete | Q3", "N | Currency | EUR", "N | Price | 15", "N | Annual volume | 120000")
	c, a := mustAsk(t, "bare", sheets)
	reportDifferences(t, c.reference(t), a)
	var asked []string
	for _, p := range a.Offers[0].OpenPoints {
		asked = append(asked, p.Rule)
	}
	want := "step 5 r1 r4 r5 r7 r8 r13 r14 r15 r18 r20 r22 r23 r24 r31 r33 r36 r37 r40 r41"
	if got := strings.Join(asked, " "); got != want {
		t.Errorf("open are %s, want %s", got, want)
	}
	for _, f := range a.Offers[0].Findings {
		t.Errorf("%s is found of a quote that states next to nothing", f.Rule.Name)
	}
}

// TestQuoteRuleBounds: the sheet Quote rules gives a rule other bounds, of the quote and of lines, or leaves it out.
func TestQuoteRuleBounds(t *testing.T) {
	sample := smallQuoteSheets(t)
	for _, c := range []struct {
		row, rule string
		breaks    bool
		low, high float64
	}{
		{"r18,,20 %,", "r18", false, 0, 0}, {"r18,,19 %,", "r18", true, 0.06, 0.19}, {"r18,,,no", "r18", false, 0, 0},
		{"r15,101 %,,", "r15", true, 1.01, 1.25}, {"r13,105 %,,", "r13", true, 1.05, math.NaN()}, {"R35,,10 %,", "r35", true, math.NaN(), 0.1},
		{"r2,-0.001,0.001,", "r2 Q1/1", true, -0.001, 0.001},
	} {
		of, a := mustAsk(t, c.row, sample.edit(t, "quote_rules.csv | = | Rule,Low,High,Use", "quote_rules.csv | + | "+c.row))
		if c.row[0] == 'r' {
			reportDifferences(t, of.reference(t), a)
		}
		f := finding(a.Offers[0], c.rule)
		if (f != nil) != c.breaks {
			t.Errorf("with %s: found %v", c.row, f)
		} else if f != nil && (!sameTo(f.Low, c.low, 1e-12) || !sameTo(f.High, c.high, 1e-12)) {
			t.Errorf("with %s: bounds %v to %v, want %v to %v", c.row, f.Low, f.High, c.low, c.high)
		}
	}
}

// A quotePatternCase is changes by which several findings together make a pattern, and one more by which they just do not.
type quotePatternCase struct {
	quote                     int
	pattern                   string
	with                      []string
	without                   string
	evidence, withoutEvidence string
}

var quotePatterns = []quotePatternCase{
	{2, "price below its cost", nil, "Q3/3 | Reject | 1.5", "r9 r15 r17", ""},
	{2, "price below its cost", nil, "Q3/3 | Time | 25", "r9 r15 r17", ""},
	{2, "price below its cost", nil, "Q3 | Price | 14.00", "r9 r15 r17", ""},
	{2, "price below its cost", []string{"Q3/3 | Reject | 1.5", "Q3 | Plant | Van plant"}, "Q3/3 | Labour rate | 38", "r9 r15 r16", ""}, // 24 EUR/h is low
	{0, "reserves in many lines", []string{"Q1/1 | Quantity | 6.80", "Q1/1 | Amount | 9.90", "Q1/5 | Amount | 3.00", "Q1 | Price | 17.27"},
		"Q1/5 | Amount | 2.00", "r5 r7 r18", ""},
	{0, "reserves in many lines", []string{"Q1/1 | Quantity | 6.80", "Q1/1 | Amount | 9.90", "Q1/5 | Amount | 3.00", "Q1 | Price | 17.27"},
		"Q1 | Price | 15.90", "r5 r7 r18", ""},
	{0, "reserves in many lines", []string{"Q1/1 | Quantity | 6.80", "Q1/1 | Amount | 9.90", "Q1/5 | Amount | 3.00", "Q1 | Price | 16.05"}, // 105.5 %
		"Q1 | Price | 15.96", "r5 r7 r18", ""},
	{0, "reserves in many lines", []string{"Q1/1 | Amount | 9.90", "Q1/5 | Amount | 3.00", "Q1 | Price | 17.27", "Q1/2 | Amount | 0.00"},
		"Q1/2 | Amount | -0.14", "r7 r8 r18", ""},
	{0, "reserves in many lines", []string{"Q1/3 | Time | 40", "Q1/3 | Reject | 4", "Q1 | Price | 16.78", "Q1 | Tools in price | 0.20"}, "Q1/3 | Time | 15",
		"r10 r15 r17 r18", "r10 r17 r18"},
	{0, "reserves in many lines", []string{inVanPlant, "Q1/3 | Machine rate | 500", "Q1/3 | Labour rate | 60", "Q1 | Price | 16.78"}, "Q1/3 | Labour rate | 20",
		"r16 r18 r25", ""},
	{0, "reserves in many lines", []string{"Q1 | Tools paid | 700000", "Q1/4 | Surcharge | 10", "Q1/4 | On | 1-4", "Q1 | Price | 16.78"}, "Q1/4 | On | 1-3",
		"r18 r23 r27", ""},
	{0, "reserves in many lines", []string{"Q1 | Tools paid | 700000", "Q1/4 | Surcharge | 10", "Q1/4 | On | 1-3", "Q1/1 | Directed | yes",
		"Q1 | Price | 16.78"},
		"Q1/1 | Directed |", "r18 r23 r26", ""},
	{0, "high at first and reduced later", []string{"Q1 | Yearly reduction | 4", "Q1 | Price | 16.78"}, "Q1 | Yearly reduction | 3", "r33", ""},
}

// TestQuotePatterns: a pattern is named with its evidence, and not where one of its findings is missing. Its words accuse nobody.
func TestQuotePatterns(t *testing.T) {
	sample := smallQuoteSheets(t)
	for _, c := range quotePatterns {
		_, a := mustAsk(t, c.pattern, sample.edit(t, c.with...))
		if got := patternOf(a.Offers[c.quote], c.pattern); got != c.evidence {
			t.Errorf("with %v: %s has the evidence %q, want %q", c.with, c.pattern, got, c.evidence)
		}
		_, a = mustAsk(t, c.pattern, sample.edit(t, append(slices.Clone(c.with), c.without)...))
		if got := patternOf(a.Offers[c.quote], c.pattern); got != c.withoutEvidence {
			t.Errorf("with %v and %s: %s has the evidence %q, want %q", c.with, c.without, c.pattern, got, c.withoutEvidence)
		}
	}
	for _, p := range quoteLibrary(t).Patterns {
		if !slices.ContainsFunc(quotePatterns, func(c quotePatternCase) bool { return c.pattern == p.Pattern }) {
			t.Errorf("no case has the pattern %q", p.Pattern)
		}
	}
}

func patternOf(o *quote.Offer, name string) string {
	for _, p := range o.Patterns {
		if p.Pattern == name {
			return strings.Join(p.Evidence, " ")
		}
	}
	return ""
}

// TestQuoteWordsAccuseNobody: texts of rules and patterns speak of numbers, never of intentions.
func TestQuoteWordsAccuseNobody(t *testing.T) {
	lib := quoteLibrary(t)
	var texts []string
	for _, r := range lib.Rules {
		texts = append(texts, r.What, r.Question, r.Open)
	}
	for _, p := range lib.Patterns {
		texts = append(texts, p.Pattern, p.Says)
	}
	for _, text := range texts {
		for _, word := range []string{"cheat", "dishonest", "fraud", "trick", "hide", "hidden", "padding", "padded", "buy-in", "buying-in", "collu",
			"invent", "intend", "on purpose", "deliberate"} {
			if strings.Contains(strings.ToLower(text), word) {
				t.Errorf("%q says %q", text, word)
			}
		}
	}
}
