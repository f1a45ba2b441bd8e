package costmodel

import (
	"fmt"
	"strings"
)

// An Input names a number that can be varied: one quantity of a row of an input sheet, given or computed.
type Input struct {
	Sheet  string // "Materials"
	Row    string // a key ("A01/20") or a selector as in Scenarios; empty for Case and Scenarios
	Column string // a heading, with or without its unit, or the name of the quantity
	By     Move   // how the value is varied
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

// today is what leaves the values as they are.
func (b Move) today() float64 {
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
// sheets Case and Scenarios have no row: "Case/Interest". "Annual volume" alone is that of the sheet Scenarios.
func ParseInput(text string) (Input, error) {
	parts := splitInput(strings.TrimSpace(text))
	if len(parts) == 1 && Normalise(beforeBracket(parts[0])) == "annual_volume" {
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
