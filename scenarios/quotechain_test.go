package scenarios

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// A quoteChainCase is a change of the sample's quotes by which a step of the chain takes another way; change is that of the step, by hand.
type quoteChainCase struct {
	with   []string
	quote  int
	step   int
	change float64
}

const interest = 0.09 // a year, of the sample's Case

// Of Q1 after step 6: its price and 6.45 kg that cost 0.86 instead of the mean of the quarter.
const invoicedQ1 = 15.46 + 6.45*(0.86-baseQ1)

var quoteChainCases = []quoteChainCase{
	{[]string{"Q1/1 | Amount | 9.00"}, 0, 2, 15.46 - 15.88},
	{[]string{"Q1/4 | Amount |"}, 0, 2, 1.42},
	{[]string{"Q1/5 | Agreed | 2.00"}, 0, 2, 0.51},
	{[]string{"Q2/3 | Agreed | 50.00"}, 1, 2, 412 - 409.56 + 7.2},
	{[]string{"Q1/6 | Element | tool", "Q1/6 | Amount | 1000"}, 0, 2, 0},
	{[]string{"Q1/6 | Element | tool", "Q1/6 | Amount | 1000", "Q1/6 | Agreed | 900"}, 0, 2, 0},
	{[]string{"Q1/6 | Element | other", "Q1/6 | Amount | 0.50"}, 0, 2, -0.50},
	{[]string{"Q2/6 | delete"}, 1, 4, 0},
	{[]string{"Q2 | Tools in price | 30.00"}, 1, 4, -30 * 0.0398},
	{[]string{"Q2/6 | Agreed | 35.00"}, 1, 4, -35 * 0.0398},
	{[]string{"Q2 | Price unit | 100", "Q2 | Price | 41200.00"}, 1, 4, -41.3 * 0.0398},
	// material: Q2's month is March, that of the request
	{[]string{"Q2 | Price month | 2025-01"}, 1, 5, 6.6*0.01 - 0.55*0},
	{[]string{"Q1 | Price month | 2024-12"}, 0, 5, 6.45*-0.01 - 0.4*-0.01},
	{[]string{"Q1 | Price month | 2024-11"}, 0, 5, 6.45*-0.05 - 0.4*-0.02}, // the last row before is of December 2023
	{[]string{"Q1 | Price month | 2023-09"}, 0, 5, 0},
	{[]string{"Request | Price month |"}, 0, 5, 0},
	{[]string{"Request | Price month | 2024-Q4"}, 0, 5, 6.45*((0.91+0.91+0.87)/3-baseQ1) - 0.4*((0.26+0.26+0.25)/3-0.24)},
	{[]string{"Q1 | Base month |"}, 0, 5, 0}, // of the quote date, February
	{[]string{"Q1 | Price month | 2024-12", "Q1/1 | Unit | lb"}, 0, 5, 6.45*0.45359237*-0.01 - 0.4*-0.01},
	{[]string{"Q1 | Price month | 2024-12", "Q1/2 | Unit | g", "Q1/2 | Quantity | 400"}, 0, 5, 6.45*-0.01 - 0.4*-0.01},
	{[]string{"Q1 | Price month | 2024-12", "Q1/2 | delete"}, 0, 5, 6.45 * -0.01},
	{[]string{"Q1 | Price month | 2024-12", "Q1/2 | delete", "Q1 | Scrap |"}, 0, 5, 6.45 * -0.01},
	{[]string{"Q1 | Price month | 2024-12", "Q1/2 | delete", "Q1 | Scrap | kept by supplier"}, 0, 5, 6.45 * -0.01},
	{[]string{"Q1 | Price month | 2024-12", "Q1/6 | Element | material", "Q1/6 | Amount | 1", "Q1/6 | Quantity | 1", "Q1/6 | Unit | kg"}, 0, 5,
		7.45*-0.01 - 0.4*-0.01},
	{[]string{"Q1 | Price month | 2024-12", "Q1/1 | Quantity | 5.00", "Q1/2 | Quantity |"}, 0, 5, 5 * -0.01}, // less than the part weighs: no scrap
	{[]string{"Q1 | Price month | 2024-12", "Q1/2 | delete", "Q1 | Scrap | netted"}, 0, 1, nan},
	{[]string{"price_months.csv | = | Material,Month,Base price,Scrap price", "price_months.csv | + | M07,2025-01,0.80,",
		"price_months.csv | + | M07,2025-03,0.86,0.24"}, 0, 5, 6.45 * (0.86 - (0.80+0.80+0.86)/3)}, // a list without prices of scrap
	{[]string{"N | Currency | EUR", "N | Price | 15", "N | Annual volume | 120000"}, 0, 1, nan}, // a quote without lines among others
	{[]string{"N | Currency | EUR", "N | Price | 15", "N | Annual volume | 120000", "N | Delivery term | FCA", "Request | Freight |"}, 3, 7, 0},
	{[]string{"parts.csv | + | P99", "parts.csv | P99 | Form | purchased part", "parts.csv | P99 | Purchase price | 0.40",
		"parts.csv | P99 | Purchase mass | 0.1",
		"bill_of_materials.csv | + | B05,P99,2,10", "Q2/7 | Element | purchased parts", "Q2/7 | Amount | 20"}, 0, 1, nan},
	// volume
	{[]string{"Q3 | Price at 120000 | 12.65", "Q3 | Price at 240000 | 12.00"}, 2, 6, 0.50},
	{[]string{"Q2 | Annual volume | 100000", "Q2 | Price at 120000 | 41000", "Q2 | Price unit | 100", "Q2 | Price | 41200"}, 1, 6, -2 * 0.0398},
	{[]string{"Q1 | Price at 120000 | 15.46"}, 0, 6, 0},
	{[]string{"machines.csv | E06 | Equipment allocation | dedicated"}, 2, 6, pressByHand * 1.12 * (1.0/120000 - 1.0/180000)},
	{[]string{"machines.csv | E06 | Equipment allocation | dedicated", "Q3 | Price at 120000 | 12.50"}, 2, 6, 0.35},
	// delivery
	{[]string{"Q1 | Freight |"}, 0, 7, 0.55},
	{[]string{"Q1 | Freight | 0"}, 0, 7, 0.55},
	{[]string{"Q1 | Freight | included"}, 0, 7, 0},
	{[]string{"Q1/6 | Element | freight", "Q1/6 | Amount | 0.20"}, 0, 7, 0},
	{[]string{"Q1 | Freight |", "Request | Freight |"}, 0, 7, 0},
	{append([]string{"Q1 | Freight |"}, lanes...), 0, 7, 0.55}, // the lane states none
	{[]string{"Q1 | Freight |", "Q1 | Place | North", "freight_lanes.csv | + | North,EXW,0.90,,", "freight_lanes.csv | + | North,FCA,0.70,,"}, 0, 7, 0.70},
	{[]string{"Q3 | Loading and export | 0.10"}, 2, 7, 0.55 + 0.10},
	{[]string{"Q3 | Loading and export | included"}, 2, 7, 0.55},
	{[]string{"Q2 | Freight | 25", "Request | Delivery term | FCA"}, 1, 7, -25 * 0.0398},
	{[]string{"Q2 | Freight | 0", "Request | Delivery term | EXW"}, 1, 7, -0.06},
	{[]string{"Q2 | Insurance | 2.5", "Request | Delivery term | CPT"}, 1, 7, -2.5 * 0.0398},
	{[]string{"Request | Insurance | 0.03"}, 0, 7, 0.42 + 0.03},
	{[]string{"Q1 | Insurance | included", "Request | Insurance | 0.03"}, 0, 7, 0.42},
	{[]string{"Request | Duty [%] | 4"}, 0, 7, 0.42 + 0.04*(invoicedQ1+0.42)},
	{[]string{"Q1 | Duty [%] | 3", "Request | Duty [%] | 4", "Request | Insurance | 0.05"}, 0, 7, 0.47 + 0.03*(invoicedQ1+0.47)},
	{[]string{"Q1 | Duty [%] | 0", "Request | Duty [%] | 4"}, 0, 7, 0.42 + 0.04*(invoicedQ1+0.42)},
	{[]string{"Q1 | Duty [%] | included", "Request | Duty [%] | 4"}, 0, 7, 0.42},
	{[]string{"Q1 | Delivery term | DDP", "Request | Duty [%] | 4"}, 0, 7, 0},
	{[]string{"Q2 | Freight | 25", "Q2 | Insurance | 5", "Request | Duty [%] | 4"}, 1, 7, 0.04 * 370.7 * 0.0398}, // the price holds both already
	{[]string{"Q1 | Place | North", "freight_lanes.csv | + | North,,,6,"}, 0, 7, 0.42 + 0.06*(invoicedQ1+0.42)},
	{[]string{"Q1 | Delivery term |", "Request | Delivery term | EXW"}, 0, 7, 0},
	{[]string{"Q1 | Delivery term | EXW", "Request | Delivery term |"}, 0, 7, 0.42 + 0.06},
	{[]string{"Q1 | Delivery term |", "Request | Delivery term |", "Request | Insurance | 0.03"}, 0, 7, 0},
	{[]string{"Q1 | Delivery term | EXW", "Request | Delivery term |", "Request | Insurance | 0.03"}, 0, 7, 0.42 + 0.06 + 0.03},
	{[]string{"Q1 | Loading and export | 0", "Request | Delivery term | EXW"}, 0, 7, 0}, // what the term includes may cost nothing
	{[]string{"Q2 | Insurance | 0", "Request | Insurance | 0.03", "Request | Delivery term | CPT"}, 1, 7, 0},
	{[]string{"Q1 | Insurance | 0.02", "Request | Insurance | 0.03"}, 0, 7, 0.42 + 0.02},
	{[]string{"Q1 | Duty [%] | 0.5", "Request | Duty [%] | 4"}, 0, 7, 0.42 + 0.005*(invoicedQ1+0.42)},
	{[]string{"Request | Loading and export |"}, 2, 7, 0.55},
	{[]string{"Q1 | Freight |", "Request | Freight |", "Q1 | Place | North", "freight_lanes.csv | + | North,,0.70,,"}, 0, 7, 0.70},
	{[]string{"Q1 | Freight | included", "Request | Freight |"}, 0, 7, 0},
	{[]string{"Q1 | Freight |", "Q1 | Delivery term | EXW", "Request | Delivery term | EXW", "Request | Freight |"}, 0, 7, 0},
	{[]string{"Q2 | Delivery term | EXW", "Q2 | Loading and export | 2"}, 1, 7, 2*0.0398 + 0.55},
	{[]string{"Q2 | Delivery term | EXW", "Q2 | Loading and export | 0"}, 1, 7, 0.06 + 0.55},
	{[]string{"Q2 | Delivery term | FCA", "Q2 | Insurance | 2.5", "Request | Insurance | 0.03"}, 1, 7, 0.55 + 2.5*0.0398},
	{[]string{"Q2 | Delivery term | FCA", "Q2 | Insurance | 0", "Request | Insurance | 0.03", "Request | Packaging | 0.11"}, 1, 7, 0.55 + 0.03},
	{[]string{"Q1 | Freight | included", "Request | Duty [%] | 4"}, 0, 7, 0.04 * invoicedQ1},
	{[]string{"Q1 | Insurance | included", "Request | Insurance | 0.03", "Request | Duty [%] | 4"}, 0, 7, 0.42 + 0.04*(invoicedQ1+0.42)},
	{[]string{"Q2 | Duty [currency] | 5"}, 1, 7, 5 * 0.0398},
	{[]string{"Q2 | Duty [currency] | 5", "Q2 | Delivery term | DDP"}, 1, 7, 0},
	// packaging
	{[]string{"Q1 | Packaging | 0.25", "Q1/6 | Element | packaging", "Q1/6 | Amount | 0.20"}, 0, 8, 0},
	{[]string{"Q1 | Packaging | 0.25"}, 0, 8, 0.25},
	{[]string{"Q2 | Packaging | 5"}, 1, 8, 5 * 0.0398},
	{[]string{"Q1 | Packaging |"}, 0, 8, 0.18},
	{[]string{"Q1 | Packaging |", "Request | Packaging |"}, 0, 8, 0},
	{[]string{"Q1 | Packaging |", "Q1/6 | Element | packaging", "Q1/6 | Amount | 0.20"}, 0, 8, 0},
	// payment and stock
	{[]string{"Q1 | Payment days | 90"}, 0, 9, -interest * 30 / 365 * invoicedQ1},
	{[]string{"Q1 | Payment days |"}, 0, 9, 0},
	{[]string{"Request | Payment days |"}, 0, 9, -interest * 60 / 365 * invoicedQ1},
	{[]string{"Request | Interest rate [%/yr] | 12", "Q1 | Payment days | 30"}, 0, 9, 0.12 * 30 / 365 * invoicedQ1},
	{[]string{"Q1 | Transit days | 20", "Request | Transit days | 5", "Request | Safety stock days | 10"}, 0, 10, interest * 30 / 365 * (invoicedQ1 + 0.42)},
	{[]string{"Request | Transit days | 5", "Q1 | Safety stock days | 4"}, 0, 10, interest * 9 / 365 * (invoicedQ1 + 0.42)},
	{[]string{"Q1 | Place | North", "freight_lanes.csv | + | North,,,,8", "Request | Transit days | 5"}, 0, 10, interest * 8 / 365 * (invoicedQ1 + 0.42)},
	// tools
	{[]string{"Q1 | Tool sets | 1"}, 0, 11, 2 * 278000 * pay9over6},
	{[]string{"Q1 | Tool sets | 1", "Q1 | Tool life | 720000"}, 0, 11, 278000 * pay9over6},
	{[]string{"Q1 | Tool sets | 3"}, 0, 11, 278000 * pay9over6},
	{[]string{"Q2 | Tools paid | 1000000", "Q2 | Tool sets | 1", "Q2/6 | delete"}, 1, 11, 2 * 39800 * pay9over6},
	{[]string{"Q2 | Tools paid |", "Q2/6 | delete", "Q2/7 | Element | tool", "Q2/7 | Amount | 2000000", "Q2/7 | Quantity | 2", "Q2/7 | Life | 200000"}, 1, 11,
		2 * 39800 * pay9over6},
	{[]string{"Q1 | Tool sets | 1", "Q1/6 | Element | tool", "Q1/6 | Amount | 1000", "Q1/6 | Quantity | 1", "Q1/6 | Life | 720000"}, 0, 11, 278000 * pay9over6},
	{[]string{"Q1/6 | Element | tool", "Q1/6 | Amount | 1000", "Q1/6 | Quantity | 1", "Q1/6 | Life | 719999", "Q1/7 | Element | tool",
		"Q1/7 | Amount | 500"}, 0, 11,
		278000 * pay9over6}, // a tool states neither sets nor life, so the sum is for all
	{[]string{"Q1 | Tools paid | 0", "Q1 | Tools in price | 2.00"}, 0, 11, 2}, // what is paid over the programme stays what it was
	{[]string{"Q1 | Tools paid |", "Q1 | Tools in price | 2.00", "Q1 | Tool pieces | 360000"}, 0, 11, 240000 * 2.531294665988177 * pay9over6},
	{[]string{"Q1 | Tools paid |", "Q1 | Tools in price | 2.00", "Q1 | Tool pieces | 180000"}, 0, 11, 240000 * presentOf18Months * pay9over6},
	{[]string{"Q1 | Tool sets | 2", "Q1 | Tool life | 200000"}, 0, 11, 2 * 278000 * pay9over6}, // four sets needed, two there
	{[]string{"Request | Interest rate [%/yr] | 0.5", "Q1 | Tools paid |", "Q1 | Tools in price | 2.00", "Q1 | Tool pieces | 360000"}, 0, 1, nan},
	{[]string{"Request | Interest rate [%/yr] | 0"}, 0, 11, 278000.0 / 720000},
	{[]string{"Request | Interest rate [%/yr] | 0", "Q1 | Tools paid |", "Q1 | Tools in price | 2.00", "Q1 | Tool pieces | 360000"}, 0, 11, 1},
	{[]string{"Request | Programme life | 1"}, 0, 11, 278000 * 1.09 / 120000},
	{[]string{"Request | Programme life |"}, 0, 11, 278000 * pay9over6},
	// yearly reductions: the factor by hand for a programme of two years is (1/1.09 + k/1.09²)/(1/1.09 + 1/1.09²)
	{[]string{"Request | Programme life | 2"}, 0, 12, (2.07/2.09 - 1) * invoicedQ1},
	{[]string{"Request | Programme life | 2", "Q1 | Reduced from year | 3"}, 0, 12, 0},
	{[]string{"Request | Programme life | 2", "Q1 | Reduced from year | 1"}, 0, 12, ((0.98*1.09+0.98*0.98)/2.09 - 1) * invoicedQ1},
	{[]string{"Request | Programme life | 2", "Q1 | Yearly reduction |"}, 0, 12, 0},
	{[]string{"Request | Programme life | 2", "Q1 | Yearly reduction | -9"}, 0, 12, (2.18/2.09 - 1) * invoicedQ1}, // rises as fast as it is discounted
	{[]string{"Request | Programme life | 2", "Q1 | Yearly reduction | -20"}, 0, 12, (2.29/2.09 - 1) * invoicedQ1},
	{[]string{"Request | Programme life | 2", "Q1 | Reduction base | value added"}, 0, 12, (2.07/2.09 - 1) * (15.46 - 8.58 + 0.10)},
	{[]string{"Request | Programme life | 2", "Q2 | Reduction base | value added", "Q2/7 | Element | purchased parts", "Q2/7 | Amount | 10"}, 1, 12,
		(2.06/2.09 - 1) * (370.7 - 228.36 - 10) * 0.0398},
	{[]string{"Request | Programme life | 2", "Request | Interest rate [%/yr] | 0"}, 0, 12, -0.01 * invoicedQ1},
	{[]string{"Request | Interest rate [%/yr] | 0", "Q1 | Reduced from year | 9"}, 0, 12, 0},
	{[]string{"Q1 | Reduced from year | 4"}, 0, 12, (reducedFromFour - 1) * invoicedQ1},
	{[]string{"Request | Programme life | 4", "Q1 | Yearly reduction | -9"}, 0, 1, nan},
	{[]string{"Request | Programme life | 4", "Q1 | Yearly reduction | -9", "Q1 | Reduced from year | 3"}, 0, 1, nan},
	// one-off costs
	{[]string{"Q1 | One-off costs | 50000"}, 0, 13, 50000 * pay9over6},
	{[]string{"Q2 | One-off costs | 50000"}, 1, 13, 50000 * 0.0398 * pay9over6},
}

