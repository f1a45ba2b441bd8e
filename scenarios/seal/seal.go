package seal

import (
	"encoding/base64"
	"hash/fnv"
	"strconv"
	"strings"
)

// A Cell is a place on a sheet, both from 1.
type Cell struct{ Row, Col int }

// A Move says where a cell of a sheet stood, and how the sheet was called, when the formulas were written.
type Move func(sheet string, c Cell) (string, Cell)

// Stay is the Move of a workbook that is being written.
func Stay(sheet string, c Cell) (string, Cell) { return sheet, c }

// Canonical writes a formula of a sheet in one way only: no blanks, functions in capitals, numbers to 12 digits, every
// reference with its sheet and by the cell that it meant. ok is false where a reference is broken (#REF!): such a formula
// says nothing of what a person wanted.
func Canonical(sheet, formula string, move Move) (out string, ok bool) {
	var b strings.Builder
	ts := tokens(formula)
	for i := range ts {
		t := &ts[i]
		switch t.kind {
		case broken:
			return "", false
		case number:
			b.WriteString(digits(t.text))
		case reference:
			on := sheet
			if t.named {
				on = t.sheet
			}
			name, c := move(on, t.cell)
			b.WriteString("'" + name + "'!R" + strconv.Itoa(c.Row) + "C" + strconv.Itoa(c.Col))
		case word:
			if (t.text == "TRUE" || t.text == "FALSE") && i+2 < len(ts) && ts[i+1].text == "(" && ts[i+2].text == ")" {
				ts[i+1].text, ts[i+2].text = "", ""
			}
			b.WriteString(t.text)
		default:
			b.WriteString(t.text)
		}
		if t.text != "" {
			b.WriteByte(' ')
		}
	}
	return b.String(), true
}

// digits writes a number to 12 digits: spreadsheet programs keep 15, and not always the same ones.
func digits(text string) string {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return text
	}
	return strconv.FormatFloat(v, 'g', 12, 64)
}

// Size is the length of a print.
const Size = 4

// Print is a fingerprint of a canonical formula: one in 16 million others has the same.
func Print(canonical string) string {
	h := fnv.New32a()
	h.Write([]byte(canonical))
	n := h.Sum32()
	n ^= n >> 24 // all bits count
	return base64.RawURLEncoding.EncodeToString([]byte{byte(n >> 16), byte(n >> 8), byte(n)})
}

// Number is the canonical form of a number without a formula.
func Number(v float64) string { return "#" + strconv.FormatFloat(v, 'g', 12, 64) }

// Key is the canonical form of the key of a row.
func Key(text string) string { return "key:" + text }
