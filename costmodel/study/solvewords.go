package study

import "fmt"

// Wanted says break-even values of a measure: target is the piece cost in words where it is held against no other scenario.
func (m Measure) Wanted(target string) string {
	switch {
	case m.Against == nil:
		return fmt.Sprintf("%s costs %s", m.Scenario.Name, target)
	case m.PayMass:
		return fmt.Sprintf("%s costs what %s costs, mass saved counted at its allowable cost", m.Scenario.Name, m.Against.Name)
	}
	return fmt.Sprintf("%s costs what %s costs", m.Scenario.Name, m.Against.Name)
}

// Misses tells whether values were costed but none of them does it.
func (s *Solution) Misses() bool { return !s.Idle && len(s.Roots) == 0 && s.Miss == s.Miss }

// NotFound says why there is no value; it is empty where there is one.
func (s *Solution) NotFound() string {
	switch {
	case s.Idle:
		return "it moves nothing here"
	case len(s.Roots) > 0:
		return ""
	case !s.Misses():
		return "no value in this range can be costed"
	case s.Range == RangePlausible:
		return "no value in its plausible range does it"
	}
	return "no value in this range does it"
}

// TooMuch says on which side a miss lies.
func TooMuch(miss float64) string {
	if miss > 0 {
		return "too much"
	}
	return "too little"
}
