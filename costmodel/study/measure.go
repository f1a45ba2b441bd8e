package study

import (
	"context"
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A Measure is what is asked about: the piece cost of a scenario, or how much more it costs than another one.
type Measure struct {
	Model    *costmodel.Model
	Scenario *costmodel.Scenario
	Against  *costmodel.Scenario // nil for the scenario alone
	Volume   float64             // 1/yr for both; 0 for each one's own
	Progress Progress            // of a long search
	// ContinuousBatches takes the number of batches as a fraction, as in CompileOptions.
	ContinuousBatches bool
	PayMass           bool // a saved kilogram counts at the value of the sheet Case: cost + value x net mass
}

// Name says what the measure is: "piece cost of A", "piece cost of C less that of A".
func (m Measure) Name() string {
	what := "piece cost"
	if m.PayMass {
		what = "piece cost plus value of mass"
	}
	text := fmt.Sprintf("%s of %s", what, m.Scenario.Name)
	if m.Against != nil {
		text += " less that of " + m.Against.Name
	}
	return text
}

// AllInputs lists what the measure rests on: the inputs of the scenario, then those that only the other one has.
func (m Measure) AllInputs() ([]costmodel.Input, table.Diagnostics) {
	return m.inputs(func(*costmodel.Varied) bool { return true })
}

// Levers lists the inputs that may be tried one by one: those of AllInputs that neither nature nor the design fixes, such as
// densities and the counts of the bill of materials.
func (m Measure) Levers() ([]costmodel.Input, table.Diagnostics) {
	return m.inputs(func(v *costmodel.Varied) bool { return v.Lever })
}

func (m Measure) inputs(wanted func(*costmodel.Varied) bool) ([]costmodel.Input, table.Diagnostics) {
	seen := map[costmodel.Input]bool{}
	var out []costmodel.Input
	for _, s := range m.scenarios() {
		p, ds := m.Model.Compile(s, costmodel.CompileOptions{})
		if p == nil {
			return nil, ds.Errors()
		}
		for _, v := range p.Inputs() {
			if !seen[v.Input] && wanted(&v) {
				seen[v.Input] = true
				out = append(out, v.Input)
			}
		}
	}
	return out, nil
}

// Respond compiles a measure for the given inputs. One that is wrong, or can't be varied together with those before it, is
// left out and listed in Dropped, and why is among the findings; with none left there is no response.
func (m Measure) Respond(inputs []costmodel.Input) (*Response, table.Diagnostics) {
	if r, ds := m.response(inputs, nil); r != nil {
		return r, ds
	}
	var kept []costmodel.Input
	var dropped []string
	var all table.Diagnostics
	m.separate(inputs, &kept, func(in costmodel.Input, ds table.Diagnostics) {
		all = append(all, ds...)
		dropped = append(dropped, fmt.Sprintf("%s: %s", in, ds[0].Summary))
	})
	if len(kept) == 0 {
		return nil, all.Sorted()
	}
	r, ds := m.response(kept, dropped)
	return r, append(ds, all.Sorted()...)
}

// RespondAll responds to all inputs that are numbers.
func (m Measure) RespondAll(ctx context.Context) (*Response, table.Diagnostics) {
	inputs, ds := m.AllInputs()
	if len(ds) > 0 {
		return nil, ds
	}
	responses, ds := m.RespondApart(ctx, inputs)
	if len(responses) == 0 {
		return nil, ds
	}
	return responses[0], ds
}

// RespondApart is Respond for inputs that are moved one at a time: a quantity that is computed at the base values is a column of its own
// response, since as a column it would keep the others from moving what they move through it. Those that are numbers come
// first, all in one response; there is none without any input left. Each is compiled by itself; once ctx is done, no more are.
func (m Measure) RespondApart(ctx context.Context, inputs []costmodel.Input) ([]*Response, table.Diagnostics) {
	all, ds := m.Respond(inputs)
	if all == nil {
		return nil, ds
	}
	var plain, computed []costmodel.Input
	for i := range all.Inputs {
		if v := &all.Inputs[i]; v.Computed {
			computed = append(computed, v.Input)
		} else {
			plain = append(plain, v.Input)
		}
	}
	if len(computed) == 0 || len(all.Inputs) == 1 {
		return []*Response{all}, ds
	}
	var out []*Response
	if len(plain) > 0 {
		out = append(out, m.apart(plain, &ds)...)
	}
	for _, in := range computed {
		if ctx.Err() != nil {
			break
		}
		out = append(out, m.apart([]costmodel.Input{in}, &ds)...)
	}
	if len(out) > 0 {
		out[0].Dropped = append(out[0].Dropped, all.Dropped...)
	}
	return out, ds
}

// apart responds to inputs; what is wrong is added to the findings.
func (m Measure) apart(inputs []costmodel.Input, ds *table.Diagnostics) []*Response {
	r, more := m.Respond(inputs)
	*ds = append(*ds, more...)
	if r == nil {
		return nil
	}
	return []*Response{r}
}

// separate halves a list until what can't be varied stands alone.
func (m Measure) separate(inputs []costmodel.Input, kept *[]costmodel.Input, drop func(costmodel.Input, table.Diagnostics)) {
	trial := append(append([]costmodel.Input(nil), *kept...), inputs...)
	ds := m.compile(trial, nil)
	switch {
	case ds == nil:
		*kept = trial
	case len(inputs) == 1:
		drop(inputs[0], ds)
	default:
		m.separate(inputs[:len(inputs)/2], kept, drop)
		m.separate(inputs[len(inputs)/2:], kept, drop)
	}
}

// compile compiles the sides; nil says that it went well.
func (m Measure) compile(inputs []costmodel.Input, plans *[]*costmodel.Plan) table.Diagnostics {
	for _, s := range m.scenarios() {
		p, ds := m.Model.Compile(s, costmodel.CompileOptions{Vary: inputs, ContinuousBatches: m.ContinuousBatches})
		if p == nil {
			return append(append(table.Diagnostics(nil), m.Model.Diagnostics...), ds...).Errors()
		}
		if plans != nil {
			*plans = append(*plans, p)
		}
	}
	return nil
}

func (m Measure) scenarios() []*costmodel.Scenario {
	if m.Against == nil {
		return []*costmodel.Scenario{m.Scenario}
	}
	return []*costmodel.Scenario{m.Scenario, m.Against}
}
