package costmodel

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/units"
)

// A Rule is what kind of condition a check of templates/ states, for the studies that ask which rows break it. What makes a
// volume or a number of shifts impossible is stated there and nowhere else.
type Rule string

// The rules that studies ask for; each is stated by some check, else the library does not load.
const (
	DayRule       Rule = "day"       // the shifts find room in a day
	PoolRule      Rule = "pool"      // the lines of a pool cover its hours
	DedicatedRule Rule = "dedicated" // the lines of a step cover its hours
	ToolsRule     Rule = "tools"     // the tool sets at work at once cover the hours
	WearRule      Rule = "wear"      // the tool sets last for the programme
	ForceRule     Rule = "force"     // the machine is strong enough for a step
)

var askedRules = []Rule{DayRule, PoolRule, DedicatedRule, ToolsRule, WearRule, ForceRule}

// checkRules looks at the rules that checks are marked with: each is known and names what it compares, and each that a study asks
// for is there.
func (lib *Library) checkRules(sys *units.System) error {
	var faults []error
	stated := map[Rule]bool{}
	for _, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes, lib.Tools, lib.Sizes} {
		for _, t := range list {
			for _, c := range t.Checks {
				if c.Rule == "" {
					continue
				}
				stated[c.Rule] = true
				if err := lib.checkRule(t, c, sys); err != nil {
					faults = append(faults, fmt.Errorf("%s:%d: %w", c.place.File, c.place.Row, err))
				}
			}
		}
	}
	for _, r := range askedRules {
		if !stated[r] {
			faults = append(faults, fmt.Errorf("no check states the rule %q, which the program asks for by name", r))
		}
	}
	return errors.Join(faults...)
}

func (lib *Library) checkRule(t *Template, c Check, sys *units.System) error {
	if !slices.Contains(askedRules, c.Rule) {
		return fmt.Errorf("there is no rule %q; the rules are %q", c.Rule, askedRules)
	}
	var dims []units.Dim
	for _, path := range []string{c.Needs, c.Has} {
		scope, name := t.Scope, path
		if head, last, ok := strings.Cut(path, "."); ok {
			r := relationNamed(scope, head)
			if r < 0 || Relations[r].Many {
				return fmt.Errorf("%s leads to no row", path)
			}
			scope, name = Relations[r].To, last
		}
		it := lib.itemOf(t, scope, name)
		if it == nil {
			return fmt.Errorf("a rule has needs and has, what it compares; there is no quantity %q of a %s", path, scope)
		}
		u, err := sys.Parse(it.Unit)
		if err != nil {
			return err
		}
		dims = append(dims, u.Dim)
	}
	if dims[0] != dims[1] {
		return fmt.Errorf("%s and %s have different units", c.Needs, c.Has)
	}
	return nil
}

// itemOf finds a quantity of a scope, of a template's own first.
func (lib *Library) itemOf(t *Template, scope, name string) *Item {
	for _, list := range [][]*Template{{t}, lib.Scopes} {
		for _, in := range list {
			for i := range in.Items {
				if in.Scope == scope && in.Items[i].Name == name {
					return &in.Items[i]
				}
			}
		}
	}
	return nil
}

// A Breach is a row that breaks a rule: what it needs and what it has, in coherent units.
type Breach struct {
	Needs, Has float64
	Limit      *Quantity // what it has
}

// Breaks lists the checks of a rule that do not hold in the row; one that was not made, since an input for it is not given, is
// not broken.
func (e Entry) Breaks(rule Rule) []Breach {
	r := &e.detail.Plan.graph.rows[e.entity]
	var out []Breach
	for _, n := range r.scope.checks {
		c := r.scope.Quantities[n].Check
		if c.Rule != rule || r.scope.definition(r.variant, n) == nil || !e.detail.Plan.plan.Has(r.first+n) || e.detail.values[r.first+n] != 0 {
			continue
		}
		var b Breach
		b.Needs, _ = e.along(c.Needs)
		b.Has, b.Limit = e.along(c.Has)
		out = append(out, b)
	}
	return out
}

// along returns a quantity of the row, or of the row that a relation leads to: machine.rated_force.
func (e Entry) along(path string) (float64, *Quantity) {
	if head, name, ok := strings.Cut(path, "."); ok {
		if at, there := e.Follow(head); there {
			return at.along(name)
		}
	}
	sc := e.detail.Plan.graph.rows[e.entity].scope
	v, _ := e.Value(path)
	return v, sc.Quantities[sc.MustQuantity(path)]
}
