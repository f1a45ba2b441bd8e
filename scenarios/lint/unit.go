package lint

import (
	"math"
	"regexp"
	"strings"
	"sync"

	"piececost/costmodel/units"
)

// system knows the units of the program and every currency of ISO 4217. The rates are made up: they only keep two
// currencies apart.
var system = sync.OnceValue(func() *units.System {
	rates := map[string]float64{}
	code := []byte("AAA")
	for n := range 26 * 26 * 26 {
		code[0], code[1], code[2] = 'A'+byte(n/676), 'A'+byte(n/26%26), 'A'+byte(n%26)
		if units.IsCurrency(string(code)) {
			rates[string(code)] = 2 + float64(n)*math.Pi*1e-4
		}
	}
	rates["EUR"] = 1
	s, err := units.NewSystem("EUR", rates)
	if err != nil {
		panic(err)
	}
	return s
})

// spellings are what other workbooks write for the symbols that the program reads.
var spellings = map[string]string{
	"€": "EUR", "$": "USD", "£": "GBP", "¥": "JPY", "sec": "s", "secs": "s", "seconds": "s", "mins": "min", "minutes": "min",
	"hr": "h", "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d", "inch": "in", "inches": "in", "lbs": "lb",
}

var unitWord = regexp.MustCompile(`[\pL€$£¥]+`)

// unitOf reads a unit; one without dimension (pcs, %) is none here.
func unitOf(text string) (units.Unit, bool) {
	text = strings.TrimSpace(text)
	if text == "" || len(text) > 30 {
		return units.Unit{}, false
	}
	u, err := system().Parse(unitWord.ReplaceAllStringFunc(text, func(w string) string {
		if s, ok := spellings[w]; ok {
			return s
		}
		return w
	}))
	u.Text = text
	return u, err == nil && u.Dim != units.None
}

// sameUnit tells whether two units mean the same however they are written: kg/m3 and kg/m^3.
func sameUnit(a, b units.Unit) bool {
	return a.Dim == b.Dim && math.Abs(a.Factor/b.Factor-1) < 1e-9 && a.Zero == b.Zero
}

const numberPart = `[+-]?[0-9]+(?:[.,' \x{a0}][0-9]+)*(?:[eE][+-]?[0-9]+)?`

var (
	unitBehind   = regexp.MustCompile(`^` + numberPart + `([ \x{a0}]*)([\pL€$£¥%°].*)$`)
	currencyFore = regexp.MustCompile(`^(€|\$|£|¥|[A-Z]{3} ?) ?` + numberPart + `$`)
)

// unitOfText reads the unit of "12 mm" or "$ 3.50". A single letter must stand apart from its number: 2a and 2d are
// keys.
func unitOfText(text string) (units.Unit, bool) {
	text = strings.TrimSpace(text)
	if m := unitBehind.FindStringSubmatch(text); m != nil {
		if m[1] == "" && len([]rune(m[2])) == 1 && strings.ToLower(m[2]) != strings.ToUpper(m[2]) {
			return units.Unit{}, false
		}
		return unitOf(m[2])
	}
	if m := currencyFore.FindStringSubmatch(text); m != nil {
		return unitOf(m[1])
	}
	return units.Unit{}, false
}

// unitOfFormat reads the unit that a number format shows: its words in quotes, behind backslashes and in [$...], in its
// first section.
func unitOfFormat(format string) (units.Unit, bool) {
	var words strings.Builder
	for i := 0; i < len(format) && format[i] != ';'; i++ {
		switch c := format[i]; c {
		case '"':
			end := strings.IndexByte(format[i+1:], '"')
			if end < 0 {
				return units.Unit{}, false
			}
			words.WriteString(format[i+1 : i+1+end])
			i += end + 1
		case '\\', '_', '*':
			if i++; c == '\\' && i < len(format) {
				words.WriteByte(format[i])
			}
		case '[':
			end := strings.IndexByte(format[i:], ']')
			if end < 0 {
				return units.Unit{}, false
			}
			if symbol, ok := strings.CutPrefix(format[i+1:i+end], "$"); ok {
				symbol, _, _ = strings.Cut(symbol, "-")
				words.WriteString(symbol)
			}
			i += end
		case '/', '$':
			words.WriteByte(c)
		default:
			if c >= 0x80 {
				words.WriteByte(c)
			}
		}
	}
	return unitOf(words.String())
}