// reducedFromFour is the levelised factor of 2 % a year from the fourth year on, at 9 % over six: ones for three years, then 0.98, 0.9604,
// 0.941192, each times the present worth of its year (tables of compound interest at 9 %: 0.91743, 0.84168, 0.77218, 0.70843, 0.64993, 0.59627).
const reducedFromFour = (0.9174311927 + 0.8416799933 + 0.7721834801 + 0.98*0.7084252111 + 0.9604*0.6499313863 + 0.941192*0.5962673269) / worth9of6

// TestQuoteChain takes each step of the chain by another way; the step is what a pocket calculator gives, and all else that of the
// reference.
func TestQuoteChain(t *testing.T) {
	sample := smallQuoteSheets(t)
	for _, c := range quoteChainCases {
		of, a := mustAsk(t, strings.Join(c.with, "; "), sample.edit(t, c.with...))
		reportDifferences(t, of.reference(t), a)
		got := a.Offers[c.quote].Chain[c.step-1]
		if !sameTo(got.Change, c.change, 1e-7) {
			t.Errorf("with %v: step %d of %s changes %v, want %v", c.with, c.step, a.Offers[c.quote].Quote.Key, got.Change, c.change)
		}
		if t.Failed() {
			t.Fatalf("with %v", c.with)
		}
	}
}

