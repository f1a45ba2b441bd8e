package costmodel

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A Schema is a library checked against a case's currencies: for every scope its quantities, each equation parsed, its
// names resolved and its units balanced.
type Schema struct {
	Units  *units.System
	Scopes []*Scope // in the order case, scenario, plant, material, machine, part, link, operation

	Comparison *Comparison // of two scenarios
	Screening  *Comparison // of a grade and gauge held against a base
	benchmark  *Template   // equations of measured parts of others
	Elements   []Element   // of cost, in their order
	byName     map[string]*Scope
	curves     map[string]*curve
	parsed     *parsedFormulas // of the library
}

// A Scope is a kind of row: its quantities, and the variants (grades of a material, forms of a part, processes of an operation) that give
// some of them other definitions.
type Scope struct {
	Name, Title string
	Quantities  []*Quantity
	Variants    []*Variant // 0 is what every row has
	index       map[string]int32
	checks      []int32                 // quantities that are conditions to hold
	called      map[string]*Variant     // by name, else by alias, normalised
	labelled    func() map[string]int32 // quantities that are no checks by their label, normalised; found when first asked for
}

// A Quantity is a column of a scope.
type Quantity struct {
	Name, Label string
	Unit        units.Unit // as declared; Dim rules
	Flag        bool
	Options     []string
	Structural  bool
	counts      string // what its ceil counts, where that can be left out
	compounds   bool   // a rate of return: a rate per month is no twelfth of it
	noLever     bool   // fixed by nature or by the design
	Check       *Check // set for a condition that should hold
}

// A Variant is a grade, form or process, or the definitions that all rows of a scope share.
type Variant struct {
	Template    *Template
	Definitions map[int32]*Definition
	listed      []*Definition   // the same by quantity, as every cell of a plan asks for them
	called      map[int32]int32 // aliases that are quantities of other processes (processaliases.go)
}

// A Definition is how a variant defines a quantity.
type Definition struct {
	Item     Item
	Unit     units.Unit
	Equation *plan.Equation // nil for an input that must be given

	Otherwise *Definition // takes its place where the equation leads to a quantity that the other row does not have; nil as a rule
}

type curve struct {
	formula.Curve
	x, y     units.Unit
	xAt, yAt []table.Place // of the points
	written  string        // its name in the sheet
	at       table.Place   // of its name, first
	failed   bool          // something of it is wrong, and said
}

// CurveSteps tells whether a curve goes in steps, each point's value holding up to the next, and not straight from point to point.
func (s *Schema) CurveSteps(name string) bool { return s.curveNamed(name).Steps }

// CurvePoints returns the cells of a curve's points and their units.
func (s *Schema) CurvePoints(name string) (x, y []table.Place, xUnit, yUnit units.Unit) {
	c := s.curveNamed(name)
	return c.xAt, c.yAt, c.x, c.y
}

var scopeOrder = []string{"case", "scenario", "plant", "material", "machine", "part", "link", "joint", "tool kind", "operation"}

