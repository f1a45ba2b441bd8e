package costmodel

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"go.yaml.in/yaml/v3"

	"piececost/costmodel/units"
)

// An Interval is a range of numbers, its ends included or not, written as ISO 80000-2 does: [0, 100), (0, 1e6]. The zero
// Interval is none.
type Interval struct {
	low, high         float64
	openLow, openHigh bool // the end itself is outside
	set               bool
}

// Known tells whether there is a range.
func (in Interval) Known() bool { return in.set }

// UnmarshalYAML reads [0, 10], or in quotation marks "(0, 10]".
func (in *Interval) UnmarshalYAML(n *yaml.Node) error {
	text := n.Value
	if n.Kind == yaml.SequenceNode && len(n.Content) == 2 {
		text = "[" + n.Content[0].Value + "," + n.Content[1].Value + "]"
	}
	low, high, ok := strings.Cut(text, ",")
	if !ok || len(low) < 2 || len(high) < 2 || !strings.ContainsRune("[(", rune(low[0])) || !strings.ContainsRune("])", rune(high[len(high)-1])) {
		return fmt.Errorf("a range is written [0, 10] or \"(0, 10]\"")
	}
	var errLow, errHigh error
	in.low, errLow = strconv.ParseFloat(strings.TrimSpace(low[1:]), 64)
	in.high, errHigh = strconv.ParseFloat(strings.TrimSpace(high[:len(high)-1]), 64)
	if errLow != nil || errHigh != nil || !(in.low < in.high) || math.IsInf(in.high-in.low, 0) {
		return fmt.Errorf("the ends of a range are two numbers, the lower first")
	}
	in.openLow, in.openHigh, in.set = low[0] == '(', high[len(high)-1] == ')', true
	return nil
}

// slack lets a value that a conversion of units moved by its last digits count as the end of the range that it is.
const slack = 1e-9

// coherent is a range whose ends are written in a unit, in coherent values; shown is the way back.
func (in Interval) coherent(u units.Unit) Interval {
	in.low, in.high = u.Coherent(in.low), u.Coherent(in.high)
	return in
}

func (in Interval) shown(u units.Unit) Interval {
	in.low, in.high = u.Shown(in.low), u.Shown(in.high)
	return in
}

// Contains tells whether a value lies in the range; no number lies in none.
func (in Interval) Contains(v float64) bool {
	low := in.low - slack*math.Abs(in.low)
	high := in.high + slack*math.Abs(in.high)
	return v >= low && v <= high && !(in.openLow && v == in.low) && !(in.openHigh && v >= in.high*(1-slack))
}

// demand says what a value outside must be, with a unit to follow the number: "above 0", "at most 100 %".
func (in Interval) demand(v float64, unit string) string {
	end, words := in.high, "at most "
	switch {
	case !(v > in.low):
		if end, words = in.low, "at least "; in.openLow {
			words = "above "
		}
	case in.openHigh:
		words = "below "
	}
	if end == 0 {
		unit = ""
	}
	return words + shortNumber(end) + unit
}

// shortNumber writes a bound with at most six digits.
func shortNumber(v float64) string { return ShownNumber(short(v)) }

// Bounds writes the range as templates do, for help: "(0, 100]".
func (in Interval) Bounds() string {
	open, closed := "[", "]"
	if in.openLow {
		open = "("
	}
	if in.openHigh {
		closed = ")"
	}
	return open + shortNumber(in.low) + ", " + shortNumber(in.high) + closed
}
