package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/quote"
)

// Quotes prints what was found of quotes.
type Quotes struct {
	w        io.Writer
	Answer   *quote.Answer
	Only     *quote.Offer // nil for all
	Currency string
}

func (r *Quotes) offers() []*quote.Offer {
	if r.Only != nil {
		return []*quote.Offer{r.Only}
	}
	return r.Answer.Offers
}

// asked is the annual volume of the request.
func (r *Quotes) asked() float64 {
	v, _ := r.Answer.Quotes.Given(r.Answer.Quotes.Request, "annual_volume")
	return v
}

// Print prints the chain of all quotes side by side, then each against the should-cost with its findings.
func (r *Quotes) Print(w io.Writer) {
	r.w = w
	r.chain()
	for _, o := range r.offers() {
		fmt.Fprintf(w, "\n%s\n", r.title(o))
		r.elements(o)
		if r.Only != nil {
			r.lines(o)
		}
		r.findings(o)
		r.explained(o)
		r.open(o)
	}
}

func (r *Quotes) title(o *quote.Offer) string {
	out := offerName(o)
	if s := o.Quote.Text("supplier"); s != "" {
		out += ", " + inert(s)
	}
	return out
}

// inert takes what is no letter of a line out of a supplier's words.
func inert(text string) string {
	text = strings.Map(func(c rune) rune {
		if c < ' ' || c == 0x7f {
			return ' '
		}
		return c
	}, text)
	return term.Cut(text, mostOfSupplier)
}

// mostOfSupplier is how much of a supplier's words is shown in a line.
const mostOfSupplier = 60

// amount writes an amount a piece; nothing where there is none.
func amount(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	if math.Abs(v) < 0.00005 {
		v = 0
	}
	return term.Grouped(v, 4)
}

func (r *Quotes) chain() {
	term.Wrap(r.w, "", "  ", fmt.Sprintf("Quotes on equal terms [%s per piece, %s pieces per year]", r.Currency, term.Volume(r.asked())))
	t := term.Blocks{Corner: "Step"}
	offers := r.offers()
	columns := make([]term.Column, len(offers))
	assumed := map[string]bool{}
	for i, o := range offers {
		columns[i].Head = offerName(o)
	}
	for n, c := range r.Answer.Quotes.Library.Chain {
		t.Labels = append(t.Labels, fmt.Sprintf("%2d %s", c.Step, c.Label))
		for i, o := range offers {
			s := o.Chain[n]
			cell := amount(s.Change)
			switch {
			case math.IsNaN(s.Change):
				cell = amount(s.Sum)
			case len(s.Assumed) > 0:
				cell += " a"
				assumed["a"] = true
			}
			if c.Stated != "" && o.Quote.Currency != r.Currency {
				cell += " " + o.Quote.Currency
			}
			columns[i].Cells = append(columns[i].Cells, cell)
		}
	}
	t.Line()
	for _, total := range []struct{ label, of string }{{"price on equal terms without tools", "equal_terms_price"},
		{"levelised delivered cost", "levelised_delivered_cost"}, {"cash before start", "cash_before_start"}} {
		t.Labels = append(t.Labels, "   "+total.label)
		for i, o := range offers {
			v, ok := o.Entry.Value(total.of)
			cell := ""
			if ok {
				cell = amount(v)
				if total.of == "cash_before_start" {
					cell = term.Grouped(v, 0)
				}
			}
			columns[i].Cells = append(columns[i].Cells, cell)
		}
	}
	for _, rank := range []struct {
		label string
		of    func(*quote.Offer) int
	}{{"rank by price", func(o *quote.Offer) int { return o.RankBefore }}, {"rank by delivered cost", func(o *quote.Offer) int { return o.RankAfter }}} {
		t.Labels = append(t.Labels, "   "+rank.label)
		for i, o := range offers {
			columns[i].Cells = append(columns[i].Cells, fmt.Sprint(rank.of(o)))
		}
	}
	for i := range columns {
		t.Groups = append(t.Groups, columns[i:i+1])
	}
	t.Print(r.w)
	if len(assumed) > 0 {
		term.Wrap(r.w, "", "  ", "a: assumed, since the supplier did not state it; --json names what")
	}
}

