package scenarios

import (
	"math"
	"slices"
	"strings"
	"testing"
	"time"
)

// The rules by which quotes are checked once more in plain Go, from their description. A value that rests on what is not there is NaN.

// A refFinding is a rule that a quote breaks; effect is NaN where no money follows.
type refFinding struct{ value, effect, low, high float64 }

type refRules struct {
	q          *refQuote
	t          testing.TB
	findings   map[string]refFinding // by rule, or by rule and line: r2 Q1/3
	notChecked map[string]bool
}

// hold is a rule with its bounds, infinite where it has none.
func (r *refRules) hold(name string, value, low, high, effect float64) {
	r.holdBy(name, value, low, high, func(_, _ float64) float64 { return effect })
}

// holdBy is a rule whose effect goes by its bounds.
func (r *refRules) holdBy(name string, value, low, high float64, effect func(low, high float64) float64) {
	if rows := r.q.sheets["quote_rules.csv"]; len(rows) > 0 {
		for _, row := range rows[1:] {
			if row[0] != strings.Fields(name)[0] {
				continue
			}
			if row[3] == "no" {
				return
			}
			scale := 1.0
			for i, b := range []*float64{&low, &high} {
				if text := row[1+i]; text != "" {
					if strings.HasSuffix(text, " %") {
						text, scale = strings.TrimSuffix(text, " %"), 0.01
					}
					*b = refNumber(r.t, text) * scale
				}
			}
		}
	}
	switch {
	case math.IsNaN(value) || math.IsInf(value, 0) || math.IsNaN(low) || math.IsNaN(high):
		if !strings.Contains(name, " ") {
			r.notChecked[name] = true
		}
	case value < low-1e-9*math.Max(math.Abs(low), math.Abs(value)) || value > high+1e-9*math.Max(math.Abs(high), math.Abs(value)):
		r.findings[name] = refFinding{value, effect(low, high), low, high}
	}
}

// outsideBy is how far a share lies outside two bounds.
func outsideBy(v, low, high float64) float64 { return v - math.Min(math.Max(v, low), high) }

func flagOf(known, yes bool) float64 {
	if !known {
		return math.NaN()
	}
	return is(yes, 1)
}

// checkRefQuote holds a quote against every rule; others are the remaining quotes.
func checkRefQuote(t testing.TB, q *refQuote, others []*refQuote) *refRules {
	r := &refRules{q: q, t: t, findings: map[string]refFinding{}, notChecked: map[string]bool{}}
	r.linesAndMasses()
	r.toolsAndTerms()
	r.timesAndRates()
	r.againstOthers(others)
	for _, l := range q.lines {
		r.line(l)
	}
	return r
}

var nan, inf = math.NaN(), math.Inf(1)

// stated is a factor: NaN where something is not there.
func (r *refRules) stated(yes bool) float64 {
	if yes {
		return 1
	}
	return nan
}

func (r *refRules) linesAndMasses() {
	q, m := r.q, r.q.model
	own := func(name string) string { return q.sheets.in(q.key, name) }
	amount := func(l refLine) float64 { return l.amount(r.t) }
	money := func(elements ...string) float64 { return or(q.sum(amount, elements...), 0) * q.rate }
	lines := r.stated(len(q.lines) > 0)
	tolerance, round, all := coinHalf(own("Price"))/q.unit, 0.0, 0.0
	differing, named := 0.0, false
	for _, l := range q.lines {
		if l["Element"] != "tool" && l["Amount"] != "" {
			tolerance += coinHalf(l["Amount"])
		}
		if digits := strings.Trim(strings.NewReplacer(".", "", "-", "").Replace(l["Amount"]), "0"); digits != "" {
			all++
			round += is(len(digits) <= 2, 1)
		}
		if l["Element"] == "material" && l["Material"] != "" {
			named = true
			differing += is(l["Material"] != m.grade, 1)
		}
	}
	missing := q.price - or(q.sum(amount, elementsInPrice...), 0)
	r.hold("r1", math.Abs(missing)*lines, -inf, tolerance*(1+1e-9), missing*q.rate)
	r.hold("r4", differing*r.stated(named), -inf, 0, nan)
	kg := func(l refLine) float64 { return l.kg(r.t) }
	gross, scrap := q.sum(kg, "material"), q.sum(kg, "scrap credit")
	list := or(q.base+m.extras, m.materialPrice)
	r.hold("r5", gross/m.gross, 0.97, 1.05, (gross-m.gross)*list)
	r.hold("r6", (gross-scrap)/m.net, 0.97, 1.03, nan)
	held := list
	if own("Scrap") == "netted" {
		held -= or(q.scrap, m.scrapPrice) * q.offal / q.gross
	}
	paid := money("material") / gross
	r.hold("r7", paid/held, 0.95, 1.05, (paid-held)*gross)
	base := or(q.base, m.materialPrice-m.extras)
	credit := -money("scrap credit") / q.offal * r.stated(q.has("scrap credit"))
	value := credit / base
	switch own("Scrap") {
	case "kept by supplier":
		credit, value = 0, 0
	case "netted":
		value = 0.3
	}
	if q.offal/q.gross <= 0.02 {
		value = 0.3
	}
	r.holdBy("r8", value, 0.2, 0.4, func(low, high float64) float64 { return -outsideBy(credit, low*base, high*base) * q.offal })
	r.hold("r9", q.after4/(m.gross*list), 1.3, inf, q.after4-1.3*m.gross*list)
	cost := money("material", "scrap credit", "purchased parts", "process", "set-up", "rejects", "overhead", "other")
	share := money("SG&A", "profit") / cost
	r.holdBy("r18", share, 0.06, 0.18, func(low, high float64) float64 { return outsideBy(share, low, high) * cost })
	r.hold("r35", round/all, -inf, 0.6, nan)
	model := q.modelPrice()
	r.hold("r39", flagOf(!math.IsNaN(gross), strange(gross/m.gross)), -inf, 0, nan)
	r.hold("r39p", is(q.after4/model > 30 || q.after4/model < 0.03, 1), -inf, 0, nan)
	a := q.num(r.t, q.key, "Yearly reduction") / 100
	r.hold("r33", flagOf(!math.IsNaN(a), a > 0.035 && q.after4 > 1.05*model), -inf, 0, q.after4-1.05*model)
	r.hold("r38", flagOf(!(a > 0) || own("Reduction base") != "", a > 0 && own("Reduction base") == "price"), -inf, 0, nan)
	r.hold("r33u", flagOf(len(q.lines) > 0, r.unbalanced()), -inf, 0, nan)
	r.hold("r34", nan, -inf, 1.3, nan) // of a change request alone
	r.surcharges()
}

