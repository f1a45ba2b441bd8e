package quote

import (
	"math"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// linesOf finds the facts of the lines of a quote: masses, digits as they were printed, bases of surcharges.
func (f *factReader) linesOf(q *costmodel.Quote) {
	g := f.quotes
	f.set(q.Record, "has_lines", flag(len(q.Lines) > 0))
	var gross, scrap figure
	mass, credit, credited := false, false, false
	for _, l := range q.Lines {
		kg, weighed := g.Mass(l)
		weight := figure{value: kg, cells: g.MassCells(l)}
		f.rest(l, "element")
		switch element := g.GivenOption(l, "element"); {
		case element == "scrap credit":
			credit = true
			if weighed {
				credited = true
				scrap.add(weight, 1)
			}
		case element == "material" && weighed:
			mass = true
			gross.add(weight, 1)
		}
		f.digits(q, l)
	}
	f.set(q.Record, "has_scrap_line", flag(credit))
	if credit {
		f.set(q.Record, "stated_scrap_line", 1)
	}
	if mass {
		f.set(q.Record, "stated_gross_mass", gross.value, gross.cells...)
	}
	if credited {
		f.set(q.Record, "stated_scrap_mass", scrap.value, scrap.cells...)
	}
	if mass && credited {
		f.set(q.Record, "stated_net_mass", gross.value-scrap.value)
	}
	if len(q.Lines) > 0 {
		f.set(q.Record, "states_lines", 1)
		f.tolerance(q)
		f.roundShare(q)
	}
	f.process(q)
	f.surcharges(q)
	f.tools(q)
}

// printed are the numbers of a line that its arithmetic takes, and which of them are amounts of money, printed to the coin.
var printed = []struct {
	name  string
	money bool
}{{"amount", true}, {"quantity", false}, {"rate", false}, {"time", false}, {"machine_rate", false}, {"labour_rate", false}, {"surcharge", false},
	{"reject", false}}

// digits are half units of the last printed digit.
func (f *factReader) digits(q *costmodel.Quote, l *costmodel.Record) {
	for _, p := range printed {
		if half, ok := f.halfOf(q, l, p.name, p.money); ok {
			f.set(l, p.name+"_half", half)
		}
	}
	if f.quotes.GivenOption(l, "element") == "process" {
		f.set(l, "whole_route", flag(l.Text("operation") == ""))
	}
}

// halfOf is half a unit of the last printed digit of a number of a quote or line, in its coherent unit. Money is printed at least to the
// coin of the quote's currency; ok is false where no cell gives the number.
func (f *factReader) halfOf(q *costmodel.Quote, r *costmodel.Record, name string, money bool) (half float64, ok bool) {
	v, ok := f.quotes.ValueOf(r, name)
	if !ok {
		return 0, false
	}
	if half = halfUnit(v); money {
		half = math.Min(half, 0.5*math.Pow10(-int(units.MinorDigits(q.Currency))))
	}
	given, _ := f.quotes.Given(r, name)
	switch shown := shownNumber(v); {
	case shown != 0:
		half *= math.Abs(given / shown)
	case name == "machine_rate" || name == "labour_rate":
		half /= 3600
	case name == "surcharge" || name == "reject":
		half /= 100
	}
	return half, true
}

// shownNumber is the number of a cell as it is shown, 10 where it shows 10 %.
func shownNumber(v table.Value) float64 {
	if v.Kind == table.Text {
		number, _ := units.CutNumber(v.Text)
		n, err := strconv.ParseFloat(number, 64)
		if err != nil {
			return 0
		}
		return n
	}
	if v.Percent { // 100 times 0.07 is not 7 to the last digit
		return math.Round(v.Number*1e14) / 1e12
	}
	return v.Number
}

// halfUnit is half a unit of the last digit of a number as the shortest text gives it.
func halfUnit(v table.Value) float64 {
	text := strconv.FormatFloat(math.Abs(shownNumber(v)), 'f', -1, 64)
	_, decimals, _ := strings.Cut(text, ".")
	return 0.5 * math.Pow10(-len(decimals))
}

// tolerance of the sum of the lines: half a unit of the last digit of the price and of each amount, with a hair for the sum itself.
func (f *factReader) tolerance(q *costmodel.Quote) {
	total, _ := f.halfOf(q, q.Record, "price", true)
	total /= f.priceUnit(q)
	for _, l := range q.Lines {
		if half, ok := f.halfOf(q, l, "amount", true); ok && f.quotes.GivenOption(l, "element") != "tool" {
			total += half
		}
	}
	f.set(q.Record, "line_tolerance", total*(1+1e-9))
}

// roundShare is the share of the amounts, end zeros off, that have at most two significant digits.
func (f *factReader) roundShare(q *costmodel.Quote) {
	round, all := 0, 0
	for _, l := range q.Lines {
		v, ok := f.quotes.ValueOf(l, "amount")
		if !ok || shownNumber(v) == 0 {
			continue
		}
		all++
		text := strconv.FormatFloat(math.Abs(shownNumber(v)), 'e', -1, 64)
		digits, _, _ := strings.Cut(strings.Replace(text, ".", "", 1), "e")
		round += int(flag(len(digits) <= 2))
	}
	if all > 0 {
		f.set(q.Record, "round_share", float64(round)/float64(all))
	}
}

// process takes times, rates and rejects from the process lines: those of the line that stands for the whole route, else of the longest.
func (f *factReader) process(q *costmodel.Quote) {
	var chosen *costmodel.Record
	longest, kept, rejects := 0.0, 1.0, false
	for _, l := range q.Lines {
		if f.quotes.GivenOption(l, "element") != "process" {
			continue
		}
		if r, ok := f.quotes.Given(l, "reject"); ok {
			kept *= 1 - r
			rejects = true
		}
		t, ok := f.quotes.Given(l, "time")
		if pieces, per := f.quotes.Given(l, "pieces_per_cycle"); per {
			t /= pieces
		}
		if ok && (l.Text("operation") == "" || t > longest && (chosen == nil || chosen.Text("operation") != "")) {
			chosen, longest = l, t
		}
	}
	if rejects {
		f.set(q.Record, "stated_reject", 1-kept)
	}
	if chosen == nil {
		return
	}
	f.set(q.Record, "stated_cycle_time", longest)
	for _, name := range []string{"labour_rate", "machine_rate", "crew"} {
		if v, ok := f.quotes.Given(chosen, name); ok {
			f.set(q.Record, "stated_"+name, v)
		}
	}
}

// tools are the lines of single tools: sets that the programme needs and the quote does not hold, where each states sets and life.
func (f *factReader) tools(q *costmodel.Quote) {
	volume, _ := f.quotes.Given(f.quotes.Request, "annual_volume")
	life, ok := f.quotes.Given(f.quotes.Request, "programme_life")
	if !ok {
		life = f.quotes.CaseValue("programme_life")
	}
	missing, lines := 0.0, 0
	for _, l := range q.Lines {
		if f.quotes.GivenOption(l, "element") != "tool" {
			continue
		}
		f.rest(l, "quantity", "life", "amount")
		f.rest(f.quotes.Request, "annual_volume", "programme_life")
		sets, ok1 := f.quotes.Given(l, "quantity")
		pieces, ok2 := f.quotes.Given(l, "life")
		price, ok3 := f.quotes.Given(l, "amount")
		if !ok1 || !ok2 || !ok3 || sets <= 0 {
			return // then the sum is for all
		}
		lines++
		needed := math.Ceil(volume*life/pieces - 1e-9)
		missing += math.Max(needed-sets, 0) * price / sets
	}
	if lines > 0 {
		f.set(q.Record, "tools_missing_price", missing)
	}
}
