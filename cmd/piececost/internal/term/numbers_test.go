package term

import "testing"

// TestNumbers holds how numbers are written.
func TestNumbers(t *testing.T) {
	for got, want := range map[string]string{
		Plural(0, "input"): "0 inputs", Plural(1, "input"): "1 input", Plural(1200, "input"): "1,200 inputs",
		Whole(-1234567): "-1,234,567", Grouped(1234.5, 2): "1,234.50", Volume(0.25): "0.25", Volume(60000): "60,000",
		Figure(0.000123456): "0.00012346", Figure(1234567): "1,234,567", Figure(1e-9): "1e-09", Trimmed("1,200.50"): "1,200.5", Trimmed("1,200"): "1,200",
		Signed(0, 1): "+0.0", SignedOrZero(-0.001, 2): "0.00", SignedOrZero(1500, 0): "+1,500",
		SmallAmount(0.001, 2): "<0.01", SmallAmount(12345.6, 2): "12,346", SmallAmount(0, 2): "0.00",
	} {
		if got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
}