// unbalanced tells whether one element is high and another low in a price like the should-cost.
func (r *refRules) unbalanced() bool {
	q, m := r.q, r.q.model
	high, low := -inf, inf
	for i, elements := range elementsCompared {
		share := q.quoted(r.t, elements) / []float64{m.material, m.process, m.overhead, m.sga}[i]
		high, low = math.Max(high, share), math.Min(low, share)
	}
	price := q.after4 / q.modelPrice()
	return high > 1.5 && low < 0.67 && price > 0.95 && price < 1.05
}

// elementsCompared are the elements of lines that are held against the should-cost and the other quotes together.
var elementsCompared = [][]string{{"material"}, {"process", "set-up", "rejects"}, {"overhead"}, {"SG&A", "profit"}}

// quoted is what elements come to in the model currency.
func (q *refQuote) quoted(t testing.TB, elements []string) float64 {
	return or(q.sum(func(l refLine) float64 { return l.amount(t) }, elements...), 0) * q.rate
}

// strange is a mass in pounds that says kilograms or the other way round, or one that is a thousand times another.
func strange(ratio float64) bool {
	return math.Abs(ratio*0.45359237-1) < 0.03 || math.Abs(ratio/0.45359237-1) < 0.03 || ratio > 300 || ratio < 0.003
}

// modelPrice is the should-cost without tools, with packaging and freight of the request where the price includes them.
func (q *refQuote) modelPrice() float64 {
	m := q.model
	_, freight, _, _ := refIncludes(q.term(q.key))
	return m.material + m.scrap + m.purchased + m.process + m.overhead + m.sga +
		is(q.sheets.in(q.key, "Packaging") == "included" || q.has("packaging"), q.askedPackaging) +
		is(freight || q.sheets.in(q.key, "Freight") == "included" || q.has("freight"), q.askedFreight)
}

