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
type refFinding struct{ value, effect float64 }

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
		r.findings[name] = refFinding{value, effect(low, high)}
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

// decimalsHalf is half a unit of the last digit that a cell shows; zeros behind the point are not kept by a cell.
func decimalsHalf(text string) float64 {
	text = strings.Fields(text)[0]
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5 * math.Pow10(-len(strings.TrimRight(decimals, "0")))
}

// coinHalf is that of money, printed at least to the coin: both EUR and CZK have two decimals (ISO 4217).
func coinHalf(text string) float64 { return math.Min(decimalsHalf(text), 0.005) }

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
	model := r.modelPrice()
	r.hold("r39", flagOf(!math.IsNaN(gross), strange(gross/m.gross)), -inf, 0, nan)
	r.hold("r39p", is(q.after4/model > 30 || q.after4/model < 0.03, 1), -inf, 0, nan)
	a := q.num(r.t, q.key, "Yearly reduction") / 100
	r.hold("r33", flagOf(!math.IsNaN(a), a > 0.035 && q.after4 > 1.05*model), -inf, 0, q.after4-1.05*model)
	r.hold("r38", flagOf(!(a > 0) || own("Reduction base") != "", a > 0 && own("Reduction base") == "price"), -inf, 0, nan)
	r.surcharges()
}

// strange is a mass in pounds that says kilograms or the other way round, or one that is a thousand times another.
func strange(ratio float64) bool {
	return math.Abs(ratio*0.45359237-1) < 0.03 || math.Abs(ratio/0.45359237-1) < 0.03 || ratio > 300 || ratio < 0.003
}

