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

// quoteTablesOfOne are quoteTables with one scenario: what is written and computed is a third.
func quoteTablesOfOne(t testing.TB) fstest.MapFS {
	t.Helper()
	return sampleOf(t, []string{"B"}) // the part that is asked for is in it
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

// TestOwnRulesOfQuotes: rows of the sheet Processes change a rule's bound, define a quantity and add a check, as for any other row.
func TestOwnRulesOfQuotes(t *testing.T) {
	files := quoteTables(t)
	files["processes.csv"] = &fstest.MapFile{Data: []byte("Process,Quantity,Unit,Formula or value,Note\n" +
		"all quotes,r9_low,1,1.1,\nall quotes,paid_per_set,EUR,tools_paid_at_start / 2,\n" +
		"all quotes,check,,\"paid_per_set <= \"\"100000 EUR\"\"\",more than 100000 for a set\n" +
		"all quote lines,check,,used_amount <= quote.stated_price,a line is more than the price\n")}
	a := askQuotes(t, files)
	found := map[string]bool{}
	for _, o := range a.Offers {
		for _, f := range o.Findings {
			found[o.Quote.Key+" "+f.Rule.Name+" "+f.Rule.What] = true
		}
	}
	for _, want := range []struct {
		text string
		is   bool
	}{{"Q1 own more than 100000 for a set", true}, {"Q2 own more than 100000 for a set", true}, {"Q3 own more than 100000 for a set", false},
		{"Q3 r9 price without tools against its material", false}, {"Q1 own a line is more than the price", false}} {
		if found[want.text] != want.is {
			t.Errorf("%s: found %v", want.text, !want.is)
		}
	}
}

// TestBareQuote: a quote with nothing but currency, price, annual volume and delivery term comes through the whole chain, and with nothing
// of the request but the annual volume; what it does not state is an open point.
func TestBareQuote(t *testing.T) {
	files := withoutQuotes(t)
	files["quotes.csv"] = &fstest.MapFile{Data: []byte("Quantity,Unit,Request,Q1,Q2\nCurrency,,,EUR,EUR\nPrice,currency,,15,1500\nPrice unit,,,,100\n" +
		"Annual volume,1/yr,120000,120000,100000\nPart,,B05,,\nDelivery term,,,EXW,DDP\n")}
	a := askQuotes(t, files)
	for _, o := range a.Offers {
		for _, s := range o.Chain {
			if math.IsNaN(s.Change) && math.IsNaN(s.Sum) {
				t.Errorf("%s: step %d is not there", o.Quote.Key, s.Number)
			}
		}
		if got, _ := o.Entry.Value("stated_price"); got != 15 {
			t.Errorf("%s: stated price %v", o.Quote.Key, got)
		}
		if len(o.OpenPoints) < 10 {
			t.Errorf("%s: %d open points", o.Quote.Key, len(o.OpenPoints))
		}
	}
	if got, _ := a.Offers[0].Entry.Value("levelised_delivered_cost"); math.Abs(got-15) > 1e-9 {
		t.Errorf("delivered at %v", got)
	}
}

// withoutQuotes are the tables of the sample without its quotes and what belongs to them.
func withoutQuotes(t testing.TB) fstest.MapFS {
	files := sampleFiles(t)
	for _, name := range []string{"quotes", "quote_lines", "price_months", "freight_lanes"} {
		delete(files, name+".csv")
	}
	return files
}
