package seal

import (
	"encoding/base64"
	"hash/fnv"
	"strconv"
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
	var s Scribe
	ok = s.write(sheet, formula, move)
	return string(s.text), ok
}

// A Scribe makes fingerprints of many formulas without setting memory aside for each.
type Scribe struct {
	tokens []token
	text   []byte
}

// Print is the fingerprint of the canonical form of a formula.
func (s *Scribe) Print(sheet, formula string, move Move) (print string, ok bool) {
	if !s.write(sheet, formula, move) {
		return "", false
	}
	return printOf(s.text), true
}

func (s *Scribe) write(sheet, formula string, move Move) bool {
	s.tokens, s.text = cut(s.tokens[:0], formula), s.text[:0]
	ts := s.tokens
	for i := range ts {
		t := &ts[i]
		switch t.kind {
		case broken:
			return false
		case number:
			s.text = digits(s.text, t.text)
		case reference:
			on := sheet
			if t.named {
				on = t.sheet
			}
			name, c := move(on, t.cell)
			s.text = append(append(append(s.text, '\''), name...), "'!R"...)
			s.text = append(strconv.AppendInt(s.text, int64(c.Row), 10), 'C')
			s.text = strconv.AppendInt(s.text, int64(c.Col), 10)
		case word:
			if (t.text == "TRUE" || t.text == "FALSE") && i+2 < len(ts) && ts[i+1].text == "(" && ts[i+2].text == ")" {
				ts[i+1].text, ts[i+2].text = "", ""
			}
			s.text = append(s.text, t.text...)
		default:
			s.text = append(s.text, t.text...)
		}
		if t.text != "" {
			s.text = append(s.text, ' ')
		}
	}
	return true
}

// digits writes a number to 12 digits: spreadsheet programs keep 15, and not always the same ones.
func digits(to []byte, text string) []byte {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		return append(to, text...)
	}
	return strconv.AppendFloat(to, v, 'g', 12, 64)
}

// letters are those of base64 without the underscore: a workbook reads _x0041_ in a text as a character (ECMA-376 part 1,
// 22.9.2.19), and among a million fingerprints some would look like that.
var letters = base64.NewEncoding("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-.").WithPadding(base64.NoPadding)

// Size is the length of a print.
const Size = 4

// Print is a fingerprint of a canonical formula: one in 16 million others has the same.
func Print(canonical string) string { return printOf([]byte(canonical)) }

func printOf(canonical []byte) string {
	h := fnv.New32a()
	h.Write(canonical)
	n := h.Sum32()
	n ^= n >> 24 // all bits count
	return letters.EncodeToString([]byte{byte(n >> 16), byte(n >> 8), byte(n)})
}

// Number is the canonical form of a number without a formula.
func Number(v float64) string { return "#" + strconv.FormatFloat(v, 'g', 12, 64) }

// Key is the canonical form of the key of a row.
func Key(text string) string { return "key:" + text }
