package study

import (
	"fmt"
	"math"

	"piececost/costmodel"
)

// A ShiftOption is a scenario at a volume with a number of shifts per day in every plant.
type ShiftOption struct {
	Shifts     float64
	Given      bool // it is what the plants have
	PieceCost  float64
	OwnLines   float64 // whole lines bought for the product
	Investment float64 // product-specific equipment and tools
	Possible   bool
	Reasons    []string // why it is not possible
	Crowded    []string // shared machines that the product alone would fill beyond one line
}

// ShiftPlans are a scenario compiled for several numbers of shifts. Whatever follows from the shifts in the case follows
// here: planned hours, whole lines, and a wage that is an expression of them (shifts > 2 ? 41 : 38).
type ShiftPlans struct {
	shifts []float64
	given  float64 // of the scenario's plant
	plans  []*costmodel.Plan
}

// CompileShifts compiles a scenario for each number of shifts.
func CompileShifts(p *costmodel.Plan, shifts []float64) (*ShiftPlans, error) {
	out := &ShiftPlans{shifts: shifts, given: GivenShifts(p)}
	for _, n := range shifts {
		q, ds := p.With(costmodel.Fixed{Scope: "plant", Quantity: "shifts", Row: costmodel.AllRows, Value: n})
		if err := refused(q, ds); err != nil {
			return nil, fmt.Errorf("with %g shifts: %w", n, err)
		}
		out.plans = append(out.plans, q)
	}
	return out, nil
}

// GivenShifts returns the shifts per day that the plants in use have, NaN where they differ.
func GivenShifts(p *costmodel.Plan) float64 {
	given := math.NaN()
	for i, l := range p.Detail(p.Scenario.Volume).Entries("plant") {
		v, ok := l.Value("shifts")
		switch {
		case !ok:
		case i > 0 && v != given:
			return math.NaN()
		default:
			given = v
		}
	}
	return given
}

// At costs a volume with each number of shifts; cheapest is the index of the possible one that costs least, the first of
// equals, or -1. Shared machines are taken as filled by others to the planned capacity utilisation, however many shifts are worked.
func (s *ShiftPlans) At(volume float64) (options []ShiftOption, cheapest int) {
	cheapest = -1
	for i, p := range s.plans {
		o := shiftOption(p.Detail(volume), s.shifts[i])
		o.Given = s.shifts[i] == s.given
		options = append(options, o)
		if o.Possible && (cheapest < 0 || o.PieceCost < options[cheapest].PieceCost && !p.Model.Schema.Comparison.SameCost(o.PieceCost,
			options[cheapest].PieceCost)) {
			cheapest = i
		}
	}
	return options, cheapest
}

// shiftOption judges a detail by checks of the library: all shifts find room in a day, whole lines that are given as a number do not grow, and a shared
// machine that the product alone would fill is not shared any more.
func shiftOption(d *costmodel.Detail, shifts float64) ShiftOption {
	s := d.Scenario()
	o := ShiftOption{Shifts: shifts, PieceCost: s.Must("piece_cost"), OwnLines: CapacityOf(d).OwnLines,
		Investment: s.Must("product_specific_equipment_investment") + s.Must("tooling_investment"), Possible: true}
	for _, p := range d.Entries("plant") {
		for range p.Breaks(costmodel.DayRule) {
			o.Possible = false
			hours, unit, _ := p.In("paid_hours_per_shift")
			o.Reasons = append(o.Reasons, fmt.Sprintf("%g shifts of %g %s are more than a day", shifts, hours, unit))
		}
	}
	for _, short := range Shortages(d) {
		if short.Stops() {
			o.Possible = false
			o.Reasons = append(o.Reasons, short.String())
		}
	}
	for _, m := range CapacityOf(d).Machines {
		if m.Own == 0 && beyond(m.Load, 1) {
			o.Crowded = append(o.Crowded, m.Key)
		}
	}
	return o
}
