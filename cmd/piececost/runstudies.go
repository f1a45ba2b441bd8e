package main

import (
	"errors"
	"fmt"
	"io"
	"math"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// What a run spends on the studies of its sheets, in rows of work: a step costed once. Sums beyond it take longer than a
// person waits for a run, some seconds; their own commands do them.
const (
	mostCrossoverWork = 1_000_000_000  // volumes x steps; every whole volume of the range is costed at worst
	mostStabilityWork = 10_000_000_000 // cases x volumes x steps, where the sheet Studies asks for it
	mostMoved         = 1_000_000      // inputs x steps
	mostUnasked       = 40_000         // the same of levers, where the sheet Studies does not ask for them
	mostVolumeWork    = 10_000         // volumes x steps, each compiled anew
)

// errTooMuch says that a study is left to its own command.
var errTooMuch = errors.New("the case is too large for it within a run")

// runStudies makes the studies that have a sheet in the workbook.
type runStudies struct {
	m      *costmodel.Model
	plans  []*costmodel.Plan
	r      *scenarios.Result
	stderr io.Writer
	steps  int // of all scenarios
}

// add fills in the studies; one that can't be made is said and has no sheet.
func (s *runStudies) add(volumes []float64) error {
	for _, d := range s.r.Details {
		s.steps += len(d.Lines("operation"))
	}
	for _, of := range []struct {
		sheet, command string
		make           func() error
	}{
		{"Side by side", "compare", s.compare}, {"Cross-over", "crossover", s.crossover}, {"Cross-over stability", "crossover --stability", s.stability}, {"Sensitivity", "sensitivity", s.sensitivity},
		{"Cheapest map", "map", s.maps}, {"What must be true", "solve", s.solve},
		{"Cheapest combination", "combine", s.combine},
		{"Volumes and capacity", "volumes", func() error { return s.volumes(volumes) }},
	} {
		err := of.make()
		switch {
		case errors.Is(err, errStopped):
			return err
		case errors.Is(err, errTooMuch):
			fmt.Fprintf(s.stderr, "without the sheet %s: %v; `piececost %s` has no such limit\n", of.sheet, err, of.command)
		case err != nil:
			fmt.Fprintf(s.stderr, "without the sheet %s: %v\n", of.sheet, err)
		}
	}
	return nil
}

// crossover compares the scenarios over the range and with the tolerance of the command crossover.
func (s *runStudies) crossover() error {
	if len(s.plans) < 2 {
		return nil
	}
	ask := study.CrossoverAsk{Tolerance: 0.005}
	ask.From, ask.To = volumeSpan(s.m, s.plans)
	for _, q := range s.m.Asked(costmodel.AskCrossover) {
		if !math.IsNaN(q.First.From) {
			ask.From, ask.To = int(q.First.From), int(q.First.To)
		}
	}
	if ask.To-ask.From > mostCrossoverWork/max(1, s.steps) {
		return errTooMuch
	}
	w, stop := startWatch("cross-overs", s.stderr)
	defer stop()
	ask.Progress = w.report
	c, err := study.Crossovers(s.plans, ask)
	if err != nil {
		return err
	}
	out := &scenarios.CrossoverStudy{Crossover: c, Tolerance: ask.Tolerance}
	for _, p := range s.plans {
		curve, err := p.Sweep(curveVolumes(ask.From, ask.To))
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

// volumes views every scenario at each of the volumes, with the shares and shifts of the command volumes.
func (s *runStudies) volumes(volumes []float64) error {
	if len(volumes)*s.steps > mostVolumeWork {
		return errTooMuch
	}
	w, stop := startWatch("volumes", s.stderr)
	defer stop()
	out := &scenarios.VolumeStudy{Share: 0.2}
	for i, p := range s.plans {
		v, err := study.ViewVolumes(p, volumes, study.VolumeOptions{Share: out.Share, Shifts: []float64{1, 2, 3}}, func() error {
			return w.report(float64(i) / float64(len(s.plans)))
		})
		if err != nil {
			return err
		}
		out.Views = append(out.Views, v)
	}
	s.r.Volumes = out
	return nil
}
