package study

import (
	"fmt"
	"math"

	"piececost/costmodel"
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
		for _, l := range d.Lines(w.scope) {
			if v, ok := l.Value(w.quantity); ok {
				fix = append(fix, l.Fix(w.quantity, v))
			}
		}
	}
	p, ds := d.Plan.With(fix...)
	return p, refused(p, ds)
}

// refused returns the first error of a compilation that gave no plan.
func refused(p *costmodel.Plan, ds costmodel.Diagnostics) error {
	if p != nil {
		return nil
	}
	for _, d := range ds {
		if d.Severity == costmodel.Error {
			return d
		}
	}
	return fmt.Errorf("the scenario can't be compiled")
}

// A Shortage is a count that is too small for the volume.
type Shortage struct {
	Row    string // key of the machine or step
	Kind   string // pool, dedicated, tools (at work at once), wear (tools worn out before the programme ends)
	Needed float64
	Has    float64
	Words  string
}

// Stops tells whether the volume can't be made. Worn tools can be bought in time.
func (s Shortage) Stops() bool { return s.Kind != "wear" }

// Shortages lists where the counts of a detail do not suffice for its volume: none where the equations count, some where
// counts are frozen or given.
func Shortages(d *costmodel.Detail) []Shortage {
	var out []Shortage
	add := func(row, kind string, needed, has float64, words string) {
		if needed > has*(1+1e-9) {
			out = append(out, Shortage{row, kind, needed, has, fmt.Sprintf(words, needed, has)})
		}
	}
	several := severalPlants(d)
	for _, m := range d.Lines("machine") {
		hours, ok := m.Value("pool_hours")
		if plant, has := m.Follow("plant"); ok && has && hours > 0 {
			add(machineKey(m, several), "pool", hours/plant.Must("planned_hours"), m.Must("pool_machines"), "its pooled steps need %.2f lines, %.0f installed")
		}
	}
	for _, s := range d.Lines("operation") {
		plant, has := s.Follow("plant")
		if !has {
			continue
		}
		need, key := s.Must("required_hours")/plant.Must("planned_hours"), s.Record().Key
		if s.Choice("charging_rule") == "dedicated" {
			add(key, "dedicated", need, s.Must("dedicated_machines"), "needs %.2f lines, %.0f installed")
		}
		if price, _ := s.Value("tool_price"); price > 0 {
			sets := s.Must("tool_sets")
			add(key, "tools", need, sets, "needs %.2f tool sets at work at once, %.0f there")
			if life, ok := s.Value("tool_life"); ok && life > 0 {
				add(key, "wear", s.Must("programme_cycles")/life, sets, "wears out %.2f tool sets over the programme, %.0f there")
			}
		}
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

// NextPiece returns the marginal cost of one more piece a year at a volume: annual cost at volume + 1 less that at volume,
// with whatever whole line, tool set, batch or crew shift the piece calls for.
func NextPiece(p *costmodel.Plan, volume float64) float64 {
	return p.Detail(volume+1).Scenario().Must("annual_cost") - p.Detail(volume).Scenario().Must("annual_cost")
}

// A Jump is a whole count that a piece more raises.
type Jump struct {
	Row, Count string // key; what is counted
	From, To   float64
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
		after := to.Lines(w.scope)
		for i, l := range from.Lines(w.scope) {
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