// newSchema builds and checks the schema. What is wrong goes into ds with the place of its definition. Of processes that are not
// among the names of the case only the name is taken (inuse.go); nil takes all.
func newSchema(lib *Library, sys *units.System, curves map[string]*curve, named map[string]bool, ds *table.Diagnostics) *Schema {
	s := &Schema{Units: sys, byName: map[string]*Scope{}, curves: curves, parsed: lib.parsed}
	order := scopeOrder
	if lib.scopes != nil {
		order = lib.scopes
	}
	for _, name := range order {
		sc := &Scope{Name: name, Title: name, index: map[string]int32{}}
		s.Scopes = append(s.Scopes, sc)
		s.byName[name] = sc
		sc.Variants = append(sc.Variants, &Variant{Template: &Template{Scope: name}, Definitions: map[int32]*Definition{}})
		for _, it := range structural[name] {
			s.declare(sc, it, ds).Structural = true
		}
	}
	s.Elements, s.benchmark = lib.Elements, lib.Benchmark
	if c, err := newComparison(lib.Comparison, sys); err == nil { // else said when the library was loaded
		s.Comparison = c
	}
	if c, err := newScreening(lib.Screening, sys); err == nil {
		s.Screening = c
	}
	var pending []pendingEquation
	for _, t := range lib.Scopes {
		sc := s.byName[t.Scope]
		if sc == nil {
			ds.Add("scope", table.Place{File: t.File}, fmt.Sprintf("unknown scope %q", t.Scope), "")
			continue
		}
		if t.Title != "" {
			sc.Title = t.Title
		}
		pending = append(pending, s.addTemplate(sc, sc.Variants[0], t, ds)...)
	}
	var aside []*Template
	for _, t := range slices.Concat(lib.gradeTemplates(), lib.Forms, lib.Tools, lib.Sizes, lib.Processes) {
		sc := s.byName[t.Scope]
		v := &Variant{Template: t, Definitions: map[int32]*Definition{}}
		sc.Variants = append(sc.Variants, v)
		if t.Scope == "operation" && !t.inUse(named) {
			aside = append(aside, t)
			continue
		}
		pending = append(pending, s.addTemplate(sc, v, t, ds)...)
		pending = append(pending, s.addNeeds(sc, v, lib.Sizes)...)
	}
	for _, sc := range s.Scopes {
		sc.callVariants()
	}
	for _, t := range aside {
		s.declareNamed(s.byName[t.Scope], t, named, ds)
	}
	s.addAliases(lib, ds)
	for _, p := range pending {
		s.define(p, ds)
	}
	for _, sc := range s.Scopes {
		sc.labelled = sync.OnceValue(sc.byLabel)
	}
	return s
}

// byHeading finds a quantity by its name or label as written in a heading.
func (sc *Scope) byHeading(name string) (int32, bool) {
	if n, ok := sc.index[name]; ok && sc.Quantities[n].Check == nil {
		return n, true
	}
	if n, ok := sc.labelled()[name]; ok {
		return n, true
	}
	return -1, false
}

func (sc *Scope) byLabel() map[string]int32 {
	out := map[string]int32{}
	for i, q := range slices.Backward(sc.Quantities) { // the first of a label is the one that is meant
		if q.Check == nil {
			out[table.Normalise(q.Label)] = int32(i)
		}
	}
	return out
}

// define notes how the variant defines a quantity.
func (v *Variant) define(quantity int32, d *Definition) {
	v.Definitions[quantity] = d
	if more := int(quantity) + 1 - len(v.listed); more > 0 {
		v.listed = append(v.listed, make([]*Definition, more)...)
	}
	v.listed[quantity] = d
}

// defined is how the variant itself defines a quantity, nil where it does not.
func (v *Variant) defined(quantity int32) *Definition {
	if int(quantity) >= len(v.listed) {
		return nil
	}
	return v.listed[quantity]
}

type pendingEquation struct {
	scope *Scope
	def   *Definition
	want  formula.Type
	opts  []string
}

// addTemplate declares the quantities of a template and returns the equations to be read once all are declared.
func (s *Schema) addTemplate(sc *Scope, v *Variant, t *Template, ds *table.Diagnostics) []pendingEquation {
	var pending []pendingEquation
	for _, it := range t.Items {
		pending = append(pending, s.addItem(sc, v, it, ds)...)
	}
	for i := range t.Checks {
		c := &t.Checks[i]
		it := Item{Name: fmt.Sprintf("check %d of %s", i+1, cmp.Or(t.File, t.Name, t.Scope)), Label: c.Say, Unit: "flag", Is: c.Holds, place: c.place}
		pending = append(pending, s.addItem(sc, v, it, ds)...)
		n := sc.index[it.Name]
		sc.Quantities[n].Check = c
		sc.checks = append(sc.checks, n)
	}
	return pending
}

