package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"piececost/costmodel/table"
)

// An Element is an element of cost: a quantity of an operation, a part and a scenario (there with the prefix piece_ for a
// good product), in currency per year.
type Element struct{ Name, Label string }

// PieceName is the name of the scenario's quantity that holds the element a good product.
func (e Element) PieceName() string { return "piece_" + e.Name }

// elementPart is what a template writes for one quantity an element, elementSum for the sum of all.
const elementPart, elementSum = "{element}", "{elements}"

// readElements reads the list of a file, in its order.
func readElements(file string, n *yaml.Node) ([]Element, error) {
	var out []Element
	for i := 0; i+1 < len(n.Content); i += 2 {
		e := Element{Name: n.Content[i].Value}
		var more struct{ Label string }
		if err := n.Content[i+1].Decode(&more); err != nil {
			return nil, fmt.Errorf("%s:%d: %s: %w", file, n.Content[i].Line, e.Name, err)
		}
		if e.Label = more.Label; e.Label == "" {
			e.Label = table.Label(e.Name)
		}
		out = append(out, e)
	}
	return out, nil
}

// spreadElements writes out what the templates of the scopes say of every element.
func (lib *Library) spreadElements() {
	var names []string
	for _, e := range lib.Elements {
		names = append(names, e.Name)
	}
	sum := strings.Join(names, " + ")
	for _, t := range lib.Scopes {
		var items []Item
		for _, it := range t.Items {
			it.Is = strings.ReplaceAll(it.Is, elementSum, sum)
			if strings.Contains(it.Name, elementPart) {
				items = append(items, lib.ofEach(it)...)
				continue
			}
			if i := slices.Index(names, it.Name); i >= 0 && it.Label == table.Label(it.Name) {
				it.Label = lib.Elements[i].Label
			}
			items = append(items, it)
		}
		t.Items = items
	}
}

// ofEach makes an item an element of one that is written for all.
func (lib *Library) ofEach(it Item) []Item {
	var out []Item
	for _, e := range lib.Elements {
		one := it
		one.Name = strings.ReplaceAll(it.Name, elementPart, e.Name)
		one.Is = strings.ReplaceAll(it.Is, elementPart, e.Name)
		if one.Label = table.Label(one.Name); one.Name == e.Name {
			one.Label = e.Label
		}
		out = append(out, one)
	}
	return out
}

// isElement tells whether a name is that of an element.
func (s *Schema) isElement(name string) bool {
	return slices.ContainsFunc(s.Elements, func(e Element) bool { return e.Name == name })
}

// sweepQuantities are the quantities of a scenario that a sweep computes: the piece cost, then its elements.
func (s *Schema) sweepQuantities() []string {
	out := []string{"piece_cost"}
	for _, e := range s.Elements {
		out = append(out, e.PieceName())
	}
	return out
}