func (r *refRules) toolsAndTerms() {
	q := r.q
	own := func(name string) string { return q.sheets.in(q.key, name) }
	num := func(name string) float64 { return q.num(r.t, q.key, name) }
	perPiece := q.crf / q.n
	twice := math.Min(q.paid, q.pv)
	r.hold("r10", twice, -inf, 0, twice*perPiece)
	pieces := num("Tool pieces") / (q.n * q.l)
	r.hold("r11", pieces, 0.7, 1.1, q.tools*q.rate*(1-pieces))
	r.hold("r12", num("Annual volume")/q.n, 0.98, 1.02, nan)
	peak := or(q.num(r.t, "Request", "Peak factor"), 1.15)
	r.hold("r13", num("Capacity a week")/(q.n/48*peak), 1, inf, nan)
	needed := math.Ceil(q.n*q.l/num("Tool life") - 1e-9)
	r.hold("r14", num("Tool sets")/needed, 1, inf, -q.missing*perPiece)
	tools := q.paid + q.missing + q.pv
	stated := r.stated(own("Tools paid") != "" || own("Tools in price") != "" || q.has("tooling") || q.has("tool"))
	r.hold("r23", tools/q.model.tools*stated, 0.6, 1.5, (tools-q.model.tools)*perPiece)
	r.hold("r24", flagOf(own("Tool owner") != "", q.paid > 0 && own("Tool owner") == "supplier"), -inf, 0, nan)
	after := num("Price after amortisation")/q.unit - (q.price - q.tools)
	r.hold("r41", math.Abs(after), -inf, 0.01*q.price, after*q.rate)
	r.hold("r19", num("Exchange rate")/q.rate, 0.98, 1.02, nan)
	quoted, rated := refMonths(r.t, own("Quote date")), refMonths(r.t, own("Exchange-rate date"))
	age := nan
	if quoted != nil && rated != nil {
		age = math.Abs(float64(quoted[0] - rated[0]))
	}
	r.hold("r19m", age, -inf, 0, nan)
	r.hold("r20", flagOf(own("Index clause") != "", own("Index clause") == "both ways"), 1, inf, nan)
	if price := refMonths(r.t, own("Price month")); price != nil {
		quoted = price
	}
	age = nan
	if base := refMonths(r.t, own("Base month")); quoted != nil && base != nil {
		age = float64(quoted[0] - base[len(base)-1])
	}
	r.hold("r20m", age, -inf, 3, nan)
	left := nan
	if valid, award := own("Valid until"), q.sheets.in("Request", "Award date"); valid != "" && award != "" {
		a, errA := time.Parse(time.DateOnly, award)
		b, errB := time.Parse(time.DateOnly, valid)
		if errA != nil || errB != nil {
			r.t.Fatal(errA, errB)
		}
		left = b.Sub(a).Hours() * 3600
	}
	r.hold("r22", left, 0, inf, nan)
	r.hold("r37", (num("Payment days")-or(q.num(r.t, "Request", "Payment days"), 0))*86400, 0, inf, q.payment)
	a, b := own("Revision"), q.sheets.in("Request", "Revision")
	r.hold("r40", flagOf(a != "" && b != "", a != b), -inf, 0, nan)
	truck := q.lane(r.t, 5) / (num("Pieces per pack") * num("Packs per truck"))
	r.hold("r36", q.freight/truck, 0.8, 1.2, q.freight-truck)
	r.ladder()
}

// ladder are the steps of prices over volumes where the price does not fall or price x volume does not rise.
func (r *refRules) ladder() {
	type rung struct{ volume, price float64 }
	q := r.q
	list := []rung{{q.num(r.t, q.key, "Annual volume"), q.num(r.t, q.key, "Price")}}
	for _, row := range q.sheets["quotes.csv"] {
		if text, ok := strings.CutPrefix(row[0], "Price at "); ok && q.sheets.in(q.key, row[0]) != "" {
			list = append(list, rung{refNumber(r.t, text), q.num(r.t, q.key, row[0])})
		}
	}
	slices.SortStableFunc(list, func(a, b rung) int { return int(a.volume - b.volume) })
	breaks := 0.0
	for i := 1; i < len(list); i++ {
		a, b := list[i-1], list[i]
		breaks += is(a != b && (b.price >= a.price || b.price*b.volume <= a.price*a.volume), 1)
	}
	r.hold("r31", breaks*r.stated(len(list) > 1), -inf, 0, nan)
}

// againstOthers are rules that hold quotes against each other.
func (r *refRules) againstOthers(others []*refQuote) {
	q := r.q
	var prices, tools []float64
	same := 0.0
	for _, o := range others {
		prices, tools = append(prices, o.after4), append(tools, o.paid+o.missing+o.pv)
		same += is(math.Abs(o.price*o.rate-q.price*q.rate) < 0.005, 1)
	}
	r.hold("r32s", same*r.stated(len(others) > 0), -inf, 0, nan)
	price, tool := nan, nan
	if len(others) > 1 {
		price, tool = middle(prices), middle(tools)
	}
	r.holdBy("r32", q.after4/price, 0.75, 1.25, func(low, high float64) float64 { return outsideBy(q.after4/price, low, high) * price })
	for i, elements := range elementsCompared {
		var known []float64
		for _, o := range others {
			if len(o.lines) > 0 {
				known = append(known, o.quoted(r.t, elements))
			}
		}
		with := nan
		if len(known) > 1 {
			with = middle(known)
		}
		share := q.quoted(r.t, elements) / with * r.stated(len(q.lines) > 0)
		r.holdBy("r32"+"mpog"[i:i+1], share, 0.75, 1.25, func(low, high float64) float64 { return outsideBy(share, low, high) * with })
	}
	own := q.paid + q.missing + q.pv
	r.hold("r42", own/tool, -inf, 1.5, (own-1.5*tool)*q.crf/q.n)
}

func middle(list []float64) float64 {
	slices.Sort(list)
	return (list[(len(list)-1)/2] + list[len(list)/2]) / 2
}
