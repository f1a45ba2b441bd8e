package sheet

import (
	"fmt"
	"regexp"
	"strings"
	"unicode"
	"unicode/utf16"

	"piececost/costmodel/table"
)

// What the sheets of spreadsheet programs can bear (ECMA-376 part 1, 18.4.12 for texts; the others common practice, no
// source). Characters are UTF-16 units there: most signs of feeling and rare letters count as two.
const (
	MostInCell      = 32767 // characters of a text
	mostInSheetName = 31    // characters
	highestRow      = 409.0 // points
)

// cutText is a text's beginning of at most so many UTF-16 units, no character split.
func cutText(text string, most int) string {
	n := 0
	for i, r := range text {
		if n += utf16.RuneLen(r); n > most {
			return text[:i]
		}
	}
	return text
}

// inCell is a text as a cell can hold it; one that is cut says so at its end.
func inCell(text string) string {
	n := table.Characters(text)
	if n <= MostInCell {
		return text
	}
	end := fmt.Sprintf(" ... (cut, of %d characters)", n)
	return cutText(text, MostInCell-len(end)) + end
}

// NameKey is what spreadsheet programs tell the names of sheets apart by: not by capitals, and not by letters that are
// one in capitals.
func NameKey(name string) string { return strings.ToLower(strings.ToUpper(name)) }

// NameOf makes a name that a sheet can have of any text: none of its letters forbidden or invisible, short enough with
// the number by which it is told from those that are taken.
func NameOf(text string, taken map[string]bool) string {
	clean := strings.Map(func(r rune) rune {
		if strings.ContainsRune(`:\/?*[]'`, r) || !unicode.IsPrint(r) {
			return '-'
		}
		return r
	}, text)
	clean = escapeLike.ReplaceAllString(clean, "-$1-")
	for n := 1; ; n++ {
		suffix := ""
		if n > 1 {
			suffix = fmt.Sprintf(" %d", n)
		}
		full := strings.TrimSpace(cutText(clean, mostInSheetName-len(suffix))) + suffix
		if !taken[NameKey(full)] {
			taken[NameKey(full)] = true
			return full
		}
	}
}

// FreeName is a sheet's name, or a longer one where a user's sheet bears it.
func FreeName(name string, taken map[string]bool) string {
	if taken[NameKey(name)] {
		return NameOf("piececost "+name, taken)
	}
	taken[NameKey(name)] = true
	return name
}

// escapeLike is what a workbook reads as one character (ECMA-376 part 1, 22.9.2.19).
var escapeLike = regexp.MustCompile(`_(x[0-9A-Fa-f]{4})_`)