// quoteTermAmounts are amounts of both sides for what a delivery term may include.
var quoteTermAmounts = []string{"delete | Q3", "Request | Insurance | 0.04", "Request | Duty [%] | 4", "Q1 | Loading and export | 0.07",
	"Q2 | Freight | 20", "Q2 | Insurance | 3"}

var deliveryTerms = []string{"EXW", "FCA", "FAS", "FOB", "CPT", "CFR", "CIP", "CIF", "DAP", "DPU", "DDP"}

// quoteTermCases are each term asked for, and each offered, against EXW and DDP.
var quoteTermCases = func() (out [][]string) {
	for _, term := range deliveryTerms {
		for _, other := range []string{"EXW", "DDP"} {
			out = append(out, append(slices.Clone(quoteTermAmounts), "Request | Delivery term | "+term, "Q1 | Delivery term | "+other,
				"Q2 | Delivery term | "+other),
				append(slices.Clone(quoteTermAmounts), "Request | Delivery term | "+other, "Q1 | Delivery term | "+term, "Q2 | Delivery term | "+term))
		}
	}
	return out
}()

// TestQuoteChainTerms: every delivery term against every other, with amounts of both sides.
func TestQuoteChainTerms(t *testing.T) {
	sample := smallQuoteSheets(t).edit(t, quoteTermAmounts...)
	terms := deliveryTerms
	for i, asked := range terms {
		for k, own := range terms {
			if testing.Short() && (i+k)%4 != 0 {
				continue
			}
			of, a := mustAsk(t, own+" to "+asked, sample.edit(t, "Request | Delivery term | "+asked, "Q1 | Delivery term | "+own,
				"Q2 | Delivery term | "+terms[(k+3)%len(terms)]))
			if d := of.reference(t).differs(a); len(d) > 0 {
				t.Fatalf("%s asked, %s offered: %v", asked, own, d)
			}
		}
	}
}