func (r *Quotes) elements(o *quote.Offer) {
	if o.Model == nil {
		for _, d := range o.Diagnostics {
			term.Wrap(r.w, "  no should-cost: ", "    ", d.Summary)
		}
		return
	}
	t := term.Blocks{Corner: fmt.Sprintf("[%s per piece]", r.Currency)}
	columns := []term.Column{{Head: "quoted"}, {Head: "should-cost"}, {Head: "more"}, {Head: "more a year"}, {Head: "lowest"}, {Head: "of"}, {Head: "median"}}
	add := func(label string, cells ...string) {
		t.Labels = append(t.Labels, label)
		for i, c := range cells {
			columns[i].Cells = append(columns[i].Cells, c)
		}
	}
	for _, e := range o.Elements {
		add(e.Label, amount(e.Quoted), amount(e.Model), amount(e.Quoted-e.Model), whole((e.Quoted-e.Model)*r.asked()), amount(e.Best), e.BestOf,
			amount(e.Median))
	}
	price, model := value(o, "after_tools"), value(o, "model_price")
	t.Line()
	add("Price without tools", amount(price), amount(model), amount(price-model), whole((price-model)*r.asked()), "", "", "")
	if o.HasAgreed() {
		price = value(o, "agreed_price")
		add("  with what was agreed", amount(price), amount(model), amount(price-model), whole((price-model)*r.asked()), "", "", "")
	}
	t.Fixed = columns[:4]
	t.Groups = [][]term.Column{columns[4:]}
	t.Print(r.w)
	term.Wrap(r.w, "  ", "  ", "The lowest of each element are of different suppliers and not attainable together.")
}

func value(o *quote.Offer, name string) float64 {
	if v, ok := o.Entry.Value(name); ok {
		return v
	}
	return math.NaN()
}

func whole(v float64) string {
	if math.IsNaN(v) {
		return ""
	}
	return term.Grouped(v, 0)
}

func (r *Quotes) findings(o *quote.Offer) {
	if len(o.Findings) == 0 {
		fmt.Fprintln(r.w, "  no findings")
	}
	for _, f := range o.Findings {
		r.finding(o, f)
	}
	for _, p := range o.Patterns {
		term.Wrap(r.w, "  together: ", "      ", fmt.Sprintf("%s (%s). %s", p.Pattern, strings.ToUpper(strings.Join(p.Evidence, ", ")), p.Says))
	}
}

// finding prints a rule that does not hold, with its numbers, its effect and the question.
func (r *Quotes) finding(o *quote.Offer, f quote.Finding) {
	unit := r.ruleUnit(f.Rule, o)
	words := fmt.Sprintf("%s %s: %s, expected %s", strings.ToUpper(f.Rule.Name), f.Rule.What, unit.of(f.Value), unit.between(f.Low, f.High))
	if f.Line != nil {
		at := fmt.Sprintf("%s line %s, %s: ", strings.ToUpper(f.Rule.Name), inert(f.Line.Text("line")), f.Rule.What)
		if words = at + "off by " + unit.of(f.Value); f.Rule.Unit != "currency" {
			words = at + unit.of(f.Value) + ", expected " + unit.between(f.Low, f.High)
		}
	}
	if !math.IsNaN(f.Effect) {
		words += fmt.Sprintf("; effect %s a piece, %s a year", term.Signed(f.Effect, 4), whole(f.AYear))
	}
	if len(f.Assumed) > 0 {
		words += " (assumed: " + strings.ToLower(strings.Join(f.Assumed, ", ")) + ")"
	}
	term.Wrap(r.w, "  ", "      ", words)
	term.Wrap(r.w, "      ask: ", "      ", f.Rule.Question)
}

// shownUnit writes values of a rule.
type shownUnit struct {
	shown func(float64) float64
	text  string
}

func (u shownUnit) of(v float64) string {
	s := term.Figure(u.shown(v))
	if u.text == "%" {
		return s + " %"
	}
	return strings.TrimSpace(s + " " + u.text)
}

func (u shownUnit) between(low, high float64) string {
	switch {
	case math.IsNaN(low):
		return "at most " + u.of(high)
	case math.IsNaN(high):
		return "at least " + u.of(low)
	}
	return u.of(low) + " to " + u.of(high)
}

// ruleUnit is the unit in which a rule speaks; money of a quote is in its own currency unless the rule is in the model's.
func (r *Quotes) ruleUnit(rule costmodel.QuoteRule, o *quote.Offer) shownUnit {
	u, err := r.Answer.Quotes.Model.Schema.Units.Parse(rule.Unit)
	if err != nil {
		panic(rule.Name + ": " + err.Error()) // the library was checked
	}
	text := rule.Unit
	switch text {
	case "1":
		text = ""
	case "currency":
		if text = r.Currency; rule.Scope != "quote" || rule.OwnCurrency {
			text = o.Quote.Currency
		}
	}
	return shownUnit{u.Shown, text}
}

