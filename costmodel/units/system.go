package units

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"sort"
	"strings"
	"sync"

	"golang.org/x/text/currency"
)

// A System is the set of units that a case may use: the symbols of this package and the currencies it has rates for.
// It is not changed after NewSystem and may be shared.
type System struct {
	model string
	rates map[string]float64 // model currency for 1 of the code
	money string             // both, as a text
	known sync.Map           // units that were read, by text: a case names few, each of them often
}

// NewSystem returns a system with the given model currency (ISO 4217 code) and exchange rates (model currency for one
// unit of the code). It fails on a code that ISO 4217 does not list, a rate that is no number above zero, and a rate other
// than 1 for the model currency.
func NewSystem(model string, rates map[string]float64) (*System, error) {
	s := &System{model: strings.ToUpper(strings.TrimSpace(model)), rates: map[string]float64{}}
	if !IsCurrency(s.model) {
		return nil, fmt.Errorf("%q is not a currency code of ISO 4217; write three letters such as EUR", model)
	}
	for _, code := range slices.Sorted(maps.Keys(rates)) {
		rate := rates[code]
		switch {
		case !IsCurrency(code):
			return nil, fmt.Errorf("%q is not a currency code of ISO 4217", code)
		case !(rate > 0) || math.IsInf(rate, 0):
			return nil, fmt.Errorf("the exchange rate of %s is %v; it must be above 0", code, rate)
		case code == s.model && rate != 1:
			return nil, fmt.Errorf("%s is the model currency, its rate must be 1, not %v", code, rate)
		}
		s.rates[code] = rate
	}
	s.rates[s.model] = 1
	s.money = fmt.Sprint(s.model, s.rates)
	return s, nil
}

// Currencies is the model currency and the exchange rates as a text: two systems of the same text read every unit alike.
func (s *System) Currencies() string { return s.money }

// ModelCurrency returns the code in which the engine computes.
func (s *System) ModelCurrency() string { return s.model }

// IsCurrency tells whether ISO 4217 lists the code (as carried by golang.org/x/text).
func IsCurrency(code string) bool {
	if len(code) != 3 || strings.ToUpper(code) != code {
		return false
	}
	_, err := currency.ParseISO(code)
	return err == nil
}

// MinorDigits returns the decimals of a currency's smallest coin: 2 for EUR, 0 for JPY; 2 for an unknown code.
func MinorDigits(code string) int32 {
	u, err := currency.ParseISO(code)
	if err != nil {
		return 2
	}
	scale, _ := currency.Standard.Rounding(u)
	return int32(scale)
}

// symbol looks a unit symbol up. "currency" stands for the model currency, whatever it is.
func (s *System) symbol(text string) (Unit, error) {
	if u, ok := symbols[text]; ok {
		return u, nil
	}
	if text == "currency" {
		return Unit{Dim: Currency, Factor: 1}, nil
	}
	if rate, ok := s.rates[text]; ok {
		return Unit{Dim: Currency, Factor: rate}, nil
	}
	if IsCurrency(text) {
		return Unit{}, fmt.Errorf("no exchange rate for %s; add a row for it to the sheet Currencies", text)
	}
	if near := s.nearest(text); near != "" {
		return Unit{}, fmt.Errorf("unknown unit %q; did you mean %s?", text, near)
	}
	return Unit{}, fmt.Errorf("unknown unit %q; units are such as mm, kg, s, h, kWh, EUR, 1 and what is made of them, such as EUR/kg", text)
}

// nearest finds a known symbol that differs from the text only in case, or by one of the spellings people use.
func (s *System) nearest(text string) string {
	if alias, ok := spellings[strings.ToLower(text)]; ok {
		return alias
	}
	var found []string
	for name := range symbols {
		if strings.EqualFold(name, text) {
			found = append(found, name)
		}
	}
	for code := range s.rates {
		if strings.EqualFold(code, text) {
			found = append(found, code)
		}
	}
	sort.Strings(found)
	return strings.Join(found, " or ")
}

// spellings maps what people write to the symbol they mean; never accepted silently, only suggested.
var spellings = map[string]string{
	"sec": "s", "secs": "s", "second": "s", "seconds": "s", "hr": "h", "hrs": "h", "hour": "h", "hours": "h",
	"minute": "min", "minutes": "min", "day": "d", "days": "d", "week": "wk", "weeks": "wk", "inch": "in", "inches": "in", "\"": "in",
	"feet": "ft", "ton": "t (1,000 kg)", "tons": "t (1,000 kg)", "tonne": "t (1,000 kg)", "tonnes": "t (1,000 kg)",
	"lbs": "lb", "pound": "lb", "€": "EUR", "$": "USD", "£": "GBP", "euro": "EUR", "percent": "%", "pct": "%",
	"y": "yr", "annum": "yr", "pa": "yr", "piece": "pieces", "cycle": "cycles",
	"sqm": "m2", "qm": "m2", "metre": "m", "meter": "m", "newton": "N", "ea": "1 (pieces are counts)",
	"kelvin": "K", "°k": "K", "degk": "K", "celsius": "degC", "fahrenheit": "degF", "ºc": "degC", "ºf": "degF",
	"amp": "A", "amps": "A", "ampere": "A", "amperes": "A", "volt": "V", "volts": "V", "ohms": "ohm", "degree": "deg (of an angle) or degC",
	"degrees": "deg (of an angle) or degC", "º": "deg", "radian": "rad", "radians": "rad", "kgco2": "kgCO2e", "gco2": "gCO2e", "tco2": "tCO2e",
}
