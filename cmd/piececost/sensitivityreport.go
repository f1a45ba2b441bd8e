package main

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// sensitivityReport is what sensitivity found, to be printed.
type sensitivityReport struct {
	measure      study.Measure
	response     *study.Response
	stated       bool // the ranges are those of the sheet Uncertainty
	share        float64
	bars         []study.Bar
	elasticities []study.Elasticity
	top          int
}

func (s *sensitivityReport) model() *costmodel.Model { return s.measure.Model }

func (s *sensitivityReport) currency() string { return s.model().Schema.Units.ModelCurrency() }

func (s *sensitivityReport) digits() int {
	return int(costmodel.MoneyDigits(s.currency(), s.response.Magnitude()))
}

func (s *sensitivityReport) limit(n int) int {
	if s.top > 0 {
		return min(n, s.top)
	}
	return n
}

// head says what is measured and how it stands.
func (s *sensitivityReport) head(w io.Writer) {
	printWrapped(w, "", "  ", sentence(s.measure.Name()))
	printWrapped(w, "", "  ", fmt.Sprintf("%s: %s %s", sentence(volumeWords(s.measure)), grouped(s.response.Today(), s.digits()), s.currency()))
}

func (s *sensitivityReport) printTornado(w io.Writer) {
	s.head(w)
	if s.stated {
		fmt.Fprintln(w, "Each input alone from low to high of the sheet Uncertainty")
	} else {
		fmt.Fprintf(w, "Each input alone by plus and minus %s %%, within its plausible range\n", figure(s.share*100))
	}
	fmt.Fprintln(w)
	s.printBars(w)
	fmt.Fprintln(w, "l toward its low value, h toward its high value; | as it stands; swing in "+s.currency())
	fmt.Fprintln(w, "a good piece; ~ not monotone: whole counts make it turn between low and high")
	s.printRest(w, len(s.bars))
}

func (s *sensitivityReport) printRest(w io.Writer, n int) {
	if rest := n - s.limit(n); rest > 0 {
		fmt.Fprintf(w, "%s more; --top 0 lists all\n", plural(rest, "input"))
	}
	if n := len(s.response.Dropped); n > 0 {
		fmt.Fprintf(w, "%s could not be varied with the others\n", plural(n, "input"))
	}
}

const (
	labelWidth = 40
	barWidth   = 27
)

// printBars prints the tornado.
func (s *sensitivityReport) printBars(w io.Writer) {
	bars := s.bars[:s.limit(len(s.bars))]
	today := s.response.Today()
	lo, hi := today, today
	for _, b := range bars {
		lo, hi = min(lo, b.Min), max(hi, b.Max)
	}
	for i := range bars {
		b := &bars[i]
		mark := ""
		if b.Turns {
			mark = " ~"
		}
		fmt.Fprintf(w, "%-*s %s %8s%s\n", labelWidth, cut(b.Input.Input.String(), labelWidth), drawBar(b, lo, today, hi), grouped(b.Swing, s.digits()), mark)
		if s.stated {
			fmt.Fprintf(w, "  %s to %s %s\n", figure(b.Input.Shown(b.Values[0])), figure(b.Input.Shown(b.Values[len(b.Values)-1])), unitOf(s.model(), &b.Input))
		}
	}
}

// drawBar draws the results of one input on a scale from lo to hi: l where values below today's lead, h where values above
// it do, x where both do.
func drawBar(b *study.Bar, lo, today, hi float64) string {
	at := func(v float64) int {
		if hi <= lo {
			return 0
		}
		return int(math.Round((v - lo) / (hi - lo) * (barWidth - 1)))
	}
	low, high := side(b, today, false), side(b, today, true)
	out := []byte(strings.Repeat(" ", barWidth))
	for i := range out {
		inLow := i >= at(low[0]) && i <= at(low[1])
		inHigh := i >= at(high[0]) && i <= at(high[1])
		switch {
		case i == at(today):
			out[i] = '|'
		case inLow && inHigh:
			out[i] = 'x'
		case inLow:
			out[i] = 'l'
		case inHigh:
			out[i] = 'h'
		}
	}
	return string(out)
}

// side is the span of results on one side of today's value, today's result among them.
func side(b *study.Bar, today float64, above bool) [2]float64 {
	span := [2]float64{today, today}
	for i, v := range b.Values {
		if f := b.Results[i]; f == f && (above && v > b.Input.Today || !above && v < b.Input.Today) {
			span[0], span[1] = min(span[0], f), max(span[1], f)
		}
	}
	return span
}

func (s *sensitivityReport) tornadoCSV(w io.Writer) {
	fmt.Fprintln(w, "input,unit,today,low,high,at_low,at_high,least,most,swing,monotone")
	for i := range s.bars[:s.limit(len(s.bars))] {
		b := &s.bars[i]
		v := &b.Input
		fmt.Fprintln(w, strings.Join([]string{csvText(v.Input.String()), csvText(unitOf(s.model(), v)), csvNumber(v.Shown(v.Today)), csvNumber(v.Shown(b.Values[0])), csvNumber(v.Shown(b.Values[len(b.Values)-1])),
			csvNumber(b.AtLow), csvNumber(b.AtHigh), csvNumber(b.Min), csvNumber(b.Max), csvNumber(b.Swing), fmt.Sprint(!b.Turns)}, ","))
	}
}