// pressByHand is what one hydroforming press costs a year: capital, building, maintenance.
var pressByHand = 3300000*1.12*crf(0.09, 12) + 160*1.5*1600*crf(0.09, 30) + 3300000*1.12*0.05

// TestQuoteVolumeFromModel: where the supplier states no price at the requested volume, whole machines and crew shifts of the should-cost move
// with it. By hand for one dedicated hydroforming press: capital and building by the annuities of 9 % over 12 and 30 years (0.13965066,
// 0.09733635), maintenance, with 12 % of overhead.
func TestQuoteVolumeFromModel(t *testing.T) {
	sheets := smallQuoteSheets(t).edit(t, "machines.csv | E06 | Equipment allocation | dedicated")
	of, a := mustAsk(t, "dedicated", sheets)
	reportDifferences(t, of.reference(t), a)
	want := pressByHand * 1.12 * (1.0/120000 - 1.0/180000)
	if got := a.Offers[2].Chain[5].Change; math.Abs(got-want) > 1e-9 {
		t.Errorf("180,000 to 120,000 a year changes the price by %v, want %v", got, want)
	}
	if got := a.Offers[2].Chain[5].Assumed; !slices.Contains(got, "Volume change") {
		t.Errorf("what stands in is %v", got)
	}
	// the price stated at the requested volume goes before the model
	of, a = mustAsk(t, "dedicated", sheets.edit(t, "Q3 | Price at 120000 | 12.50"))
	reportDifferences(t, of.reference(t), a)
	if got := a.Offers[2].Chain[5]; math.Abs(got.Change-0.35) > 1e-9 || len(got.Assumed) > 0 {
		t.Errorf("with a price at 120,000: %v", got)
	}
}

