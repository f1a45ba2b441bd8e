package costing

import (
	"math"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// crossover compares the scenarios over the range and with the tolerance of the command crossover.
func (s *run) crossover() error {
	if len(s.plans) < 2 {
		return nil
	}
	ask := study.CrossoverAsk{Tolerance: 0.005}
	ask.From, ask.To = study.VolumeSpan(s.m, s.plans)
	for _, q := range s.m.Asked(costmodel.AskCrossover) {
		if !math.IsNaN(q.First.From) {
			ask.From, ask.To = int(q.First.From), int(q.First.To)
		}
	}
	if ask.To-ask.From > mostCrossoverWork/max(1, s.steps) {
		return errTooMuch
	}
	told, end := s.progress.begin("cross-overs")
	defer end()
	ask.Progress = told
	c, err := study.Crossovers(s.ctx, s.plans, ask)
	if err != nil {
		return err
	}
	out := &scenarios.CrossoverStudy{Crossover: c, Tolerance: ask.Tolerance}
	for _, p := range s.plans {
		curve, err := p.SweepTold(s.ctx, curveVolumes(ask.From, ask.To), func(float64) {})
		if err != nil {
			return err
		}
		out.Curves = append(out.Curves, curve)
	}
	s.r.Crossover = out
	return nil
}

// curveVolumes goes from one volume to the other by ratio in numbers of three digits.
func curveVolumes(from, to int) []float64 {
	lo, hi := float64(from), float64(to)
	var out []float64
	for _, v := range costmodel.VolumeRange(lo, hi, 81) {
		scale := math.Pow(10, max(0, math.Floor(math.Log10(v))-2))
		if v = min(hi, max(lo, math.Round(v/scale)*scale)); len(out) == 0 || v > out[len(out)-1] {
			out = append(out, v)
		}
	}
	return out
}
