package scenarios

import (
	"math"
	"slices"
	"strings"
)

// Rules about the lines of a quote: their arithmetic, times, rates and surcharges.

// decimalsHalf is half a unit of the last digit that a cell shows; zeros behind the point are not kept by a cell.
func decimalsHalf(text string) float64 {
	text = strings.Fields(text)[0]
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5 * math.Pow10(-len(strings.TrimRight(decimals, "0")))
}

// coinHalf is that of money, printed at least to the coin: both EUR and CZK have two decimals (ISO 4217).
func coinHalf(text string) float64 { return math.Min(decimalsHalf(text), 0.005) }

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
	r.hold("r21", or(own("Working days")*own("Shifts")*m.shiftHours, own("Working days")*m.dayHours)/(m.days*m.dayHours), 0.9, 1.1, nan)
	r.hold("r25", machine/m.machineRate, 0.7, 1.4, (machine-m.machineRate)*longest/3600)
	possible := own("Working days") / 48 * own("Shifts") * m.shiftHours * 3600 / longest
	r.hold("r29", own("Capacity a week")/possible, -inf, 1.1, nan)
}

// surcharges is rule 27.
func (r *refRules) surcharges() {
	q := r.q
	kind := map[string]int{"overhead": 1, "SG&A": 2, "profit": 3}
	twice := nan
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
	r.worked(l)
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

// worked are surcharges on a directed line, the output that a line rests on and its batch.
func (r *refRules) worked(l refLine) {
	num := func(name string) float64 { return l.num(r.t, name) }
	at, amount := " "+r.q.key+"/"+l["Line"], num("Amount")
	if l["Directed"] == "yes" {
		taken := 0.0
		for _, s := range r.q.lines {
			if r.q.takenOn(s, l) {
				taken += s.num(r.t, "Surcharge") / 100
			}
		}
		r.holdBy("r26"+at, taken, -inf, 0.05, func(_, high float64) float64 { return (taken - high) * amount * r.q.rate })
	}
	seconds := num("Time") / or(num("Pieces per cycle"), 1)
	hour := (num("Machine rate") + or(num("Crew")*num("Labour rate"), 0)) * r.q.rate
	r.holdBy("r28"+at, num("Output per hour")*seconds/3600, 0.6, 0.92, func(low, high float64) float64 {
		share := num("Output per hour") * seconds / 3600
		return hour/num("Output per hour") - hour*seconds/3600/(share-outsideBy(share, low, high))
	})
	month := r.q.n / 12
	r.holdBy("r30"+at, num("Batch")/month, 0.05, 1, func(low, high float64) float64 {
		share := num("Batch") / month
		return (1 - share/(share-outsideBy(share, low, high))) * amount * r.q.rate
	})
}

// within is an amount that should be a product to within a span.
func (r *refRules) within(name string, amount, product, span float64) {
	r.hold(name, amount-product, -span, span, (amount-product)*r.q.rate)
}