// modelPrice is the should-cost without tools, with packaging and freight of the request where the price includes them.
func (r *refRules) modelPrice() float64 {
	q, m := r.q, r.q.model
	_, freight, _, _ := refIncludes(q.term(q.key))
	return m.material + m.scrap + m.purchased + m.process + m.overhead + m.sga +
		is(q.sheets.in(q.key, "Packaging") == "included" || q.has("packaging"), or(q.num(r.t, "Request", "Packaging"), 0)) +
		is(freight || q.sheets.in(q.key, "Freight") == "included" || q.has("freight"), or(q.num(r.t, "Request", "Freight"), 0))
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

func (r *refRules) timesAndRates() {
	q, m := r.q, r.q.model
	var chosen refLine
	longest, kept, rejects := nan, 1.0, nan
	for _, l := range q.lines {
		if l["Element"] != "process" {
			continue
		}
		if v := l.num(r.t, "Reject"); !math.IsNaN(v) {
			kept *= 1 - v/100
			rejects = 1 - kept
		}
		c := l.num(r.t, "Time") / or(l.num(r.t, "Pieces per cycle"), 1)
		if !math.IsNaN(c) && (chosen == nil || l["Operation"] == "" || chosen["Operation"] != "" && c > longest) {
			chosen, longest = l, c
		}
	}
	rate := func(name string) float64 {
		if chosen == nil {
			return nan
		}
		return chosen.num(r.t, name)
	}
	labour, machine, crew := rate("Labour rate")*q.rate, rate("Machine rate")*q.rate, rate("Crew")
	amount := func(l refLine) float64 { return l.amount(r.t) }
	own := func(name string) float64 { return q.num(r.t, q.key, name) }
	r.hold("r15", longest/m.cycle, 0.85, 1.25, (longest-m.cycle)*(machine+crew*labour)/3600)
	r.hold("r16", labour/m.labourRate, 0.8, 1.25, (labour-m.labourRate)*crew*longest/3600)
	worked := or(q.sum(amount, "material", "process", "set-up", "rejects"), 0) * q.rate
	r.hold("r17", rejects/m.reject, 0.5, 1.5, (rejects-m.reject)*worked)
	r.hold("r21", own("Working days")/m.days, 0.9, 1.1, nan)
	r.hold("r25", machine/m.machineRate, 0.7, 1.4, (machine-m.machineRate)*longest/3600)
	possible := own("Working days") / 48 * own("Shifts") * m.shiftHours * 3600 / longest
	r.hold("r29", own("Capacity a week")/possible, -inf, 1.1, nan)
}

// surcharges are rules 26 and 27.
func (r *refRules) surcharges() {
	q := r.q
	kind := map[string]int{"overhead": 1, "SG&A": 2, "profit": 3}
	directed, twice := nan, nan
	for _, l := range q.lines {
		if l["Directed"] == "yes" {
			total := 0.0
			for _, s := range q.lines {
				if q.takenOn(s, l) {
					total += s.num(r.t, "Surcharge") / 100
				}
			}
			directed = math.Max(or(directed, 0), total)
		}
	}
	for i, s := range q.lines {
		if s["Surcharge"] == "" || s["On"] == "" {
			continue
		}
		twice = or(twice, 0)
		for _, l := range q.lines {
			if q.takenOn(s, l) && kind[s["Element"]] > 0 && kind[l["Element"]] >= kind[s["Element"]] {
				twice += s.num(r.t, "Surcharge") / 100 * l.num(r.t, "Amount")
			}
			for _, o := range q.lines[:i] {
				if o["Element"] == s["Element"] && q.takenOn(s, l) && q.takenOn(o, l) {
					twice += math.Min(s.num(r.t, "Surcharge"), o.num(r.t, "Surcharge")) / 100 * l.num(r.t, "Amount")
				}
			}
		}
	}
	r.hold("r26", directed, -inf, 0.05, nan)
	r.hold("r27", twice, -inf, 0, twice*q.rate)
}

// takenOn tells whether a surcharge is taken on a line: numbers, ranges of them, or elements.
func (q *refQuote) takenOn(s, l refLine) bool {
	if s["Surcharge"] == "" {
		return false
	}
	return slices.ContainsFunc(strings.FieldsFunc(s["On"], func(r rune) bool { return r == ',' || r == ';' }), func(word string) bool {
		low, high, isRange := strings.Cut(word, "-")
		if isRange && !slices.Contains(elementsInPrice, word) {
			return l["Line"] >= low && l["Line"] <= high // one digit each
		}
		return word == l["Line"] || word == l["Element"]
	})
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
	own := q.paid + q.missing + q.pv
	r.hold("r42", own/tool, -inf, 1.5, (own-1.5*tool)*q.crf/q.n)
}

func middle(list []float64) float64 {
	slices.Sort(list)
	return (list[(len(list)-1)/2] + list[len(list)/2]) / 2
}

// line is the arithmetic of a line, each factor as wide as half a unit of its last digit.
func (r *refRules) line(l refLine) {
	half := func(name string) float64 {
		if l[name] == "" {
			return 0
		}
		if strings.HasSuffix(l[name], " EUR/t") {
			return decimalsHalf(l[name]) / 1000
		}
		return decimalsHalf(l[name])
	}
	num := func(name string) float64 { return l.num(r.t, name) }
	at := " " + r.q.key + "/" + l["Line"]
	amount := num("Amount")
	coin := coinHalf(l["Amount"] + " .")
	factors, widest := num("Quantity")*num("Rate"), (num("Quantity")+half("Quantity"))*(num("Rate")+half("Rate"))
	sign := 1.0
	if l["Element"] == "scrap credit" {
		sign = -1
	}
	r.within("r2"+at, amount, sign*factors, widest-factors+coin)
	kept := 1 - or(num("Reject"), 0)/100
	labour := or(num("Crew")*num("Labour rate"), 0)
	product := num("Time") / 3600 * (num("Machine rate") + labour) / or(num("Pieces per cycle"), 1) / kept
	most := (num("Time") + half("Time")) / 3600 * (num("Machine rate") + half("Machine rate") + labour + or(num("Crew")*half("Labour rate"), 0)) /
		or(num("Pieces per cycle"), 1) / (kept - half("Reject")/100)
	if l["Element"] == "process" && l["Operation"] == "" {
		r.hold("r3"+at, amount-product, -0.05*product, inf, (amount-product)*r.q.rate)
	} else {
		r.within("r3"+at, amount, product, most-product+coin)
	}
	if l["Element"] == "tool" {
		needed := math.Ceil(r.q.n*r.q.l/num("Life") - 1e-9)
		missing := math.Max(needed-num("Quantity"), 0) * amount / num("Quantity") * r.q.rate
		r.hold("r14t"+at, num("Quantity")/needed, 1, inf, -missing*r.q.crf/r.q.n)
	}
	if l["Surcharge"] == "" || l["On"] == "" {
		return
	}
	base, wide := 0.0, 0.0
	for _, o := range r.q.lines {
		if r.q.takenOn(l, o) {
			base += or(o.num(r.t, "Amount"), 0)
			wide += coinHalf(o["Amount"] + " .")
		}
	}
	rate := num("Surcharge") / 100
	r.within("r3s"+at, amount, rate*base, (rate+half("Surcharge")/100)*(base+wide)-rate*base+coin)
}

// within is an amount that should be a product to within a span.
func (r *refRules) within(name string, amount, product, span float64) {
	r.hold(name, amount-product, -span, span, (amount-product)*r.q.rate)
}
