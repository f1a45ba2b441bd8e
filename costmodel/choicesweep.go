package costmodel

import (
	"context"
	"strings"
)

// A ChosenSweep is a sweep for which machines were chosen anew at each volume.
type ChosenSweep struct {
	*Sweep
	Machines [][]*Choice    // at each volume, in the order of the operations
	Changes  []ChoiceChange // in the order of the volumes
}

// A ChoiceChange is an operation that gets another machine at a volume than at the one before it.
type ChoiceChange struct {
	Volume    float64
	Operation *Record
	From, To  *Record
}

// SweepChosen costs the volumes, each with the machines that cost least there. It ends with the error of the context once that is done; what
// fits no machine at a volume is an error.
func (p *Plan) SweepChosen(ctx context.Context, volumes []float64) (*ChosenSweep, error) {
	out := &ChosenSweep{Sweep: &Sweep{Scenario: p.Scenario, Volumes: volumes, Columns: make([][]float64, len(p.Model.Schema.sweepQuantities()))}}
	plans := map[string]*Plan{}
	var before []*Choice
	for _, v := range volumes {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		chosen, ds := p.Model.Choose(p.Scenario, v)
		if ds.HasErrors() {
			return nil, ds
		}
		s := p.Scenario.WithChoice(chosen)
		list := s.Choices(p.Model)
		key := keyOfChoices(list)
		if plans[key] == nil {
			made, ds := p.Model.Compile(s, p.options)
			if made == nil {
				return nil, ds
			}
			plans[key] = made
		}
		at, err := plans[key].Sweep([]float64{v})
		if err != nil {
			return nil, err
		}
		for i, col := range at.Columns {
			out.Columns[i] = append(out.Columns[i], col[0])
		}
		out.Machines = append(out.Machines, list)
		for i, c := range list {
			if before != nil && before[i].Machine != c.Machine {
				out.Changes = append(out.Changes, ChoiceChange{v, c.Operation, before[i].Machine, c.Machine})
			}
		}
		before = list
	}
	return out, nil
}

// keyOfChoices is the same for choices of the same machines.
func keyOfChoices(list []*Choice) string {
	var b strings.Builder
	for _, c := range list {
		b.WriteString(c.Operation.Key + "=" + c.Machine.Key + "\n")
	}
	return b.String()
}
