package sheet

import (
	"fmt"
	"strings"

	"piececost/scenarios/seal"
)

// Seal notes the fingerprints of the cells of a row: of formulas, and in calculations of keys and numbers too; and apart
// from them those of all other words and numbers.
func (b *Book) Seal(sheet string, row int, prints, words seal.Row) {
	if len(prints)+len(words) == 0 {
		return
	}
	if n := len(b.Sealed); n == 0 || b.Sealed[n-1].Sheet != sheet {
		b.Sealed = append(b.Sealed, &Sealed{Sheet: sheet})
	}
	s := b.Sealed[len(b.Sealed)-1]
	s.Rows = append(s.Rows, row)
	s.Texts = append(s.Texts, prints.String())
	s.Words = append(s.Words, words.String())
	for _, some := range []seal.Row{prints, words} {
		for c := range some {
			s.Last = max(s.Last, c)
		}
	}
}

// PrintOfValue is the fingerprint of a cell without a formula, "" of an empty one; its words are remembered by it.
func (b *Book) PrintOfValue(v any) string {
	switch x := v.(type) {
	case nil:
		return ""
	case float64:
		return seal.PrintNumber(x)
	case int:
		return seal.PrintNumber(float64(x))
	}
	text := fmt.Sprint(v)
	if strings.TrimSpace(text) == "" {
		return ""
	}
	print := PrintOfWords(text)
	b.WordsOf[print] = text
	return print
}

// PrintOfWords is the fingerprint of a text; programs may break its lines otherwise.
func PrintOfWords(text string) string { return seal.PrintKey(strings.Join(strings.Fields(text), " ")) }

// PrintOf is the fingerprint of a formula of a sheet being written.
func (b *Book) PrintOf(sheet, formula string) string {
	print, _ := b.scribe.Print(sheet, formula, seal.Stay)
	return print
}
