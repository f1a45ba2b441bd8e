package study

import (
	"fmt"
	"strings"

	"piececost/costmodel"
)

// CloseShare is the share of the cheapest cost below which the second best of a map counts as close.
const CloseShare = 0.01

// Letters name the scenarios of a map: their initials where they differ, else the alphabet.
func (m *Map) Letters() []string {
	var out []string
	seen := map[string]bool{}
	for _, s := range m.Scenarios {
		initial := strings.ToUpper(s.Name[:1])
		if initial < "A" || initial > "Z" || seen[initial] {
			out = nil
			break
		}
		seen[initial] = true
		out = append(out, initial)
	}
	for i := len(out); i < len(m.Scenarios); i++ {
		out = append(out, string(rune('A'+i%26)))
	}
	return out
}

// Letter writes a pair of values by the letters: a capital for the cheapest, a small one where the second best is close, a
// dash where nothing can be costed. j counts along Y, i along X.
func (m *Map) Letter(letters []string, j, i int) string {
	best := m.Cheapest[j][i]
	switch {
	case best < 0:
		return "-"
	case m.Margin[j][i] < CloseShare*m.Costs[best][j][i]:
		return strings.ToLower(letters[best])
	}
	return letters[best]
}

// Uncosted counts, for each scenario, the pairs of values at which it can't be costed, so that it is not among those compared
// there.
func (m *Map) Uncosted() []int {
	out := make([]int, len(m.Scenarios))
	for s := range m.Costs {
		for _, row := range m.Costs[s] {
			for _, v := range row {
				if v != v {
					out[s]++
				}
			}
		}
	}
	return out
}

// Notes say what a reader of a map must know beside its letters: where a scenario can't be costed, and whose own changes the
// axes take the place of.
func (m *Map) Notes() []string {
	var out []string
	pairs := len(m.Xs) * len(m.Ys)
	for s, n := range m.Uncosted() {
		if n > 0 {
			out = append(out, fmt.Sprintf("%s can't be costed at %d of the %d pairs; there the others alone are compared", m.Scenarios[s].Name, n, pairs))
		}
	}
	return append(out, replacedChanges(&m.X, &m.Y)...)
}

// Notes say whose own changes the axes of a table take the place of.
func (t *TwoWay) Notes() []string { return replacedChanges(&t.X, &t.Y) }

// replacedChanges names the scenarios that change a cell of an axis themselves.
func replacedChanges(inputs ...*costmodel.Varied) []string {
	var out []string
	for _, v := range inputs {
		if len(v.ChangedBy) > 0 {
			out = append(out, fmt.Sprintf("the scenario %s changes %s; the values of the axis take the place of the change",
				strings.Join(v.ChangedBy, ", "), v.Input))
		}
	}
	return out
}
