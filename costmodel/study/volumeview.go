package study

import (
	"context"

	"piececost/costmodel"
)

// A VolumePoint is what a scenario takes and costs at an annual volume.
type VolumePoint struct {
	Volume   float64
	Capacity Capacity
	Tooling  float64 // investment, model currency
	Own      float64 // investment in product-specific equipment
	Cost     float64 // of a piece
	Annual   float64 // annual cost
	Next     float64 // marginal cost of the next piece
	Jumps    []Jump  // whole counts that the next piece raises
	Less     Installed
	More     Installed
	Shifts   []ShiftOption
	Cheapest int // of Shifts, -1 where none is possible
}

// A VolumeView is a scenario over volumes.
type VolumeView struct {
	Scenario string
	Points   []VolumePoint
	Pools    []PoolAlert // each said once
}

// VolumeOptions say what a volume view varies.
type VolumeOptions struct {
	Share  float64   // of the volume, by which it may fall and rise on the installed capacity: 0.2
	Shifts []float64 // shifts per day to try
}

// ViewVolumes shows a scenario at each of the volumes. Between two of them it ends once ctx is done.
func ViewVolumes(ctx context.Context, p *costmodel.Plan, volumes []float64, o VolumeOptions, progress Progress) (*VolumeView, error) {
	shifts, err := CompileShifts(p, o.Shifts)
	if err != nil {
		return nil, err
	}
	v := &VolumeView{Scenario: p.Scenario.Name}
	seen := map[string]int{}
	for i, n := range volumes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		d := p.Detail(n)
		point, err := volumePoint(d, o.Share)
		if err != nil {
			return nil, err
		}
		point.Shifts, point.Cheapest = shifts.At(n)
		v.Points = append(v.Points, point)
		for _, a := range PoolAlerts(d) {
			v.note(a, n, seen)
		}
		progress.Tell(float64(i+1) / float64(len(volumes)))
	}
	return v, nil
}

// note keeps an alert, or widens the volumes at which it was seen.
func (v *VolumeView) note(a PoolAlert, volume float64, seen map[string]int) {
	key := a.Kind + " " + a.Machine
	at, ok := seen[key]
	if !ok {
		a.From, a.To = volume, volume
		seen[key] = len(v.Pools)
		v.Pools = append(v.Pools, a)
		return
	}
	p := &v.Pools[at]
	p.From, p.To = min(p.From, volume), max(p.To, volume)
}

func volumePoint(d *costmodel.Detail, share float64) (VolumePoint, error) {
	s := d.Scenario()
	next := d.Plan.Detail(d.Volume + 1)
	out := VolumePoint{
		Volume: d.Volume, Capacity: CapacityOf(d), Cost: s.Must("piece_cost"), Annual: s.Must("annual_cost"),
		Tooling: s.Must("tooling_investment"), Own: s.Must("product_specific_equipment_investment"),
		Next: NextPiece(d, next), Jumps: Jumps(d, next),
	}
	frozen, err := Freeze(d)
	if err != nil {
		return out, err
	}
	out.Less, out.More = InstalledAt(frozen, d.Volume*(1-share)), InstalledAt(frozen, d.Volume*(1+share))
	return out, nil
}
