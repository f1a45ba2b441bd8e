package formula_test

import (
	"sync"
	"testing"

	"piececost/costmodel/formula"
)

// TestParseAtOnce: expressions may be parsed by many goroutines at once, known and unknown functions alike (for the race
// detector: the configuration of the parser is shared).
func TestParseAtOnce(t *testing.T) {
	sys := testUnits(t)
	texts := []string{"max(a, ceil(b))", "filter(a, b)", "unknown(a)", "sum(joined.mass) * 2", "a ? b : c", `"5 mm" + 1`}
	var wg sync.WaitGroup
	for range 8 {
		wg.Go(func() {
			for range 50 {
				for i, text := range texts {
					if _, err := formula.Parse(text, sys); (err != nil) != (i == 1 || i == 2) {
						t.Errorf("%s: %v", text, err)
					}
				}
			}
		})
	}
	wg.Wait()
}
