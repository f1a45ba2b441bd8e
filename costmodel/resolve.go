package costmodel

import (
	"errors"
	"fmt"
	"math"
	"sort"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// constants are the names that mean a number everywhere.
var constants = map[string]struct {
	value float64
	flag  bool
}{"pi": {math.Pi, false}, "yes": {1, true}, "no": {0, true}}

// resolve finds what a name means in a scope.
func (s *Schema) resolve(sc *Scope, path string, many bool) (plan.Ref, *Quantity, error) {
	if c, ok := constants[path]; ok && !many {
		return plan.Ref{Fixed: true, Constant: c.value}, &Quantity{Name: path, Flag: c.flag, Unit: units.One}, nil
	}
	parts := strings.Split(path, ".")
	ref := plan.Ref{Many: many}
	at := sc
	for i := 0; i < len(parts)-1; i++ {
		r := relationNamed(at.Name, parts[i])
		if r < 0 {
			return s.option(ref, at, parts[i:], path, i == len(parts)-2)
		}
		last := i == len(parts)-2
		if Relations[r].Many != (many && last) {
			return ref, nil, manyError(Relations[r], path, many)
		}
		ref.Hops = append(ref.Hops, r)
		at = s.byName[Relations[r].To]
	}
	if many && len(ref.Hops) == 0 {
		return ref, nil, fmt.Errorf("sum adds a quantity over rows: sum(joined.mass)")
	}
	name := parts[len(parts)-1]
	n, ok := at.index[name]
	if !ok || at.Quantities[n].Check != nil {
		return ref, nil, s.unknownName(at, name, path)
	}
	ref.Quantity = n
	return ref, at.Quantities[n], nil
}

func manyError(r Hop, path string, many bool) error {
	if r.Many {
		return fmt.Errorf("%s leads to many rows; write sum(%s)", r.Name, path)
	}
	if many {
		return fmt.Errorf("%s leads to one row, there is nothing to add up; write %s", r.Name, path)
	}
	return fmt.Errorf("%s can't be followed here", path)
}

// option resolves equipment_allocation.pooled: a condition on a choice.
func (s *Schema) option(ref plan.Ref, at *Scope, rest []string, path string, last bool) (plan.Ref, *Quantity, error) {
	n, ok := at.index[rest[0]]
	if !ok || !last || len(at.Quantities[n].Options) == 0 {
		return ref, nil, s.unknownRelation(at, rest[0], path)
	}
	for i, o := range at.Quantities[n].Options {
		if optionName(o) == rest[1] {
			ref.Quantity, ref.Option = n, i+1
			return ref, &Quantity{Name: path, Flag: true, Unit: units.One}, nil
		}
	}
	return ref, nil, fmt.Errorf("%q is no choice of %s; its choices are %s", rest[1], rest[0], strings.Join(at.Quantities[n].Options, ", "))
}

// optionName is what expressions call an option; SG&A is sga.
func optionName(option string) string { return strings.ReplaceAll(table.Normalise(option), "&", "") }

func (s *Schema) unknownName(at *Scope, name, path string) error {
	var names []string
	for _, q := range at.Quantities {
		if q.Check == nil {
			names = append(names, q.Name)
		}
	}
	if near := formula.Nearest(name, names); near != "" {
		return fmt.Errorf("unknown name %q; did you mean %s?", path, strings.TrimSuffix(path, name)+near)
	}
	for _, r := range Relations {
		if r.Name == name && (r.From == at.Name || r.From == "") {
			return fmt.Errorf("%q is a row, not a quantity; write %s.price or the like", path, path)
		}
	}
	return fmt.Errorf("unknown name %q", path)
}

func (s *Schema) unknownRelation(at *Scope, name, path string) error {
	var names []string
	for _, r := range Relations {
		if r.From == at.Name || r.From == "" {
			names = append(names, r.Name)
		}
	}
	if near := formula.Nearest(name, names); near != "" {
		return fmt.Errorf("unknown name %q; did you mean %s?", path, strings.Replace(path, name, near, 1))
	}
	sort.Strings(names)
	return fmt.Errorf("unknown name %q; from here one can see %s", path, strings.Join(names, ", "))
}

// scopeEnv answers the checker of package formula for one scope.
type scopeEnv struct {
	schema *Schema
	scope  *Scope
	base   *formula.Type
}

func (e scopeEnv) TypeOf(path string, many bool) (formula.Type, error) {
	if path == "base" && e.base != nil && !many {
		return *e.base, nil
	}
	_, q, err := e.schema.resolve(e.scope, path, many)
	if err != nil {
		return formula.Type{}, err
	}
	if len(q.Options) > 0 {
		return formula.Type{}, fmt.Errorf("%s is a choice; ask for one of %s.%s", path, path, table.Normalise(q.Options[0]))
	}
	_, fixed := constants[path]
	return formula.Type{Flag: q.Flag, Unit: q.Unit, Bare: fixed && !q.Flag}, nil
}

func (e scopeEnv) CurveUnits(name string) (units.Unit, units.Unit, error) {
	c := e.schema.curveNamed(name)
	if c == nil {
		if near := formula.Nearest(name, e.schema.curveNames()); near != "" {
			return units.One, units.One, fmt.Errorf("unknown curve %q; did you mean %s?", name, near)
		}
		return units.One, units.One, errors.New("unknown curve \"" + name + "\"; add its points to the sheet Tables")
	}
	return c.x, c.y, nil
}