func (s *Schema) addItem(sc *Scope, v *Variant, it Item, ds *table.Diagnostics) []pendingEquation {
	q := s.declare(sc, it, ds)
	if q == nil {
		return nil
	}
	def := &Definition{Item: it}
	def.Unit, _ = s.unitOf(it)
	v.define(sc.index[it.Name], def)
	if it.Is == "" {
		return nil
	}
	pending := []pendingEquation{{sc, def, formula.Type{Flag: q.Flag, Unit: def.Unit}, q.Options}}
	for _, text := range it.Otherwise {
		it.Is = text
		def.Otherwise = &Definition{Item: it, Unit: def.Unit}
		def = def.Otherwise
		pending = append(pending, pendingEquation{sc, def, pending[0].want, q.Options})
	}
	return pending
}

func (s *Schema) unitOf(it Item) (units.Unit, error) {
	if it.Unit == "flag" || len(it.Options) > 0 {
		return units.One, nil
	}
	return s.Units.Parse(it.Unit)
}

// shown writes a unit with the model currency's code.
func (s *Schema) shown(u units.Unit) string {
	return strings.ReplaceAll(u.Text, "currency", s.Units.ModelCurrency())
}

// declare adds a quantity to a scope, or checks that it agrees with the one that is there.
func (s *Schema) declare(sc *Scope, it Item, ds *table.Diagnostics) *Quantity {
	u, err := s.unitOf(it)
	if err != nil {
		ds.Add("unit", it.place, fmt.Sprintf("%s: %v", it.Name, err), "")
		return nil
	}
	if i, ok := sc.index[it.Name]; ok {
		q := sc.Quantities[i]
		if q.Unit.Dim != u.Dim || q.Flag != (it.Unit == "flag") {
			if it.Unit == "" && it.place.Sheet == "Processes" {
				ds.Add("unit", it.place, it.Label+" has no unit", fmt.Sprintf("write %s in the column Unit, or %s [%s] under Quantity",
					s.shown(q.Unit), q.Label, s.shown(q.Unit)))
				return nil
			}
			ds.Add("dimension", it.place, fmt.Sprintf("%s is %s here and %s elsewhere", it.Name, u.Dim.Describe(), q.Unit.Dim.Describe()),
				"give it another name")
			return nil
		}
		return q
	}
	q := &Quantity{Name: it.Name, Label: it.Label, Unit: u, Flag: it.Unit == "flag", Options: it.Options, counts: it.counts, compounds: it.compounds,
		noLever: it.noLever}
	sc.index[it.Name] = int32(len(sc.Quantities))
	sc.Quantities = append(sc.Quantities, q)
	return q
}

// define reads the equation of a definition.
func (s *Schema) define(p pendingEquation, ds *table.Diagnostics) {
	it := p.def.Item
	if len(p.opts) > 0 {
		if n := optionIndex(p.opts, it.Is); n >= 0 {
			p.def.Equation = constantEquation(float64(n))
			return
		}
		p.def.Equation = s.choiceLink(p, ds)
		return
	}
	eq, err := s.definition(p)
	if err != nil {
		ds.Add("formula", it.place, fmt.Sprintf("%s: %v", it.Name, err), "")
		return
	}
	p.def.Equation, p.def.Item.Is = eq, eq.Expr.Text
}

// definition is the equation of a definition; one of the library was mostly parsed before.
func (s *Schema) definition(p pendingEquation) (*plan.Equation, error) {
	it := p.def.Item
	if it.place.Sheet != "" {
		return s.equation(p.scope, it.Is, formula.Rules{Want: p.want, Grace: it.place.Sheet == "Processes"}, nil)
	}
	expr, err := s.parsed.parse(it.Is, s.Units)
	if err != nil {
		return nil, err
	}
	return s.checked(p.scope, expr, formula.Rules{Want: p.want}, nil)
}

