package study

import (
	"fmt"
	"sort"
	"strings"

	"piececost/costmodel"
)

// A PoolAlert says why steps that are pooled on a machine could not in fact share its stations. Source of the conditions:
// common practice, no source. Force and hours are checks of the library; the others compare the steps of a pool with each
// other and name them, which equations can't: they add up rows, but see no differences among them.
type PoolAlert struct {
	Machine string
	Kind    string // set-up, process, area, power, force, plant, hours
	Steps   []string
	Words   string
	From    float64 // lowest and highest annual volume of those looked at where it holds
	To      float64
}

// PoolAlerts looks at every pool of a detail.
func PoolAlerts(d *costmodel.Detail) []PoolAlert {
	var out []PoolAlert
	several := severalPlants(d)
	plants := map[string][]string{} // of a machine's pools
	var order []string
	for _, m := range d.Entries("machine") {
		steps := pooledSteps(d, m)
		if len(steps) == 0 {
			continue
		}
		key := m.Record().Key
		if plants[key] == nil {
			order = append(order, key)
		}
		if p, ok := m.Follow("plant"); ok {
			plants[key] = append(plants[key], p.Record().Key)
		}
		p := pool{machineKey(m, several), m, steps}
		for _, look := range []func() *PoolAlert{p.setUp, p.processes, p.areas, p.powers, p.force, p.hours} {
			if a := look(); a != nil {
				out = append(out, *a)
			}
		}
	}
	for _, key := range order {
		if n := len(plants[key]); n > 1 {
			out = append(out, PoolAlert{Machine: key, Kind: "plant", Words: fmt.Sprintf("has pools in %d plants (%s): each has whole lines of its own", n,
				strings.Join(plants[key], ", "))})
		}
	}
	return out
}

func pooledSteps(d *costmodel.Detail, m costmodel.Entry) []costmodel.Entry {
	var out []costmodel.Entry
	for _, s := range d.Entries("operation") {
		if at, ok := s.Follow("machine"); ok && at.Entity() == m.Entity() && s.Choice("equipment_allocation") == "pooled" {
			out = append(out, s)
		}
	}
	return out
}

// pool is the pooled steps on a machine.
type pool struct {
	key     string
	machine costmodel.Entry
	steps   []costmodel.Entry
}

func keysOf(steps []costmodel.Entry) []string {
	var out []string
	for _, s := range steps {
		out = append(out, s.Record().Key)
	}
	return out
}

// setUp finds steps that bring a tool of their own to a station that others use, with no time to change it.
func (p pool) setUp() *PoolAlert {
	var bad []costmodel.Entry
	for _, s := range p.steps {
		price, _ := s.Value("tool_price")
		if time, ok := s.Value("setup_time"); price > 0 && (!ok || time <= 0) {
			bad = append(bad, s)
		}
	}
	lines := p.machine.Must("pool_machines")
	if len(p.steps) < 2 || len(bad) == 0 || float64(len(p.steps)) <= lines {
		return nil // with a line for each there is nothing to change over
	}
	words := "have tools of their own but no set-up time to change them over"
	if len(bad) == 1 {
		words = "has a tool of its own but no set-up time to change it over"
	}
	return &PoolAlert{Machine: p.key, Kind: "set-up", Steps: keysOf(bad), Words: fmt.Sprintf("its %d pooled operations outnumber its lines, and %s %s",
		len(p.steps), strings.Join(keysOf(bad), ", "), words)}
}

// processes finds steps of different processes.
func (p pool) processes() *PoolAlert {
	by := map[string][]string{}
	for _, s := range p.steps {
		if t := s.Process(); t != nil {
			by[t.Name] = append(by[t.Name], s.Record().Key)
		}
	}
	return p.differing("process", by, "its pooled operations are of different processes")
}

func (p pool) areas() *PoolAlert {
	return p.numbers("area", "footprint", "need stations of different size")
}

func (p pool) powers() *PoolAlert {
	return p.numbers("power", "power", "draw different power")
}

// numbers finds steps whose station would differ in a quantity that the machine gives.
func (p pool) numbers(kind, quantity, words string) *PoolAlert {
	by := map[string][]string{}
	for _, s := range p.steps {
		if v, unit, ok := s.In(quantity); ok {
			name := costmodel.ShownNumber(v) + " " + unit
			by[name] = append(by[name], s.Record().Key)
		}
	}
	return p.differing(kind, by, "its pooled operations "+words)
}

func (p pool) differing(kind string, by map[string][]string, words string) *PoolAlert {
	if len(by) < 2 {
		return nil
	}
	var groups []string
	for name, steps := range by {
		groups = append(groups, name+" ("+strings.Join(steps, ", ")+")")
	}
	sort.Strings(groups)
	return &PoolAlert{Machine: p.key, Kind: kind, Steps: keysOf(p.steps), Words: words + ": " + strings.Join(groups, "; ")}
}

// force finds steps that ask more of the machine than it can give, by the checks of their processes that say so.
func (p pool) force() *PoolAlert {
	var bad []costmodel.Entry
	var limit *costmodel.Quantity
	for _, s := range p.steps {
		if broken := s.Breaks(costmodel.ForceRule); len(broken) > 0 {
			bad, limit = append(bad, s), broken[0].Limit
		}
	}
	if len(bad) == 0 {
		return nil
	}
	shown, unit, _ := p.machine.In(limit.Name)
	return &PoolAlert{Machine: p.key, Kind: "force", Steps: keysOf(bad), Words: fmt.Sprintf("%s %s more than its %s of %s %s", strings.Join(keysOf(bad), ", "),
		word(len(bad) == 1, "needs", "need"), strings.ToLower(limit.Label), costmodel.ShownNumber(shown), unit)}
}

// hours finds pools whose whole lines do not cover their hours: the count is given, not computed.
func (p pool) hours() *PoolAlert {
	broken := p.machine.Breaks(costmodel.PoolRule)
	if len(broken) == 0 {
		return nil
	}
	return &PoolAlert{Machine: p.key, Kind: "hours", Steps: keysOf(p.steps), Words: fmt.Sprintf("its pooled operations need %.2f lines, %.0f there",
		broken[0].Needs, broken[0].Has)}
}
