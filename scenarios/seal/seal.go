package seal

import (
	"encoding/base64"
	"hash/fnv"
	"strconv"
	"strings"

	"piececost/scenarios/sheetformula"
)

// A Cell is a place on a sheet, both from 1. Row or Col is 0 for a whole column or row.
type Cell struct{ Row, Col int }

// A Move says where a cell of a sheet stood, and how the sheet was called, when the formulas were written.
type Move func(sheet string, c Cell) (string, Cell)

// Stay is the Move of a workbook that is being written.
func Stay(sheet string, c Cell) (string, Cell) { return sheet, c }

// A Scribe makes fingerprints of many formulas without setting memory aside for each. It writes a formula in one way only:
// no blanks, functions in capitals, numbers to 12 digits, every reference with its sheet and by the cell that it meant.
type Scribe struct {
	tokens []sheetformula.Token
	text   []byte
}

// Fingerprint is the fingerprint of a formula of a sheet. ok is false where a reference is broken (#REF!): such a formula says
// nothing of what a person wanted.
func (s *Scribe) Fingerprint(sheet, formula string, move Move) (fingerprint string, ok bool) {
	if !s.write(sheet, formula, move) {
		return "", false
	}
	return of(s.text), true
}

func (s *Scribe) write(sheet, formula string, move Move) bool {
	s.tokens, s.text = sheetformula.Append(s.tokens[:0], withoutSign(formula)), s.text[:0]
	for i := 0; i < len(s.tokens); i++ {
		t := &s.tokens[i]
		switch t.Kind {
		case sheetformula.ErrorValue:
			return false
		case sheetformula.Number:
			s.text = digits(s.text, t.Text)
		case sheetformula.Reference:
			if s.spans(i) { // Parts!A1:Parts!B2
				t.Ref.Row2, t.Ref.Col2 = s.tokens[i+2].Ref.Row2, s.tokens[i+2].Ref.Col2
				i += 2
			}
			s.reference(sheet, &t.Ref, move)
		case sheetformula.Function:
			s.text = append(s.text, t.Text...)
			if (t.Text == "TRUE" || t.Text == "FALSE") && i+1 < len(s.tokens) && s.tokens[i+1].Kind == sheetformula.Closing {
				i++ // TRUE() is TRUE
				break
			}
			s.text = append(s.text, '(')
		case sheetformula.Open:
			s.text = append(s.text, '(')
		case sheetformula.Closing:
			s.text = append(s.text, ')')
		case sheetformula.Name:
			s.text = append(s.text, strings.ToUpper(t.Text)...)
		default:
			s.text = append(s.text, t.Text...)
		}
		s.text = append(s.text, ' ')
	}
	return true
}

func withoutSign(formula string) string { return strings.TrimPrefix(strings.TrimSpace(formula), "=") }

// spans tells whether two cells of one sheet with a colon between them stand at a place.
func (s *Scribe) spans(i int) bool {
	if i+2 >= len(s.tokens) || s.tokens[i+1].Text != ":" || s.tokens[i+2].Kind != sheetformula.Reference {
		return false
	}
	a, z := &s.tokens[i].Ref, &s.tokens[i+2].Ref
	return a.Single() && z.Single() && a.Sheet == z.Sheet && a.Book == "" && z.Book == ""
}

// reference writes a reference by the cells that it meant.
func (s *Scribe) reference(sheet string, r *sheetformula.Ref, move Move) {
	if r.Book != "" || r.Last != "" { // of another workbook, or of several sheets: as it stands
		s.text = append(s.text, "["+r.Book+"]"+r.Sheet+":"+r.Last+"!"...)
		s.corner(Cell{r.Row1, r.Col1})
		s.corner(Cell{r.Row2, r.Col2})
		return
	}
	on := sheet
	if r.Sheet != "" {
		on = r.Sheet
	}
	first, last := corners(&r.Area)
	name, was := move(on, first)
	s.text = append(append(append(s.text, '\''), name...), "'!"...)
	s.corner(was)
	if !r.Single() {
		_, was = move(on, last)
		s.text = append(s.text, ':')
		s.corner(was)
	}
}

// corners are the first and last cell of an area; a whole column has no row, a whole row no column.
func corners(a *sheetformula.Area) (first, last Cell) {
	first, last = Cell{a.Row1, a.Col1}, Cell{a.Row2, a.Col2}
	if a.Row1 == 1 && a.Row2 == sheetformula.LastRow {
		first.Row, last.Row = 0, 0
	}
	if a.Col1 == 1 && a.Col2 == sheetformula.LastCol {
		first.Col, last.Col = 0, 0
	}
	return first, last
}

func (s *Scribe) corner(c Cell) {
	s.text = strconv.AppendInt(append(s.text, 'R'), int64(c.Row), 10)
	s.text = strconv.AppendInt(append(s.text, 'C'), int64(c.Col), 10)
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

// Size is the length of a fingerprint.
const Size = 4

// OfNumber is the fingerprint of a number without a formula.
func OfNumber(v float64) string { return of(strconv.AppendFloat([]byte{'#'}, v, 'g', 12, 64)) }

// OfKey is the fingerprint of the key of a row.
func OfKey(text string) string { return of([]byte("key:" + text)) }

// of is a fingerprint of 24 bits: one in 16 million other texts has the same.
func of(text []byte) string {
	h := fnv.New32a()
	h.Write(text)
	n := h.Sum32()
	n ^= n >> 24 // all bits count
	return letters.EncodeToString([]byte{byte(n >> 16), byte(n >> 8), byte(n)})
}

// Anchor returns the first cell that a formula names, with its sheet; ok is false where it names none.
func Anchor(formula string) (sheet string, c Cell, ok bool) {
	for _, t := range sheetformula.Lex(withoutSign(formula)) {
		if t.Kind == sheetformula.Reference {
			return t.Ref.Sheet, Cell{t.Ref.Row1, t.Ref.Col1}, true
		}
	}
	return "", Cell{}, false
}

// SameNumber tells whether a fingerprint is that of a number, or of one that a program cut or rounded to 15 digits on its way:
// where the thirteenth digit on stands near a half, that one's 12 digits are others.
func SameNumber(fingerprint string, v float64) bool {
	const cut = 2e-14
	return fingerprint == OfNumber(v) || fingerprint == OfNumber(v*(1+cut)) || fingerprint == OfNumber(v*(1-cut))
}
