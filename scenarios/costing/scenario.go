package costing

import (
	"fmt"
	"strings"

	"piececost/costmodel"
)

// A Scenario is a costed scenario at one annual volume.
type Scenario struct {
	Name      string
	Product   string  // key of the part that is made
	Volume    float64 // good products per year
	PieceCost float64 // manufacturing cost of a good product, model currency
	Elements  []Element
	Row       // the scenario's own quantities, as price, net_mass, tooling_investment

	detail *costmodel.Detail
}

// An Element is an element of cost of a good product.
type Element struct {
	Key    string  // scrap_credit
	Label  string  // Scrap credit
	Amount float64 // model currency per good product, unrounded; the scrap credit is negative
}

func scenarioOf(p *costmodel.Plan) *Scenario { return scenarioAt(p.Detail(p.Scenario.Volume)) }

func scenarioAt(d *costmodel.Detail) *Scenario {
	l := d.Scenario()
	s := &Scenario{Name: d.Plan.Scenario.Name, Product: d.Plan.Scenario.Product, Volume: d.Volume, PieceCost: l.Must("piece_cost"), Row: Row{d, l}, detail: d}
	for _, e := range d.Plan.Model.Schema.Elements {
		s.Elements = append(s.Elements, Element{e.Name, e.Label, l.Must(e.PieceName())})
	}
	return s
}

// At is the scenario at another annual volume (good products per year).
func (s *Scenario) At(volume float64) (*Scenario, error) {
	if !costmodel.PossibleVolume(volume) {
		return nil, fmt.Errorf("a volume of %v can't be costed", volume)
	}
	return scenarioAt(s.detail.Plan.Detail(volume)), nil
}

// Parts are the parts of the product, from the product down; bought parts are among them.
func (s *Scenario) Parts() []Row { return s.rows("part") }

// Operations are the operations, part by part along the routes. The key of one is that of its part and its number: PLATE/10.
func (s *Scenario) Operations() []Row { return s.rows("operation") }

// Machines are the machines that the operations use, in each plant.
func (s *Scenario) Machines() []Row { return s.rows("machine") }

// Materials are the grades that the parts are of.
func (s *Scenario) Materials() []Row { return s.rows("material") }

// Plants are the plants in which the operations are done.
func (s *Scenario) Plants() []Row { return s.rows("plant") }

func (s *Scenario) rows(scope string) []Row {
	var out []Row
	for _, l := range s.detail.Entries(scope) {
		out = append(out, Row{s.detail, l})
	}
	return out
}

// plan finds a scenario by its name or by how it begins.
func (r *Result) plan(name string) (*costmodel.Plan, error) {
	if p := Named(r.plans, name); p != nil {
		return p, nil
	}
	var names []string
	for _, p := range r.plans {
		names = append(names, p.Scenario.Name)
	}
	return nil, fmt.Errorf("no scenario, or more than one, is called %q; there are %s", name, strings.Join(names, ", "))
}

// Named finds a scenario by its name, or by how it begins, whatever the case, where that names one alone; else it is nil.
func Named(plans []*costmodel.Plan, name string) *costmodel.Plan {
	var found []*costmodel.Plan
	for _, p := range plans {
		if p.Scenario.Name == name {
			return p
		}
		if strings.HasPrefix(strings.ToLower(p.Scenario.Name), strings.ToLower(name)) {
			found = append(found, p)
		}
	}
	if len(found) != 1 {
		return nil
	}
	return found[0]
}
