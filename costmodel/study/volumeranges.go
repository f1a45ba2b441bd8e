package study

import (
	"math"

	"piececost/costmodel"
)

// VolumeSpan is the range of whole annual volumes in which to look for cross-overs where none is given: from a tenth of the
// smallest to three times the largest volume of the scenarios, and as far as the sheet Volumes does.
func VolumeSpan(m *costmodel.Model, plans []*costmodel.Plan) (from, to int) {
	lo, hi := math.Inf(1), 0.0
	for _, p := range plans {
		lo, hi = min(lo, p.Scenario.Volume/10), max(hi, 3*p.Scenario.Volume)
	}
	if n := len(m.Volumes); n > 0 {
		lo, hi = min(lo, m.Volumes[0]), max(hi, m.Volumes[n-1])
	}
	from = int(min(max(1, math.Ceil(lo)), costmodel.MostVolume-1))
	return from, max(from+1, int(min(hi, costmodel.MostVolume)))
}

// UsualVolumes are the annual volumes to cost where none are asked for: those of the sheet Volumes, else roundVolumes.
func UsualVolumes(m *costmodel.Model, plans []*costmodel.Plan) []float64 {
	if len(m.Volumes) > 0 {
		return m.Volumes
	}
	return roundVolumes(plans)
}

// roundVolumes goes from a tenth to three times the scenarios' own volumes in round numbers.
func roundVolumes(plans []*costmodel.Plan) []float64 {
	lo, hi := plans[0].Scenario.Volume, plans[0].Scenario.Volume
	for _, p := range plans {
		lo, hi = min(lo, p.Scenario.Volume), max(hi, p.Scenario.Volume)
	}
	var out []float64
	for _, v := range costmodel.VolumeRange(max(1, lo/10), 3*hi, 10) {
		scale := math.Pow(10, max(0, math.Floor(math.Log10(v))-1))
		if v = math.Round(v/scale) * scale; len(out) == 0 || v > out[len(out)-1] {
			out = append(out, v)
		}
	}
	return out
}

// EachAgainst pairs one of so many scenarios with each of the others.
func EachAgainst(count, against int) [][2]int {
	var out [][2]int
	for i := range count {
		if i != against {
			out = append(out, [2]int{against, i})
		}
	}
	return out
}
