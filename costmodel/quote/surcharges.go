package quote

import (
	"math"
	"strconv"
	"strings"

	"piececost/costmodel"
)

// kinds are the elements that are taken on others, in the order in which they may be taken: one is never taken on its own or a later kind.
var kinds = []string{"overhead", "SG&A", "profit"}

// surcharges finds on which lines each surcharge is taken, what they come to, and where two are taken on the same.
func (f *factReader) surcharges(q *costmodel.Quote) {
	bases := map[*costmodel.Record]map[*costmodel.Record]bool{}
	rates := map[*costmodel.Record]float64{}
	var taken []*costmodel.Record
	for _, l := range q.Lines {
		rate, ok := f.quotes.Given(l, "surcharge")
		if !ok || l.Text("on") == "" {
			continue
		}
		base := f.baseOf(q, l.Text("on"))
		total, half := 0.0, 0.0
		for _, other := range q.Lines {
			if base[other] {
				v, _ := f.quotes.Given(other, "amount")
				h, _ := f.halfOf(q, other, "amount", true)
				total, half = total+v, half+h
			}
		}
		f.set(l, "surcharge_base", total)
		f.set(l, "surcharge_base_half", half)
		bases[l], rates[l] = base, rate
		taken = append(taken, l)
	}
	f.directed(q, taken, bases, rates)
	f.shared(q, taken, bases, rates)
}

// baseOf reads what a surcharge is taken on: numbers of lines and ranges of them, or elements.
func (f *factReader) baseOf(q *costmodel.Quote, on string) map[*costmodel.Record]bool {
	out := map[*costmodel.Record]bool{}
	for _, word := range strings.FieldsFunc(on, func(r rune) bool { return r == ',' || r == ';' }) {
		word = strings.TrimSpace(word)
		low, high, isRange := strings.Cut(word, "-")
		a, errA := strconv.ParseFloat(strings.TrimSpace(low), 64)
		b, errB := strconv.ParseFloat(strings.TrimSpace(high), 64)
		for _, l := range q.Lines {
			n, err := strconv.ParseFloat(l.Text("line"), 64)
			switch {
			case isRange && errA == nil && errB == nil:
				out[l] = out[l] || err == nil && n >= a && n <= b
			case errA == nil && !isRange:
				out[l] = out[l] || err == nil && n == a
			default:
				out[l] = out[l] || strings.EqualFold(f.quotes.GivenOption(l, "element"), word)
			}
		}
	}
	return out
}

// directed are the surcharges together on each line whose source the buyer names.
func (f *factReader) directed(q *costmodel.Quote, taken []*costmodel.Record, bases map[*costmodel.Record]map[*costmodel.Record]bool,
	rates map[*costmodel.Record]float64) {
	for _, l := range q.Lines {
		if !strings.EqualFold(l.Text("directed"), "yes") {
			continue
		}
		total := 0.0
		for _, s := range taken {
			if bases[s][l] {
				total += rates[s]
			}
		}
		f.set(l, "directed_share", total)
	}
}

// shared is lower rate x base of two surcharges of one element that share lines, and of one that is taken on its own or a later kind.
func (f *factReader) shared(q *costmodel.Quote, taken []*costmodel.Record, bases map[*costmodel.Record]map[*costmodel.Record]bool,
	rates map[*costmodel.Record]float64) {
	if len(taken) == 0 {
		return
	}
	total := 0.0
	for i, s := range taken {
		element := f.quotes.GivenOption(s, "element")
		for _, other := range taken[:i] {
			if f.quotes.GivenOption(other, "element") == element {
				total += math.Min(rates[s], rates[other]) * f.sumOf(q, func(l *costmodel.Record) bool { return bases[s][l] && bases[other][l] })
			}
		}
		total += rates[s] * f.sumOf(q, func(l *costmodel.Record) bool {
			return rank(element) > 0 && bases[s][l] && rank(f.quotes.GivenOption(l, "element")) >= rank(element)
		})
	}
	f.set(q.Record, "shared_surcharge", total)
}

// rank of an element among those taken on others, 0 for one that is taken on nothing.
func rank(element string) int {
	for i, k := range kinds {
		if k == element {
			return i + 1
		}
	}
	return 0
}

func (f *factReader) sumOf(q *costmodel.Quote, in func(*costmodel.Record) bool) float64 {
	total := 0.0
	for _, l := range q.Lines {
		if in(l) {
			v, _ := f.quotes.Given(l, "amount")
			total += v
		}
	}
	return total
}
