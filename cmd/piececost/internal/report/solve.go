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

// Solve is what solve found, to be printed.
type Solve struct {
	*study.SolveAnswer
	Top int
}

func (s *Solve) model() *costmodel.Model { return s.Measure.Model }

func (s *Solve) currency() string { return s.model().Schema.Units.ModelCurrency() }

// wanted says break-even values.
func (s *Solve) wanted() string {
	return s.Measure.Wanted(term.Grouped(s.Target, s.Digits()) + " " + s.currency())
}

// printHead says what is asked and how it stands.
func (s *Solve) printHead(w io.Writer) {
	term.Wrap(w, "", "  ", "Wanted: "+s.wanted())
	term.Wrap(w, "", "  ", term.Sentence(volumeWords(s.Measure)))
	fmt.Fprintf(w, "At the base values %s\n", s.Standing())
}

// PrintAll prints every value for inputs that were asked for.
func (s *Solve) PrintAll(w io.Writer) {
	s.printHead(w)
	for i := range s.Solutions {
		x := &s.Solutions[i]
		unit := unitOf(s.model(), &x.Input)
		fmt.Fprintf(w, "\n%s, base value %s\n", inputLabel(s.model(), &x.Input), term.Figure(x.Input.Shown(x.Input.BaseValue)))
		fmt.Fprintf(w, "  search range %s to %s (%s)\n", term.Figure(x.Input.Shown(x.From)), term.Figure(x.Input.Shown(x.To)), x.Range)
		for _, line := range s.lines(x, unit) {
			fmt.Fprintf(w, "  %s\n", line)
		}
		if len(x.Input.ChangedBy) > 0 {
			fmt.Fprintf(w, "  the scenario %s changes this cell; the value takes the place of the change\n", strings.Join(x.Input.ChangedBy, ", "))
		}
	}
}

// lines says what was found for one input.
func (s *Solve) lines(x *study.Solution, unit string) []string {
	if unit != "" {
		unit = " " + unit
	}
	switch words := x.NotFound(); {
	case words == "":
	case x.Misses():
		return []string{words + ";", fmt.Sprintf("the nearest is %s%s, with %s %s %s", term.Figure(x.Input.Shown(x.Nearest)), unit,
			term.Grouped(math.Abs(x.Miss), s.Digits()), s.currency(), study.TooMuch(x.Miss))}
	default:
		return []string{words}
	}
	var out []string
	for _, root := range x.Roots {
		out = append(out, s.rootLine(x, root, unit))
	}
	return out
}

func (s *Solve) rootLine(x *study.Solution, root study.Root, unit string) string {
	value := term.GroupDigits(costmodel.ShownNumber(x.Input.Shown(root.Value)))
	if x.Input.IsVolume() {
		value = neighbours(root.Value)
	}
	switch {
	case root.Jump:
		return fmt.Sprintf("jumped over at %s%s: %s %s before it, %s after", value, unit, term.Signed(root.Below, s.Digits()+2), s.currency(),
			term.Signed(root.Above, s.Digits()+2))
	case root.Until > root.Value:
		return fmt.Sprintf("from %s to %s%s", value, term.Figure(x.Input.Shown(root.Until)), unit)
	}
	return fmt.Sprintf("%s%s%s", value, unit, changeWords(x.Input.BaseValue, root.Value))
}

// neighbours writes a volume that need not be whole by the whole volumes around it.
func neighbours(v float64) string {
	if math.Abs(v-math.Round(v)) < 1e-6 {
		return term.Volume(math.Round(v))
	}
	return fmt.Sprintf("%s to %s", term.Volume(math.Floor(v)), term.Volume(math.Ceil(v)))
}

// changeWords writes how far a value is from the base value's.
func changeWords(baseValue, value float64) string {
	change := (value/baseValue - 1) * 100
	if math.IsNaN(change) || math.IsInf(change, 0) {
		return ""
	}
	return fmt.Sprintf(", %s %% from the base value", term.Signed(change, 1))
}

// PrintEach prints a table of inputs in turn, the smallest change first.
func (s *Solve) PrintEach(w io.Writer) {
	s.printHead(w)
	fmt.Fprintln(w)
	t := &term.Table{}
	t.Add("Each input alone", "base value", "required value", "change")
	t.Line()
	shown, more, none := 0, 0, 0
	for i := range s.Solutions {
		x := &s.Solutions[i]
		root, ok := x.Closest()
		switch {
		case !ok:
			none++
		case s.Top > 0 && shown == s.Top:
			more++
		default:
			shown++
			t.Add(s.eachRow(x, root)...)
		}
	}
	if shown > 0 {
		t.Print(w)
	}
	counts := []string{}
	for _, c := range []struct {
		n    int
		text string
	}{{more, "need more change"}, {none, "can't within their range"}, {len(s.Dropped), "could not be tried"}} {
		if c.n > 0 {
			counts = append(counts, fmt.Sprintf("%d %s", c.n, c.text))
		}
	}
	if len(counts) > 0 {
		fmt.Fprintf(w, "Others: %s\n", strings.Join(counts, ", "))
	}
	fmt.Fprintln(w, "A range is the plausible one of the input, or wide where none is known;\n--input shows it with all values. + more than one value "+
		"does it,\n"+
		"j no value does it, a capacity step jumps over it there")
}

func (s *Solve) eachRow(x *study.Solution, root study.Root) []string {
	value := root.Nearest(x.Input.BaseValue)
	needed := term.Figure(x.Input.Shown(value))
	if u := unitOf(s.model(), &x.Input); u != "" {
		needed += " " + u
	}
	change := (value/x.Input.BaseValue - 1) * 100
	mark := "  "
	switch {
	case root.Jump:
		mark = " j"
	case len(x.Roots) > 1:
		mark = " +"
	}
	return []string{term.Cut(x.Input.Input.String(), 40), term.Figure(x.Input.Shown(x.Input.BaseValue)), needed, term.ShareText(change) + mark}
}

// CSV prints a line for each value found, of all inputs whatever Top says.
func (s *Solve) CSV(w io.Writer) {
	t := newCSV(w, "input", "unit", "base_value", "from", "to", "found", "value", "until", "below", "above")
	defer t.flush()
	for i := range s.Solutions {
		x := &s.Solutions[i]
		head := []any{x.Input.Input.String(), unitOf(s.model(), &x.Input), x.Input.Shown(x.Input.BaseValue), x.Input.Shown(x.From), x.Input.Shown(x.To)}
		if len(x.Roots) == 0 {
			t.row(append(head, noRoot(x), x.Input.Shown(x.Nearest), "", x.Miss, "")...)
		}
		for _, root := range x.Roots {
			row := append(head[:len(head):len(head)], kindOf(root), x.Input.Shown(root.Value), "", "", "")
			switch {
			case root.Jump:
				row[8], row[9] = root.Below, root.Above
			case root.Until > root.Value:
				row[7] = x.Input.Shown(root.Until)
			}
			t.row(row...)
		}
	}
}

func noRoot(x *study.Solution) string {
	if x.Idle {
		return "moves nothing"
	}
	return "nearest"
}

func kindOf(root study.Root) string {
	switch {
	case root.Jump:
		return "jump"
	case root.Until > root.Value:
		return "stretch"
	}
	return "value"
}
