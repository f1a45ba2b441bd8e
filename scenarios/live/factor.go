package live

import (
	"math"
	"strconv"
)

// number writes a constant with the fewest digits that give it back, and at most 15, which is what spreadsheet programs
// keep.
func number(v float64) string {
	for digits := 1; digits < 15; digits++ {
		text := strconv.FormatFloat(v, 'G', digits, 64)
		if back, err := strconv.ParseFloat(text, 64); err == nil && back == v {
			return plain(v, text)
		}
	}
	return plain(v, strconv.FormatFloat(v, 'G', 15, 64))
}

// plain prefers 3600 to 3.6E+03.
func plain(v float64, text string) string {
	if a := math.Abs(v); a >= 1e-4 && a < 1e12 || a == 0 {
		n, err := strconv.ParseFloat(text, 64)
		if err != nil {
			return text
		}
		return strconv.FormatFloat(n, 'f', -1, 64)
	}
	return text
}

// snap takes a factor that is nearly a short decimal number for that number: 1/3.6e6*3600*1000 is 1.
func snap(k float64) float64 {
	text := strconv.FormatFloat(k, 'g', 12, 64)
	v, err := strconv.ParseFloat(text, 64)
	if err == nil && math.Abs(v-k) <= 4e-15*math.Abs(k) {
		return v
	}
	return k
}

// scaled multiplies a formula text by a factor, as *3600 or /3600, whichever is the shorter number.
func scaled(t term, k float64) term {
	k = snap(k)
	if k == 1 || t.text == "0" {
		return t
	}
	up, down := number(k), number(snap(1/k))
	if len(down) < len(up) {
		return term{text: wrap(t, precProduct) + "/" + down, prec: precProduct}
	}
	return term{text: wrap(t, precProduct) + "*" + up, prec: precProduct}
}
