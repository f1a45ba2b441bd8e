package costmodel

import (
	"testing"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/templates"
)

// TestMoneyOfQuotes: no equation of a quote adds money of its own currency to that of the model, or compares the two, and steps of the chain
// from the exchange on are in the model currency.
func TestMoneyOfQuotes(t *testing.T) {
	lib, err := LoadQuotes(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	sys, err := units.NewSystem("EUR", map[string]float64{"CZK": 0.04})
	if err != nil {
		t.Fatal(err)
	}
	var ds table.Diagnostics
	s := newSchema(lib.library(nil), sys, nil, nil, &ds)
	reportAll(t, ds)
	c := CurrenciesOf(&Model{Schema: s})
	for _, scope := range []string{"quote", "quote line"} {
		sc := s.Scope(scope)
		for n := range sc.Quantities {
			c.OfQuote(sc, int32(n))
		}
	}
	for _, mixed := range c.Mixed {
		t.Error("two currencies together:", mixed)
	}
	for name, own := range map[string]bool{"price": true, "stated_price": true, "addition_error": true, "tools_in_price": true,
		"price_in_model_currency": false, "tools_taken_out": false, "volume_change": false, "levelised_delivered_cost": false, "freight_amount": false,
		"quoted_process": false, "hour_cost": false, "model_price": false, "r1_value": true, "r1_high": true, "r1_effect": false, "r16_value": false} {
		sc := s.Scope("quote")
		if got := c.OfQuote(sc, sc.MustQuantity(name)); got != own {
			t.Errorf("%s is in the quote's currency: %v, want %v", name, got, own)
		}
	}
	lines := s.Scope("quote line")
	for name, own := range map[string]bool{"amount": true, "time_product": true, "machine_rate": true, "r2_high": true, "r2_effect": false, "time": false} {
		if got := c.OfQuote(lines, lines.MustQuantity(name)); got != own {
			t.Errorf("%s of a line is in the quote's currency: %v, want %v", name, got, own)
		}
	}
}

func reportAll(t *testing.T, ds table.Diagnostics) {
	t.Helper()
	for _, d := range ds {
		t.Error(d)
	}
}
