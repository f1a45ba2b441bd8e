package study

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// Whole counts that capital is paid for: lines of a pool, lines of a step, tool sets. Batches, refurbishments and crew
// shifts are whole too, but they follow the volume without an investment.
var wholeCapital = []struct{ scope, quantity string }{
	{"machine", "pool_machines"}, {"operation", "dedicated_machines"}, {"operation", "tool_sets"},
}

// Freeze compiles a detail's scenario once more with the capacity that is installed at the detail's volume: whole lines
// and tool sets stay what they are there at every volume. Shared machines stay paid by the hour, since others use the
// rest of them.
func Freeze(d *costmodel.Detail) (*costmodel.Plan, error) {
	var fix []costmodel.Fixed
	for _, w := range wholeCapital {
		for _, l := range d.Entries(w.scope) {
			if v, ok := l.Value(w.quantity); ok {
				fix = append(fix, l.Fix(w.quantity, v))
			}
		}
	}
	p, ds := d.Plan.With(fix...)
	return p, refused(p, ds)
}

// refused returns the first error of a compilation that gave no plan.
func refused(p *costmodel.Plan, ds table.Diagnostics) error {
	if p != nil {
		return nil
	}
	return ds.First("the scenario can't be compiled")
}

// A Shortage is a count that is too small for the volume.
type Shortage struct {
	Row    string // key of the machine or step
	Kind   string // pool, dedicated, tools (at work at once), wear (tools worn out before the programme ends)
	Needed float64
	Has    float64
}

// Stops tells whether the volume can't be made. Worn tools can be bought in time.
func (s Shortage) Stops() bool { return s.Kind != "wear" }

// String says what is short: "E11 needs 4.74 lines, has 4".
func (s Shortage) String() string {
	what, ok := map[string]string{"pool": "lines", "dedicated": "lines", "tools": "tool sets", "wear": "tool sets over the programme"}[s.Kind]
	if !ok {
		panic("no shortage is called " + s.Kind)
	}
	return fmt.Sprintf("%s needs %.2f %s, has %.0f", s.Row, s.Needed, what, s.Has)
}

// ShortWords lists what stops the volume.
func ShortWords(list []Shortage) string {
	var out []string
	for _, s := range list {
		if s.Stops() {
			out = append(out, s.String())
		}
	}
	return strings.Join(out, "; ")
}

// Shortages lists where the counts of a detail do not suffice for its volume: none where the equations count, some where
// counts are frozen or given. The conditions are checks of the library.
func Shortages(d *costmodel.Detail) []Shortage {
	var out []Shortage
	add := func(l costmodel.Entry, key string, rules ...costmodel.Rule) {
		for _, rule := range rules {
			for _, b := range l.Breaks(rule) {
				out = append(out, Shortage{key, string(rule), b.Needs, b.Has})
			}
		}
	}
	several := severalPlants(d)
	for _, m := range d.Entries("machine") {
		add(m, machineKey(m, several), costmodel.PoolRule)
	}
	for _, s := range d.Entries("operation") {
		add(s, s.Record().Key, costmodel.DedicatedRule, costmodel.ToolsRule, costmodel.WearRule)
	}
	return out
}

// An Installed is the cost at another volume with the capacity of a first one.
type Installed struct {
	Volume     float64
	AnnualCost float64
	PieceCost  float64
	Shortages  []Shortage // with any that stops, the cost is notional: as if the lines could run longer hours at no premium
}

// Possible tells whether the installed capacity makes the volume.
func (i Installed) Possible() bool {
	for _, s := range i.Shortages {
		if s.Stops() {
			return false
		}
	}
	return true
}

// InstalledAt costs a volume on a frozen plan.
func InstalledAt(frozen *costmodel.Plan, volume float64) Installed {
	d := frozen.Detail(volume)
	s := d.Scenario()
	return Installed{Volume: volume, AnnualCost: s.Must("annual_cost"), PieceCost: s.Must("piece_cost"), Shortages: Shortages(d)}
}

// NextPiece is the marginal cost of one more piece per year: the annual cost of the detail at volume + 1 less that at volume,
// with whatever whole line, tool set, batch or crew shift the piece calls for.
func NextPiece(at, next *costmodel.Detail) float64 {
	return next.Scenario().Must("annual_cost") - at.Scenario().Must("annual_cost")
}

// A Jump is a whole count that a piece more raises.
type Jump struct {
	Row, Count string // key; what is counted
	From, To   float64
}

// String says what is raised: "E11 lines 4 to 5".
func (j Jump) String() string { return fmt.Sprintf("%s %s %.0f to %.0f", j.Row, j.Count, j.From, j.To) }

// JumpWords lists what is raised.
func JumpWords(jumps []Jump) string {
	var out []string
	for _, j := range jumps {
		out = append(out, j.String())
	}
	return strings.Join(out, "; ")
}

// wholeCounts are all whole counts, with their names for a person.
var wholeCounts = []struct{ scope, quantity, words string }{
	{"machine", "pool_machines", "lines"}, {"machine", "pool_crew_shifts", "crew shifts"}, {"operation", "dedicated_machines", "lines"},
	{"operation", "tool_sets", "tool sets"}, {"operation", "refurbishments", "refurbishments"}, {"operation", "batches", "batches"},
}

// Jumps lists the whole counts that differ between two details of a plan.
func Jumps(from, to *costmodel.Detail) []Jump {
	var out []Jump
	several := severalPlants(from)
	for _, w := range wholeCounts {
		after := to.Entries(w.scope)
		for i, l := range from.Entries(w.scope) {
			a, ok := l.Value(w.quantity)
			b, _ := after[i].Value(w.quantity)
			if !ok || math.Abs(a-b) < 1e-9 {
				continue
			}
			key := l.Record().Key
			if w.scope == "machine" {
				key = machineKey(l, several)
			}
			out = append(out, Jump{key, w.words, a, b})
		}
	}
	return out
}
