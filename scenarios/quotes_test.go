package scenarios

import (
	"math"
	"testing"
	"testing/fstest"

	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/templates"
)

// quoteTables are the tables of the sample with its three quotes of part B05.
func quoteTables(t testing.TB) fstest.MapFS {
	t.Helper()
	return sampleFiles(t)
}

// askQuotes answers for the quotes of tables; findings of the quotes themselves are a failure.
func askQuotes(t *testing.T, files fstest.MapFS) *quote.Answer {
	t.Helper()
	c, err := ReadTables(files, "quotes")
	if err != nil {
		t.Fatal(err)
	}
	lib, err := costmodel.LoadQuotes(templates.Files)
	if err != nil {
		t.Fatal(err)
	}
	m := costmodel.New(c, testLibrary(t))
	reportProblems(t, m.Diagnostics)
	a, ds, err := quote.Ask(t.Context(), costmodel.ReadQuotes(m, lib))
	reportProblems(t, ds)
	if err != nil || a == nil {
		t.Fatal("no answer", err)
	}
	return a
}

// TestQuoteChainByHand: steps of the sample's quotes that a pocket calculator gives from quotes and price months: the rate of CZK, three
// months of a quarter, packaging and freight of the request, days of payment at the case's 10 % a year.
func TestQuoteChainByHand(t *testing.T) {
	a := askQuotes(t, quoteTables(t))
	rate := a.Quotes.CaseValue("interest_rate")
	for _, c := range []struct {
		quote int
		name  string
		want  float64
	}{
		{1, "price_in_model_currency", 412 * 0.0398}, {1, "addition_error", 412 - (228.36 + 57.20 + 34.10 + 48.60 + 41.30)},
		{1, "tools_taken_out", -41.30 * 0.0398}, {0, "material_change", 6.45 * (0.86 - (0.85+0.86+0.86)/3)},
		{2, "material_change", 6.20*(0.86-(0.92+0.93+0.91)/3) - 0.15*(0.24-(0.27+0.27+0.26)/3)},
		{0, "delivery_change", 0.42}, {1, "delivery_change", 0}, {2, "delivery_change", 0.55 + 0.06},
		{0, "packaging_change", 0}, {2, "packaging_change", 0.18},
		{1, "payment_change", rate * 15 / 365 * (412 - 41.30) * 0.0398}, {0, "payment_change", 0},
		{1, "amortisation_years", 3}, {1, "tools_paid_at_start", 275000},
		{0, "tools_change", 278000 * rate / (1 - math.Pow(1+rate, -6)) / 120000},
		{0, "levelised_factor", reducedByHand(0.02, rate, 6)}, {2, "levelised_factor", reducedByHand(0.05, rate, 6)},
	} {
		got, ok := a.Offers[c.quote].Entry.Value(c.name)
		if !ok || math.Abs(got-c.want) > 1e-9*math.Max(1, math.Abs(c.want)) {
			t.Errorf("%s: %s is %v, want %v", a.Offers[c.quote].Quote.Key, c.name, got, c.want)
		}
	}
}

// reducedByHand is the levelised factor of a yearly reduction from the second year on, year by year.
func reducedByHand(reduction, rate, years float64) float64 {
	paid, worth := 0.0, 0.0
	for t := 0.0; t < years; t++ {
		paid += math.Pow(1-reduction, t) / math.Pow(1+rate, t+1)
		worth += 1 / math.Pow(1+rate, t+1)
	}
	return paid / worth
}