// choiceLink makes a choice that takes over that of its machine, machine.equipment_allocation. Choices decide the structure, and along
// other relations (next, part.first) they could differ from one combination of alternatives to the next.
func (s *Schema) choiceLink(p pendingEquation, ds *table.Diagnostics) *plan.Equation {
	ref, q, err := s.resolve(p.scope, p.def.Item.Is, false)
	follows := slices.Equal(ref.Hops, []plan.Relation{relationNamed("operation", "machine")}) ||
		slices.Equal(ref.Hops, []plan.Relation{relationNamed("quote", "request")}) // the one of its sheet
	if err == nil && len(q.Options) > 0 && !follows {
		ds.Add("formula", p.def.Item.place, fmt.Sprintf("%s: %q can't be taken over; a choice of an operation follows its machine alone",
			p.def.Item.Name, p.def.Item.Is),
			fmt.Sprintf("write machine.%s or one of %s", p.def.Item.Name, strings.Join(p.opts, ", ")))
		return nil
	}
	if err != nil || strings.Join(q.Options, "|") != strings.Join(p.opts, "|") {
		ds.Add("formula", p.def.Item.place, fmt.Sprintf("%s: %q is neither one of %s nor another choice among them", p.def.Item.Name, p.def.Item.Is,
			strings.Join(p.opts, ", ")), "")
		return nil
	}
	root := &formula.Node{Kind: formula.Name, Name: p.def.Item.Is}
	return &plan.Equation{Expr: &formula.Expr{Text: p.def.Item.Is, Root: root, Names: []formula.NameUse{{Path: p.def.Item.Is}}}, Refs: []plan.Ref{ref}}
}

func constantEquation(v float64) *plan.Equation {
	return &plan.Equation{Expr: &formula.Expr{Text: fmt.Sprint(v), Root: &formula.Node{Kind: formula.Number, Value: v, Unit: units.One}}}
}

func optionIndex(options []string, text string) int {
	for i, o := range options {
		if strings.EqualFold(strings.TrimSpace(text), o) {
			return i
		}
	}
	return -1
}

// equation parses and checks an expression for rows of a scope. base is what `base` measures, nil where it may not stand.
func (s *Schema) equation(sc *Scope, text string, rules formula.Rules, base *formula.Type) (*plan.Equation, error) {
	expr, err := formula.Parse(text, s.Units)
	if err != nil {
		return nil, err
	}
	return s.checked(sc, expr, rules, base)
}

func (s *Schema) checked(sc *Scope, expr *formula.Expr, rules formula.Rules, base *formula.Type) (*plan.Equation, error) {
	env := scopeEnv{schema: s, scope: sc, base: base}
	if err := formula.Check(expr, env, rules); err != nil {
		return nil, err
	}
	return s.bound(sc, expr, base != nil), nil
}

// bound finds what the names of a checked expression mean for rows of a scope.
func (s *Schema) bound(sc *Scope, expr *formula.Expr, withBase bool) *plan.Equation {
	eq := &plan.Equation{Expr: expr, Refs: make([]plan.Ref, len(expr.Names))}
	aliased := map[string]string{}
	for i, n := range expr.Names {
		if withBase && n.Path == "base" {
			eq.Refs[i] = plan.Ref{Base: true}
			continue
		}
		var q *Quantity
		eq.Refs[i], q, _ = s.resolve(sc, n.Path, n.Many)
		if own := ownPath(n.Path, q); !eq.Refs[i].Fixed && eq.Refs[i].Option == 0 && own != n.Path {
			aliased[n.Path] = own
		}
	}
	ownNames(eq, aliased)
	return eq
}

// variant finds a form or process by name, else by alias, or nil.
func (sc *Scope) variant(name string) *Variant { return sc.called[table.Normalise(name)] }

// callVariants notes by what names the variants are found: a name before any alias, the first before others.
func (sc *Scope) callVariants() {
	sc.called = map[string]*Variant{}
	note := func(name string, v *Variant) {
		if key := table.Normalise(name); sc.called[key] == nil {
			sc.called[key] = v
		}
	}
	for _, v := range sc.Variants[1:] {
		note(v.Template.Name, v)
	}
	for _, v := range sc.Variants[1:] {
		for _, a := range v.Template.Aliases {
			note(a, v)
		}
	}
}

// Scope returns a scope by name; it must exist.
func (s *Schema) Scope(name string) *Scope { return s.byName[name] }
