package costmodel

import (
	"fmt"
	"math"
	"slices"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// chooseMachines finds a machine for every operation that has none and could have one of a class, in every scenario. What fits nowhere is an
// error. With errors among the diagnostics nothing is chosen, since nothing is costed.
func (m *Model) chooseMachines() {
	if len(m.classes) == 0 || m.Diagnostics.HasErrors() {
		return
	}
	for _, s := range m.Scenarios {
		chosen, ds := m.Choose(s, s.Volume)
		s.chosen = chosen
		m.Diagnostics = append(m.Diagnostics, ds...)
	}
	m.borrowChoices()
}

// borrowChoices gives operations that do not count in a scenario, but may in a combination of alternatives, the machine that was chosen for them
// in the first scenario in which they count.
func (m *Model) borrowChoices() {
	for _, s := range m.Scenarios {
		for _, r := range m.records["operation"] {
			if c := s.chosen[r]; c == nil || c.tried() {
				continue
			}
			for _, other := range m.Scenarios {
				if c := other.chosen[r]; c != nil && c.tried() {
					borrowed := *c
					borrowed.Cost = math.NaN()
					s.chosen[r] = &borrowed
					break
				}
			}
		}
	}
}

// tried tells whether the operation counts in the scenario, so that its machines were tried.
func (c *Choice) tried() bool { return !math.IsNaN(c.Cost) }

// Rechosen is a scenario with machines chosen for another annual volume, product or plant than those for which they were; itself where no
// operation asks for one.
func (m *Model) Rechosen(s *Scenario, volume float64) (*Scenario, table.Diagnostics) {
	if len(m.classes) == 0 {
		return s, nil
	}
	chosen, ds := m.Choose(s, volume)
	return s.WithChoice(chosen), ds
}

// Choose finds the machines of a scenario's open operations at an annual volume; nil where none is open. The scenario stays as it is.
func (m *Model) Choose(s *Scenario, volume float64) (map[*Record]*Choice, table.Diagnostics) {
	f := &finder{m: m, s: s, volume: volume, list: m.openOperations(s), open: map[*Record]openOperation{}, tried: map[*Record][]trial{}}
	if len(f.list) == 0 {
		return nil, nil
	}
	for _, o := range f.list {
		f.open[o.record] = o
	}
	f.standAlone()
	out := map[*Record]*Choice{}
	var ds table.Diagnostics
	for _, o := range f.list {
		c := f.best(o)
		out[o.record] = c
		if c.Machine == nil {
			ds = append(ds, f.nothingFits(c))
		}
	}
	return out, ds
}

// WithChoice is a scenario with other machines chosen.
func (s *Scenario) WithChoice(chosen map[*Record]*Choice) *Scenario {
	out := *s
	out.chosen = chosen
	return &out
}

// An openOperation has no machine of its own: its plant and the machines of its class there, in the order of the sheet.
type openOperation struct {
	record     *Record
	plant      string
	candidates []*Record
}

// openOperations are those whose machine is to be chosen.
func (m *Model) openOperations(s *Scenario) (out []openOperation) {
	sc := m.Schema.byName["operation"]
	for _, r := range m.records["operation"] {
		if machine, _ := s.text(r, "machine"); machine != "" {
			continue
		}
		process, _ := s.text(r, "process")
		v := sc.variant(process)
		if v == nil || v.Template.noMachine {
			continue
		}
		plant, _ := s.text(r, "plant")
		if plant == "" {
			plant = s.plant
		}
		o := openOperation{record: r, plant: plant}
		for _, machine := range m.ofClass(v) {
			if standsIn(machine, plant) {
				o.candidates = append(o.candidates, machine)
			}
		}
		if len(o.candidates) > 0 {
			out = append(out, o)
		}
	}
	return out
}

// A trial is an operation on a machine that stands for it alone.
type trial struct {
	machine *Record
	cost    float64 // NaN where it can't be costed there
	misfit  *Misfit
}

// A finder tries the machines of a scenario's open operations.
type finder struct {
	m      *Model
	s      *Scenario
	volume float64
	list   []openOperation // in the order of their sheet
	open   map[*Record]openOperation
	tried  map[*Record][]trial // by operation, in the order of its candidates
}

// best picks among the trials of an operation.
func (f *finder) best(o openOperation) *Choice {
	r := o.record
	c := &Choice{Operation: r, Cost: math.NaN(), NextCost: math.NaN()}
	for _, machine := range o.candidates {
		i := slices.IndexFunc(f.tried[r], func(t trial) bool { return t.machine == machine })
		if i < 0 {
			continue // an operation that does not count in the scenario
		}
		switch t := f.tried[r][i]; {
		case t.misfit != nil:
			c.Misfits = append(c.Misfits, *t.misfit)
		case c.Machine == nil || t.cost < c.Cost:
			c.RunnerUp, c.NextCost = c.Machine, c.Cost
			c.Machine, c.Cost = t.machine, t.cost
		case c.RunnerUp == nil || t.cost < c.NextCost:
			c.RunnerUp, c.NextCost = t.machine, t.cost
		}
	}
	if c.Machine == nil && len(c.Misfits) == 0 {
		c.Machine = o.candidates[0]
	}
	return c
}

// nothingFits says which machine is nearest to what an operation needs.
func (f *finder) nothingFits(c *Choice) table.Diagnostic {
	near, _ := c.Nearest()
	help := "add a larger machine to the sheet Machines, or write the key of one in the cell Machine"
	if near.Ungiven {
		help = "give that for the operation or in the sheet Machines"
	}
	return table.Diagnostic{Code: "machine", Severity: table.Error, Place: c.Operation.TextPlace("machine"), Scenario: f.s.Name,
		Summary: fmt.Sprintf("no machine of its class fits operation %s; the nearest is %s: %s", c.Operation.Key, near.Machine.Key, near.Says()),
		Help:    help}
}

// standAlone costs every open operation on each of its candidates. What the operations must yield is that of the scenario with the first
// candidate of each.
func (f *finder) standAlone() {
	first := *f.s
	first.standing = map[*Record]*Record{}
	for _, o := range f.list {
		first.standing[o.record] = o.candidates[0]
	}
	base := newChoicePlan(f.m, &first)
	wanted := base.quantitiesOf("operation", []string{"good_quantity"})
	machines := base.all("machine")
	values := base.values(slices.Concat(wanted, machines), f.volume)
	yields := map[*Record]float64{}
	for e, r := range base.graph.rows {
		if _, is := f.open[r.rec]; is && r.scope.Name == "operation" {
			if v, ok := values[base.cell(e, "good_quantity")]; ok {
				yields[r.rec] = v
			}
		}
	}
	for _, g := range f.groups(base, values) {
		f.tryGroup(g, yields)
	}
}

// A machineGroup are machines in a plant that have the same quantities given, so that one plan can hold them all, each in a lane.
type machineGroup struct {
	plant    string
	machines []*Record
	given    []int32             // quantities of a machine whose values differ by lane
	same     []int32             // those that all have alike
	values   []map[int32]float64 // of each machine
}

// groups sorts the candidates of each plant by what they have given. A choice, such as the equipment allocation, is part of it.
func (f *finder) groups(base *choicePlan, values map[plan.Cell]float64) []*machineGroup {
	by := map[string]*machineGroup{}
	var order []string
	wanted := map[string]map[*Record]bool{}
	for _, o := range f.list {
		if wanted[o.plant] == nil {
			wanted[o.plant] = map[*Record]bool{}
		}
		for _, c := range o.candidates {
			wanted[o.plant][c] = true
		}
	}
	out := f.relations(wanted)
	for i, k := range base.graph.st.machines {
		if !wanted[k.plant.Key][k.machine] {
			continue
		}
		e := int(base.graph.start["machine"]) + i
		given, own, key := base.givenOf(e, values)
		key = k.plant.Key + "|" + key
		g := by[key]
		if g == nil {
			g = &machineGroup{plant: k.plant.Key, given: given}
			by[key] = g
			order = append(order, key)
		}
		g.machines, g.values = append(g.machines, k.machine), append(g.values, own)
	}
	for _, key := range order {
		g := by[key]
		all := g.given
		g.given = nil
		for _, n := range all {
			if slices.ContainsFunc(g.values, func(v map[int32]float64) bool { return v[n] != g.values[0][n] }) {
				g.given = append(g.given, n)
			} else {
				g.same = append(g.same, n)
			}
		}
		out = append(out, g)
	}
	return out
}

// relations has a group for each machine that is sized by what its operations need: its figures are those of its cells, which rest on the size.
func (f *finder) relations(wanted map[string]map[*Record]bool) (out []*machineGroup) {
	for _, p := range f.m.records["plant"] {
		for _, r := range f.m.records[machineScope] {
			if wanted[p.Key][r] && f.m.sizeOf(r) != nil {
				out = append(out, &machineGroup{plant: p.Key, machines: []*Record{r}, values: []map[int32]float64{{}}})
			}
		}
	}
	return out
}

// tryGroup costs the open operations on the machines of a group: each operation on a machine of its own, whose figures are columns with a lane
// for each machine.
func (f *finder) tryGroup(g *machineGroup, yields map[*Record]float64) {
	s := *f.s
	s.standing = map[*Record]*Record{}
	for _, o := range f.list {
		candidate := o.candidates[0]
		if o.plant == g.plant && slices.ContainsFunc(o.candidates, func(c *Record) bool { return slices.Contains(g.machines, c) }) {
			candidate = g.machines[0]
		}
		s.standing[o.record] = candidate
		if f.m.sizeOf(candidate) == nil { // a relation gives each operation a machine of its own as it is
			alone := *candidate
			s.standing[o.record] = &alone
		}
	}
	p := newChoicePlan(f.m, &s)
	p.fix(g, yields)
	p.vary(g)
	lanes := p.run(g, f.volume, func(r *Record) bool {
		o, is := f.open[r]
		return is && o.plant == g.plant
	})
	for _, x := range lanes {
		o := f.open[x.operation]
		for k, machine := range g.machines {
			if !slices.Contains(o.candidates, machine) {
				continue
			}
			t := trial{machine: machine, cost: math.NaN()}
			if x.cost != nil {
				t.cost = x.cost[k]
			}
			if t.misfit = x.misfit(machine, k); t.misfit == nil && !isNumber(t.cost) {
				t.misfit = &Misfit{Machine: machine, Lacks: x.lacks(p), Ungiven: true, Needs: math.NaN(), Has: math.NaN()}
			}
			f.tried[x.operation] = append(f.tried[x.operation], t)
		}
	}
}

func isNumber(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }
