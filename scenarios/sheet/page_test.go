package sheet

import "testing"

// TestRowsOfLongNames: a long name's row is as high as its lines at the width of the columns, no more.
func TestRowsOfLongNames(t *testing.T) {
	for letters, want := range map[int]float64{90: 0, 50: 27, 30: 40.5} {
		p := &Page{Heights: map[int]float64{}}
		p.Grow(1, "A very long scenario name: today's tray with the bake-hardening cover, works 2", letters)
		if p.Heights[1] != want {
			t.Errorf("%d letters: %v, want %v", letters, p.Heights[1], want)
		}
	}
}
