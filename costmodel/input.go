package costmodel

import (
	"encoding/binary"
	"fmt"
	"strings"

	"piececost/costmodel/table"
)

// An Input names a number that can be varied: one quantity of a row of an input sheet, given or computed.
type Input struct {
	Sheet  string // "Materials"
	Row    string // a key ("A01/20") or a selector as in Scenarios; empty for Case and Scenarios
	Column string // a heading, with or without its unit, or the name of the quantity
	By     Move   // how the value is varied

	rows rowNumbers // where no text selects exactly the rows that are meant; Row is then a name for them
}

// rowNumbers are numbers of records of a scope in a model, ascending, as text: inputs are compared. Empty means none.
type rowNumbers string

// numbersOf numbers records of a scope.
func (m *Model) numbersOf(scope string, records []*Record) rowNumbers {
	meant := make(map[*Record]bool, len(records))
	for _, r := range records {
		meant[r] = true
	}
	var out []byte
	for i, r := range m.records[scope] {
		if meant[r] {
			out = binary.AppendUvarint(out, uint64(i))
		}
	}
	return rowNumbers(out)
}

// recordsOf finds the records of a scope by their numbers.
func (m *Model) recordsOf(scope string, rows rowNumbers) []*Record {
	var out []*Record
	for b := []byte(rows); len(b) > 0; {
		i, n := binary.Uvarint(b)
		out = append(out, m.records[scope][i])
		b = b[n:]
	}
	return out
}

// A Move says what is varied of an input: its value, or what all values of its rows are multiplied by or grow by. Each
// scenario's own values are moved.
type Move string

// The moves.
const (
	ByValue      Move = ""
	ByFactor     Move = "factor"
	ByDifference Move = "difference"
)

// baseValue is what leaves the values as they are.
func (b Move) baseValue() float64 {
	if b == ByFactor {
		return 1
	}
	return 0
}

// String writes the input as ParseInput reads it: "Materials/M04/Base price".
func (in Input) String() string {
	if in.Row == "" {
		return in.Sheet + "/" + in.Column
	}
	return in.Sheet + "/" + in.Row + "/" + in.Column
}

// ParseInput reads "Sheet/row/column"; a key may have slashes of its own, and so may the unit in a heading's brackets. The
// sheets Case and Scenarios have no row: "Case/Interest rate". "Annual volume" alone is that of the sheet Scenarios.
func ParseInput(text string) (Input, error) {
	parts := splitInput(strings.TrimSpace(text))
	if len(parts) == 1 && table.Normalise(beforeBracket(parts[0])) == "annual_volume" {
		return Input{Sheet: "Scenarios", Column: parts[0]}, nil
	}
	n := len(parts)
	if n < 2 || parts[0] == "" || parts[n-1] == "" {
		return Input{}, fmt.Errorf("%q names no input; write sheet/row/column, such as Materials/M04/Base price, or Annual volume", text)
	}
	return Input{Sheet: parts[0], Row: strings.Join(parts[1:n-1], "/"), Column: parts[n-1]}, nil
}

func beforeBracket(text string) string { text, _, _ = strings.Cut(text, "["); return text }

// splitInput cuts at slashes that stand in no brackets.
func splitInput(text string) []string {
	var out []string
	from, depth := 0, 0
	for i, r := range text {
		switch r {
		case '[':
			depth++
		case ']':
			depth--
		case '/':
			if depth <= 0 {
				out = append(out, strings.TrimSpace(text[from:i]))
				from = i + 1
			}
		}
	}
	return append(out, strings.TrimSpace(text[from:]))
}