// TestQuoteAssumed: a step is marked as assumed where the request or the should-cost stands in for what the supplier did not state, and only
// where that moves the step.
func TestQuoteAssumed(t *testing.T) {
	sample := smallQuoteSheets(t)
	for _, c := range []struct {
		with        []string
		quote, step int
		want        string
	}{
		{nil, 0, 7, ""}, {nil, 2, 7, "Loading of the request, Freight of lane or request"}, {nil, 2, 8, "Packaging of the request"}, {nil, 0, 11, ""}, {nil,
			2, 9, ""},
		{nil, 0, 5, ""}, {nil, 1, 11, ""}, {[]string{"Q1/1 | Quantity |"}, 0, 5, "Gross mass"}, {[]string{"Q1/2 | Quantity |",
			"Q1 | Price month | 2024-12"}, 0, 5, "Offal mass"},
		{[]string{"Q1 | Tools in price | 1"}, 0, 11, "Tool pieces"}, {[]string{"Request | Transit days | 5"}, 0, 10, "Transit days, Safety stock days"},
		{[]string{"Q1 | Freight | 0"}, 0, 7, "Freight of lane or request"},
	} {
		_, a := mustAsk(t, "assumed", sample.edit(t, c.with...))
		if got := strings.Join(a.Offers[c.quote].Chain[c.step-1].Assumed, ", "); got != c.want {
			t.Errorf("with %v: step %d of quote %d assumes %q, want %q", c.with, c.step, c.quote+1, got, c.want)
		}
	}
}
