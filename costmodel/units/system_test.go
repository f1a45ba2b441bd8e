package units_test

import (
	"math"
	"testing"

	"piececost/costmodel/units"
)

func TestSystem(t *testing.T) {
	s, err := units.NewSystem(" eur ", map[string]float64{"USD": 0.8, "EUR": 1, "JPY": 0.00625})
	if err != nil {
		t.Fatal(err)
	}
	if s.ModelCurrency() != "EUR" {
		t.Errorf("model currency %s", s.ModelCurrency())
	}
	for code, factor := range map[string]float64{"EUR": 1, "USD": 0.8, "JPY": 0.00625, "GBP": 0} { // 0: it has no rate
		if u, err := s.Parse(code); (err == nil) != (factor > 0) || err == nil && u.Factor != factor {
			t.Errorf("%s: %v, %v; want the factor %v", code, u.Factor, err, factor)
		}
	}
}

func TestSystemRefuses(t *testing.T) {
	for _, c := range []struct {
		model   string
		rates   map[string]float64
		message string
	}{
		{"", nil, `"" is not a currency code of ISO 4217; write three letters such as EUR`},
		{"EURO", nil, `"EURO" is not a currency code of ISO 4217; write three letters such as EUR`},
		{"QQQ", nil, `"QQQ" is not a currency code of ISO 4217; write three letters such as EUR`},
		{"EUR", map[string]float64{"usd": 1}, `"usd" is not a currency code of ISO 4217`},
		{"EUR", map[string]float64{"ZZZ": 1}, `"ZZZ" is not a currency code of ISO 4217`},
		{"EUR", map[string]float64{"USD": 0}, "the exchange rate of USD is 0; it must be above 0"},
		{"EUR", map[string]float64{"USD": -1}, "the exchange rate of USD is -1; it must be above 0"},
		{"EUR", map[string]float64{"USD": math.NaN()}, "the exchange rate of USD is NaN; it must be above 0"},
		{"EUR", map[string]float64{"USD": math.Inf(1)}, "the exchange rate of USD is +Inf; it must be above 0"},
		{"EUR", map[string]float64{"EUR": 1.1}, "EUR is the model currency, its rate must be 1, not 1.1"},
	} {
		if s, err := units.NewSystem(c.model, c.rates); err == nil || err.Error() != c.message {
			t.Errorf("NewSystem(%q, %v) = %v, %v\nwant the message %s", c.model, c.rates, s, err, c.message)
		}
	}
}

// TestCurrencyCodes checks codes and minor units against ISO 4217:2015, list one (from memory).
func TestCurrencyCodes(t *testing.T) {
	for code, minor := range map[string]int32{
		"EUR": 2, "USD": 2, "GBP": 2, "CHF": 2, "CNY": 2, "INR": 2, "MXN": 2, "PLN": 2, "CZK": 2, "SEK": 2, "BRL": 2,
		"JPY": 0, "KRW": 0, "VND": 0, "CLP": 0, "BHD": 3, "KWD": 3, "TND": 3, "JOD": 3,
	} {
		if !units.IsCurrency(code) || units.MinorDigits(code) != minor {
			t.Errorf("%s: listed %v, %d decimals, by ISO 4217 %d", code, units.IsCurrency(code), units.MinorDigits(code), minor)
		}
	}
	for _, code := range []string{"", "EU", "EURO", "eur", "Eur", "QQQ", "€", "12A"} {
		if units.IsCurrency(code) {
			t.Errorf("%q is taken for a currency", code)
		}
	}
	if units.MinorDigits("QQQ") != 2 {
		t.Errorf("an unknown code has %d decimals, not 2", units.MinorDigits("QQQ"))
	}
}

// TestRateConverts: money of another currency is worth its rate in model currency, per mass as well.
func TestRateConverts(t *testing.T) {
	s, err := units.NewSystem("USD", map[string]float64{"EUR": 1.25})
	if err != nil {
		t.Fatal(err)
	}
	for text, want := range map[string]float64{"2 EUR": 2.5, "2 USD": 2, "2 currency": 2, "1 EUR/t": 0.00125} { // by hand
		if q, err := s.ParseQuantity(text); err != nil || q.Coherent() != want {
			t.Errorf("%s = %v currency, %v; want %v", text, q.Coherent(), err, want)
		}
	}
}

// TestVanishingFactor: a rate may be as small as a number can be; its square is 0 in binary arithmetic, and as a unit would make
// every amount 0.
func TestVanishingFactor(t *testing.T) {
	sys, err := units.NewSystem("EUR", map[string]float64{"JPY": 1e-200})
	if err != nil {
		t.Fatal(err)
	}
	for _, text := range []string{"JPY2", "JPY*JPY", "1/(JPY*JPY)"} {
		if u, err := sys.Parse(text); err == nil || err.Error() != "the unit is too large or too small to compute with" {
			t.Errorf("%s: %v, %v", text, u, err)
		}
	}
}