func (r *Quotes) explained(o *quote.Offer) {
	for _, e := range o.Explained {
		term.Wrap(r.w, "  ", "      ", fmt.Sprintf("What would explain the %s of %s (should-cost %s), one alone:", e.Of(), amount(e.Quoted), amount(e.Model)))
		for _, x := range e.Single {
			words := x.Name + ": "
			switch {
			case x.Verdict == quote.NoneFound:
				words += "no value explains it"
			case math.IsNaN(x.Base):
				words += fmt.Sprintf("x %.3f, %s", x.Factor, x.Verdict)
			default:
				words += fmt.Sprintf("%s %s instead of %s (x %.3f), %s", term.Figure(x.Needed), x.Unit, term.Figure(x.Base), x.Factor, x.Verdict)
			}
			term.Wrap(r.w, "      ", "        ", words)
		}
		for _, p := range e.Pairs {
			var points []string
			for _, at := range p.Points {
				if !math.IsNaN(at.Second) {
					points = append(points, fmt.Sprintf("%.2f with %.2f", at.First, at.Second))
				}
			}
			term.Wrap(r.w, "      ", "        ", fmt.Sprintf("%s and %s together, as factors: %s", p.First, p.Second, strings.Join(points, ", ")))
		}
	}
}

func (r *Quotes) open(o *quote.Offer) {
	if len(o.OpenPoints) > 0 {
		fmt.Fprintf(r.w, "  open points: %d not stated; --questions %s asks for them\n", len(o.OpenPoints), offerName(o))
	}
	var names []string
	for _, n := range o.NotChecked {
		names = append(names, strings.ToUpper(n.Rule.Name))
	}
	if len(names) > 0 {
		term.Wrap(r.w, "  not checked: ", "    ", strings.Join(names, ", ")+"; --json says what each needs")
	}
}

// Rules prints the rules by which quotes are checked.
func Rules(w io.Writer, lib *costmodel.QuoteLibrary) {
	for _, r := range lib.Rules {
		bounds := ""
		if r.Low != "" {
			bounds += ", at least " + r.Low
		}
		if r.High != "" {
			bounds += ", at most " + r.High
		}
		term.Wrap(w, strings.ToUpper(r.Name)+" ", "     ", r.What+bounds)
		term.Wrap(w, "     = ", "       ", r.Value)
		term.Wrap(w, "     ask: ", "       ", r.Question)
	}
	term.Wrap(w, "", "  ", "Bounds are habits of the trade (common practice, no source); the sheet Quote rules gives others: Rule, Low, High, Use.")
}

// lines prints a breakdown beside the should-cost: each line, and where several stand together or none does, their sum.
func (r *Quotes) lines(o *quote.Offer) {
	if len(o.Beside) == 0 {
		return
	}
	t := term.Blocks{Corner: "Line"}
	columns := []term.Column{{Head: "quoted"}, {Head: "of its factors"}, {Head: "should-cost"}, {Head: "more"}, {Head: "more a year"}}
	add := func(label string, quoted, product, model float64) {
		t.Labels = append(t.Labels, term.Cut(inert(label), mostOfLine))
		for i, cell := range []string{amount(quoted), amount(product), amount(model), amount(quoted - model), whole((quoted - model) * r.asked())} {
			columns[i].Cells = append(columns[i].Cells, cell)
		}
	}
	for _, x := range o.Beside {
		sum := besideOf(o, x)
		for _, l := range x.Lines {
			model := x.Model
			if len(x.Lines) > 1 {
				model = math.NaN()
			}
			add(l.Record.Text("line")+" "+l.Record.Text("text"), lineAmount(o, l), lineProduct(o, l), model)
		}
		if len(x.Lines) != 1 {
			add(strings.TrimSpace(x.Label+" "+x.Part+" "+x.Operation), sum, math.NaN(), x.Model)
		}
	}
	t.Fixed = columns
	t.Print(r.w)
}

// besideOf is what lines that stand together come to; NaN where there are none.
func besideOf(o *quote.Offer, x quote.Counterpart) float64 {
	if len(x.Lines) == 0 {
		return math.NaN()
	}
	total := 0.0
	for _, l := range x.Lines {
		total += lineAmount(o, l)
	}
	return total
}

// lineAmount is a line's amount a piece in the model currency; of a tool in total.
func lineAmount(o *quote.Offer, l quote.Line) float64 {
	if v, ok := l.Entry.Value("used_amount"); ok {
		return v * o.Quote.Rate
	}
	return math.NaN()
}

func lineProduct(o *quote.Offer, l quote.Line) float64 {
	if name := l.OwnFactors(); name != "" {
		if v, ok := l.Entry.Value(name); ok {
			return v * o.Quote.Rate
		}
	}
	return math.NaN()
}

// mostOfLine is the room for the label of a line.
const mostOfLine = 36

// offerName is the heading of a quote's column, fit for a line of a terminal.
func offerName(o *quote.Offer) string { return inert(o.Quote.Key) }
