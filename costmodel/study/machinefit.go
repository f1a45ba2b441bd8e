package study

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// machineKind stands before the key of a row of Machines in the Kind of a fit of its price relation.
const machineKind = "machine "

// FitMachines fits the price relations of the sheet Machine relations to the sheet Past machines, a row of Machines at a time: a base price and a price per
// size, neither below 0. A row of several that were bought at the price counts as many times. The error is for options that name nothing, or that of ctx.
func FitMachines(ctx context.Context, m *costmodel.Model, o ToolFitOptions) ([]*ToolFit, error) {
	var keys []string
	for _, p := range m.PastMachines() {
		if !slices.Contains(keys, p.Kind) {
			keys = append(keys, p.Kind)
		}
	}
	if len(keys) == 0 {
		return nil, fmt.Errorf("the workbook has no past machines; fill the sheet Past machines: a machine a row, with Machine, Price and its size")
	}
	var out []*ToolFit
	for _, key := range keys {
		if len(o.Kinds) > 0 && !slices.ContainsFunc(o.Kinds, func(k string) bool { return namesMachine(k, key) }) {
			continue
		}
		f, err := fitMachine(ctx, m, key, o)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no past machine is of %s; the machines of the sheet Past machines are %s", strings.Join(o.Kinds, ", "),
			strings.Join(keys, ", "))
	}
	return out, nil
}

func namesMachine(kind, key string) bool {
	return table.Normalise(kind) == table.Normalise(key) || table.Normalise(kind) == table.Normalise(machineKind+key)
}

// fitMachine fits the relation of a row of Machines: the price is the base price once and the price per size as often as the machine is large.
func fitMachine(ctx context.Context, m *costmodel.Model, key string, o ToolFitOptions) (*ToolFit, error) {
	f := &ToolFit{Kind: machineKind + key, Machine: key}
	var past []*costmodel.PastMachine
	for _, x := range m.PastMachines() {
		if x.Kind == key {
			past, f.Tools = append(past, x), append(f.Tools, &x.PastTool)
		}
	}
	all := m.MachineCoefficients(past[0].Machine)
	if err := f.choose(all, o.Coefficients); err != nil {
		return nil, err
	}
	sums := make([]costmodel.ToolSum, len(past))
	for i, x := range past {
		sums[i].Tool = &x.PastTool
		times := map[string]float64{all[0].Name: 1, all[1].Name: x.Size}
		for _, c := range f.Chosen {
			sums[i].Times = append(sums[i].Times, times[c.Name])
			times[c.Name] = 0
		}
		for _, c := range all {
			sums[i].Rest += c.Value * times[c.Name]
		}
	}
	p := f.problem(sums, o)
	p.Of = "machine price"
	for i, x := range past {
		p.Rows[i].Weight = math.Sqrt(x.Count)
	}
	return f, f.solve(ctx, p)
}
