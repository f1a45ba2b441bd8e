package scenarios

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"

	"piececost/costmodel"
)

// TestVariedInRandomCases holds, for random cases, that a plan with every input as a column costs what the ordinary plan
// costs when it is fed the base values, and that another value costs what the same number typed into its cell costs.
func TestVariedInRandomCases(t *testing.T) {
	moved, compared := 0, 0
	for seed := range uint64(25) {
		g := drawCase(seed, 0)
		m := g.s.model(t)
		random := rand.New(rand.NewPCG(seed, 7))
		for i, s := range m.Scenarios {
			p, ds := m.Compile(s, costmodel.CompileOptions{})
			if p == nil {
				t.Fatalf("seed %d: %v", seed, ds)
			}
			d := p.Detail(s.Volume)
			if nearWhole(d) != "" {
				continue // hangs on a last digit
			}
			inputs := p.Inputs()
			varied := varyingPlan(t, m, s, inputs)
			if n := len(varied.VariedAt(s.Volume)); n < len(inputs)*9/10 {
				t.Errorf("seed %d: only %d of %d inputs can be varied together", seed, n, len(inputs))
			}
			compared++
			sameWithin(t, fmt.Sprintf("seed %d, %s as it stands", seed, s.Name), costOf(t, varied, 0, math.NaN()), d.Scenario().Must("piece_cost"))
			for range 3 {
				if typedLikeVaried(t, g, m, i, inputs[random.IntN(len(inputs))], 0.9+0.1*random.Float64()) {
					moved++
				}
			}
		}
	}
	t.Logf("%d scenarios, %d typed values", compared, moved)
	if compared < 25 || moved < 50 {
		t.Errorf("only %d scenarios and %d typed values compared", compared, moved)
	}
}

// varyingPlan compiles a scenario with all inputs that can be varied together.
func varyingPlan(t *testing.T, m *costmodel.Model, s *costmodel.Scenario, inputs []costmodel.Varied) *costmodel.Plan {
	t.Helper()
	var kept []costmodel.Input
	for _, v := range inputs {
		kept = append(kept, v.Input)
	}
	for len(kept) > 0 {
		if p, _ := m.Compile(s, costmodel.CompileOptions{Vary: kept}); p != nil {
			return p
		}
		kept = slices.DeleteFunc(kept, func(in costmodel.Input) bool {
			p, _ := m.Compile(s, costmodel.CompileOptions{Vary: []costmodel.Input{in}})
			return p == nil
		})
	}
	t.Fatal("no input can be varied")
	return nil
}

// costOf is the piece cost with one input moved; as it stands where the value is no number.
func costOf(t *testing.T, p *costmodel.Plan, input int, value float64) float64 {
	t.Helper()
	l, err := p.Lanes("piece_cost")
	if err != nil {
		t.Fatal(err)
	}
	if value == value {
		l.Input(input)[0] = value
	}
	return l.Block(1)[0][0]
}

// typedLikeVaried compares an input moved by a factor with the number typed into its cell; false where there is no such cell.
func typedLikeVaried(t *testing.T, g *caseDraw, m *costmodel.Model, scenario int, v costmodel.Varied, factor float64) bool {
	t.Helper()
	if v.From != costmodel.FromCell || v.BaseValue == 0 || len(v.ChangedBy) > 0 {
		return false
	}
	p, ds := m.Compile(m.Scenarios[scenario], costmodel.CompileOptions{Vary: []costmodel.Input{v.Input}})
	if p == nil {
		t.Errorf("%s: %v", v.Input, ds)
		return false
	}
	row, col := v.Place.Row-1, v.Place.Col-1
	cell := &g.s[v.Place.Sheet][row][col]
	before := *cell
	*cell = strconv.FormatFloat(v.Shown(v.BaseValue)*factor, 'g', -1, 64)
	typed := g.s.model(t)
	*cell = before
	q, _ := typed.Compile(typed.Scenarios[scenario], costmodel.CompileOptions{})
	if q == nil {
		return false // a value that a check refuses
	}
	d := q.Detail(typed.Scenarios[scenario].Volume)
	if nearWhole(d) != "" {
		return false
	}
	sameWithin(t, fmt.Sprintf("%s times %v", v.Input, factor), costOf(t, p, 0, v.BaseValue*factor), d.Scenario().Must("piece_cost"))
	return true
}

func sameWithin(t *testing.T, what string, got, want float64) {
	t.Helper()
	if !(math.Abs(got-want) <= 1e-12*math.Abs(want)) {
		t.Errorf("%s: %v, want %v", what, got, want)
	}
}
