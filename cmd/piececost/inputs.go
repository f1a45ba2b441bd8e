package main

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
)

// axisOf reads from:to:points, with :ratio or :even behind; without a text the usual axis. Steps go by ratio without a word
// where the range spans more than a decade.
func axisOf(m *costmodel.Model, v *costmodel.Varied, flag, text string, points int) (study.Axis, error) {
	if text == "" {
		a, ok := study.UsualAxis(m, v, points)
		if !ok {
			return a, fmt.Errorf("%s has no base value above 0; give --%s-range", v.Input, flag)
		}
		return a, nil
	}
	parts := strings.Split(text, ":")
	bad := fmt.Errorf("--%s-range is %q, wanted is from:to:points, such as 5000:300000:12 or 0.5:1.5:11:even", flag, text)
	if len(parts) < 3 || len(parts) > 4 {
		return study.Axis{}, bad
	}
	var n [2]float64
	for i := range n {
		var err error
		if n[i], err = strconv.ParseFloat(strings.TrimSpace(parts[i]), 64); err != nil || math.IsNaN(n[i]) {
			return study.Axis{}, bad
		}
		if !costmodel.PossibleNumber(n[i]) {
			return study.Axis{}, fmt.Errorf("--%s-range has %s; check the number and its unit", flag, costmodel.Beyond(n[i]))
		}
	}
	count, err := strconv.Atoi(strings.TrimSpace(parts[2]))
	if err != nil {
		return study.Axis{}, bad
	}
	a := study.Axis{From: n[0], To: n[1], Points: count, ByRatio: n[0] > 0 && n[1]/n[0] >= 10}
	if len(parts) == 4 {
		if a.ByRatio = parts[3] == "ratio"; !a.ByRatio && parts[3] != "even" {
			return study.Axis{}, bad
		}
	}
	return a, nil
}

// axesOf makes the axes of two inputs from the flags of their ranges.
func axesOf(m *costmodel.Model, xRange, yRange string, points [2]int) study.AxisOf {
	return func(which int, v *costmodel.Varied) ([]float64, error) {
		flag := []string{"x", "y"}[which]
		a, err := axisOf(m, v, flag, []string{xRange, yRange}[which], points[which])
		if err != nil {
			return nil, err
		}
		values, err := a.Values()
		if err != nil {
			return nil, fmt.Errorf("--%s-range: %w", flag, err)
		}
		return values, nil
	}
}

// pairNamed reads the two inputs of a map or table.
func pairNamed(x, y string) (a, b costmodel.Input, err error) {
	inputs, err := inputsNamed([]string{x, y})
	if err != nil {
		return a, b, err
	}
	return inputs[0], inputs[1], nil
}

// axisError turns what is wrong with the axes of the command line into wrong usage; being stopped is none.
func axisError(err error) error {
	if stopped(err) {
		return err
	}
	var d table.Diagnostic
	if errors.As(err, &d) {
		return inputError(table.Diagnostics{d})
	}
	return usageError{err}
}

// inputsNamed reads inputs of the command line.
func inputsNamed(texts []string) ([]costmodel.Input, error) {
	var out []costmodel.Input
	for _, text := range texts {
		in, err := costmodel.ParseInput(text)
		if err != nil {
			return nil, usageError{err}
		}
		out = append(out, in)
	}
	return out, nil
}

// inputError turns findings about inputs of the command line into wrong usage.
func inputError(ds table.Diagnostics) error {
	return usageError{errors.New(ds[0].Words())}
}

// checkStudyFlags checks the flags that solve, sensitivity and map share.
func checkStudyFlags(cmd *cobra.Command, volume float64, top int) error {
	switch {
	case cmd.Flags().Changed("volume") && !costmodel.PossibleVolume(volume):
		return impossibleVolume(volume)
	case top < 0:
		return fmt.Errorf("--top must be 0 or more")
	}
	return nil
}

// shareOf reads "10%" or "0.1".
func shareOf(text string) (float64, error) {
	number, percent := strings.CutSuffix(strings.TrimSpace(text), "%")
	v, err := strconv.ParseFloat(strings.TrimSpace(number), 64)
	if percent {
		v /= 100
	}
	if err != nil || !(v > 0 && v < 1) {
		return 0, fmt.Errorf("--range is %q, wanted is a share such as 10%%", text)
	}
	return v, nil
}
