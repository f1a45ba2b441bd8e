package study

import "strings"

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
