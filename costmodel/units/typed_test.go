package units_test

import (
	"errors"
	"testing"

	"piececost/costmodel/units"
)

// TestParseTyped holds which lone numbers are refused since their point may be a thousands separator, and which are not.
func TestParseTyped(t *testing.T) {
	s := euros(t)
	for text, want := range map[string]string{
		"310.000":      "can be read as 310 or as 310,000; type it as a number, or write 310 or 310000",
		"310.000 kg":   "can be read as 310 or as 310,000; type it as a number, or write 310 or 310000",
		"310.000kg":    "can be read as 310 or as 310,000; type it as a number, or write 310 or 310000",
		"310.000 /yr":  "can be read as 310 or as 310,000; type it as a number, or write 310 or 310000",
		"-3.725 mm":    "can be read as -3.725 or as -3,725; type it as a number, or write -3.7250 or -3725",
		" = 1.500 ":    "can be read as 1.5 or as 1,500; type it as a number, or write 1.5 or 1500",
		"12345.678 mm": "can be read as 12345.678 or as 12,345,678; type it as a number, or write 12345.6780 or 12345678",
		"1.500 %":      "can be read as 1.5 or as 1,500; type it as a number, or write 1.5 or 1500",
	} {
		if q, err := s.ParseTyped(text); err == nil || err.Error() != want {
			t.Errorf("%q: %+v, %v; want %q", text, q, err, want)
		}
	}
	for text, want := range map[string]float64{
		"0.125": 0.125, "-0.125 m": -0.125, "310.0": 310, "310.00": 310, "310.0000": 310, "310": 310, "3.725e3": 3725, ".125": 0.125, "00.125": 0.125,
	} {
		if q, err := s.ParseTyped(text); err != nil || q.Number != want {
			t.Errorf("%q: %+v, %v; want %v", text, q, err, want)
		}
	}
	for _, text := range []string{"3.725 * 2", "=3.725*2", "3.725/2", "310.000 > 2 ? 1 : 2", "=x", "3.125 + 1"} {
		if q, err := s.ParseTyped(text); !errors.Is(err, units.ErrNotQuantity) {
			t.Errorf("%q: %+v, %v; it is a formula", text, q, err)
		}
	}
	for _, text := range []string{"1.234.567", "1.234.567 kg", "-1.234.567"} {
		if q, err := s.ParseQuantity(text); err == nil || errors.Is(err, units.ErrNotQuantity) {
			t.Errorf("%q: %+v, %v; it has separators", text, q, err)
		}
	}
}

// TestWriteNumber holds that a number that is written for a cell is read as itself.
func TestWriteNumber(t *testing.T) {
	s := euros(t)
	for _, text := range []string{"310.000", "3.725", "0.125", "12", "-1.5e3", "1234.567", "1e-7"} {
		q, err := s.ParseQuantity(text)
		if err != nil {
			t.Fatal(err)
		}
		if back, err := s.ParseTyped(units.WriteNumber(q.Number, text) + " kg"); err != nil || back.Number != q.Number {
			t.Errorf("%q is written %q, and read as %+v, %v", text, units.WriteNumber(q.Number, text), back, err)
		}
	}
}
