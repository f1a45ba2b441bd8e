package report

import (
	"fmt"
	"io"
	"math"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/study"
)

// Sensitivity is what sensitivity found, to be printed.
type Sensitivity struct {
	Measure      study.Measure
	Response     *study.Response
	Stated       bool // the ranges are those of the sheet Uncertainty
	Share        float64
	Bars         []study.Bar
	Elasticities []study.Elasticity
	Top          int
}

func (s *Sensitivity) model() *costmodel.Model { return s.Measure.Model }

func (s *Sensitivity) currency() string { return s.model().Schema.Units.ModelCurrency() }

func (s *Sensitivity) digits() int {
	return int(costmodel.MoneyDigits(s.currency(), s.Response.Magnitude()))
}

func (s *Sensitivity) limit(n int) int {
	if s.Top > 0 {
		return min(n, s.Top)
	}
	return n
}

// head says what is measured and how it stands.
func (s *Sensitivity) head(w io.Writer) {
	term.Wrap(w, "", "  ", term.Sentence(s.Measure.Name()))
	term.Wrap(w, "", "  ", fmt.Sprintf("%s: %s %s", term.Sentence(volumeWords(s.Measure)), term.Grouped(s.Response.BaseValue(), s.digits()), s.currency()))
}

// PrintTornado prints a bar for each input, the widest first.
func (s *Sensitivity) PrintTornado(w io.Writer) {
	s.head(w)
	if s.Stated {
		fmt.Fprintln(w, "Each input alone from low to high of the sheet Uncertainty")
	} else {
		fmt.Fprintf(w, "Each input alone by plus and minus %s %%, within its plausible range\n", term.Figure(s.Share*100))
	}
	fmt.Fprintln(w)
	s.printBars(w)
	term.Wrap(w, "", "", "l toward its low value, h toward its high value; | base value; swing in "+s.currency()+" per good piece; "+
		"~ non-monotonic: integer quantities (capacity steps) make it turn between low and high")
	s.printRest(w, len(s.Bars))
}

func (s *Sensitivity) printRest(w io.Writer, n int) {
	if rest := n - s.limit(n); rest > 0 {
		fmt.Fprintf(w, "%s more; --top 0 lists all\n", term.Plural(rest, "input"))
	}
	if n := len(s.Response.Dropped); n > 0 {
		fmt.Fprintf(w, "%s could not be varied with the others\n", term.Plural(n, "input"))
	}
}

const (
	labelWidth = 40
	barWidth   = 27
)

// printBars prints the tornado.
func (s *Sensitivity) printBars(w io.Writer) {
	bars := s.Bars[:s.limit(len(s.Bars))]
	baseValue := s.Response.BaseValue()
	lo, hi := baseValue, baseValue
	for _, b := range bars {
		lo, hi = min(lo, b.Min), max(hi, b.Max)
	}
	for i := range bars {
		b := &bars[i]
		mark := ""
		if b.Turns {
			mark = " ~"
		}
		fmt.Fprintf(w, "%-*s %s %8s%s\n", labelWidth, term.Cut(b.Input.Input.String(), labelWidth), drawBar(b, lo, baseValue, hi),
			term.Grouped(b.Swing, s.digits()), mark)
		if s.Stated {
			fmt.Fprintf(w, "  %s to %s %s\n", term.Figure(b.Input.Shown(b.Values[0])), term.Figure(b.Input.Shown(b.Values[len(b.Values)-1])),
				unitOf(s.model(), &b.Input))
		}
	}
}

// drawBar draws the results of one input on a scale from lo to hi: l where values below the base value lead, h where values above
// it do, x where both do.
func drawBar(b *study.Bar, lo, baseValue, hi float64) string {
	at := func(v float64) int {
		if hi <= lo {
			return 0
		}
		return int(math.Round((v - lo) / (hi - lo) * (barWidth - 1)))
	}
	low, high := side(b, baseValue, false), side(b, baseValue, true)
	out := []byte(strings.Repeat(" ", barWidth))
	for i := range out {
		inLow := i >= at(low[0]) && i <= at(low[1])
		inHigh := i >= at(high[0]) && i <= at(high[1])
		switch {
		case i == at(baseValue):
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

// side is the span of results on one side of the base value, its result among them.
func side(b *study.Bar, baseValue float64, above bool) [2]float64 {
	span := [2]float64{baseValue, baseValue}
	for i, v := range b.Values {
		if f := b.Results[i]; f == f && (above && v > b.Input.BaseValue || !above && v < b.Input.BaseValue) {
			span[0], span[1] = min(span[0], f), max(span[1], f)
		}
	}
	return span
}

// TornadoCSV prints a line for each input that is listed.
func (s *Sensitivity) TornadoCSV(w io.Writer) {
	t := newCSV(w, "input", "unit", "base_value", "low", "high", "at_low", "at_high", "least", "most", "swing", "monotonic")
	defer t.flush()
	for i := range s.Bars[:s.limit(len(s.Bars))] {
		b := &s.Bars[i]
		v := &b.Input
		t.row(v.Input.String(), unitOf(s.model(), v), v.Shown(v.BaseValue), v.Shown(b.Values[0]), v.Shown(b.Values[len(b.Values)-1]),
			b.AtLow, b.AtHigh, b.Min, b.Max, b.Swing, !b.Turns)
	}
}
