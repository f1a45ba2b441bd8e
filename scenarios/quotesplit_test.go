package scenarios

import (
	"math"
	"testing"
	"testing/fstest"
)

// splitTables are two suppliers by hand: no interest, one year, no tools but A's 1,000; A sells at 2.00 and from 6,000 a year at 1.50, up to
// 100 a week x 48 weeks at a peak factor of 1; B at 1.80 without end.
const splitQuotes = "Quantity,Unit,Request,A,B\nCurrency,,,EUR,EUR\nPrice,currency,,2,1.8\nPrice at 6000,currency,,1.5,\nAnnual volume,1/yr,10000,1000,1000\n" +
	"Part,,B05,,\nProgramme life,yr,1,,\nInterest rate,%/yr,0,,\nPeak factor,,1,,\nTools paid,currency,,1000,\nCapacity a week,1/wk,,150,\n"

// TestSplitsByHand: A delivers at most 7,200. At 5,000 B alone costs 9,000, A alone 11,000. At 8,000 B alone costs 14,400; A's 7,200 cost
// 11,800 and B's 800 cost 1,440, together 13,240. At 6,500 A alone costs 10,750 and B 11,700.
func TestSplitsByHand(t *testing.T) {
	files := withoutQuotes(t)
	files["quotes.csv"] = &fstest.MapFile{Data: []byte(splitQuotes)}
	a := askQuotes(t, files)
	splits, err := a.Splits(t.Context(), []float64{5000, 8000, 6500})
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		cost   float64
		pieces []float64
	}{{9000, []float64{5000}}, {13240, []float64{7200, 800}}, {10750, []float64{6500}}} {
		got := splits[i]
		if math.Abs(got.Cost-want.cost) > 1e-6 || len(got.Parts) != len(want.pieces) {
			t.Errorf("%v: %v in %d parts, want %v in %d", got.Volume, got.Cost, len(got.Parts), want.cost, len(want.pieces))
			continue
		}
		for k, n := range want.pieces {
			if math.Abs(got.Parts[k].Pieces-n) > 1e-6 {
				t.Errorf("%v: part %d is %v, want %v", got.Volume, k, got.Parts[k].Pieces, n)
			}
		}
	}
	if v, _ := a.Quotes.Given(a.Quotes.Request, "annual_volume"); v != 10000 {
		t.Errorf("the request asks for %v afterwards", v)
	}
}

// TestSplitIsLeast: no division of a volume on a grid costs less than the split.
func TestSplitIsLeast(t *testing.T) {
	files := withoutQuotes(t)
	files["quotes.csv"] = &fstest.MapFile{Data: []byte(splitQuotes)}
	a := askQuotes(t, files)
	hand := func(x, volume float64) float64 {
		price := 2.0
		if x >= 6000 {
			price = 1.5
		}
		tools := 0.0
		if x > 0 {
			tools = 1000
		}
		return x*price + tools + (volume-x)*1.8
	}
	for _, volume := range []float64{4000, 6100, 7300, 9000, 14000} {
		splits, err := a.Splits(t.Context(), []float64{volume})
		if err != nil {
			t.Fatal(err)
		}
		for x := 0.0; x <= math.Min(7200, volume); x += 25 {
			if hand(x, volume) < splits[0].Cost-1e-6 {
				t.Fatalf("%v: %v of A cost %v, less than %v", volume, x, hand(x, volume), splits[0].Cost)
			}
		}
	}
}
