package scenarios

import (
	"fmt"
	"strings"

	"piececost/scenarios/seal"
)

// sealed collects the fingerprints of a sheet while it is written.
type sealed struct {
	sheet string
	rows  []int
	texts []string // prints of each row as text
	words []string // likewise
	last  int      // column
	drawn int      // charts
}

// seal notes the fingerprints of the cells of a row: of formulas, and in calculations of keys and numbers too; and apart
// from them those of all other words and numbers.
func (b *Book) seal(sheet string, row int, prints, words seal.Row) {
	if len(prints)+len(words) == 0 {
		return
	}
	if n := len(b.sealed); n == 0 || b.sealed[n-1].sheet != sheet {
		b.sealed = append(b.sealed, &sealed{sheet: sheet})
	}
	s := b.sealed[len(b.sealed)-1]
	s.rows = append(s.rows, row)
	s.texts = append(s.texts, prints.String())
	s.words = append(s.words, words.String())
	for _, some := range []seal.Row{prints, words} {
		for c := range some {
			s.last = max(s.last, c)
		}
	}
}

// printOfValue is the fingerprint of a cell without a formula, "" of an empty one; its words are remembered by it.
func (b *Book) printOfValue(v any) string {
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
	print := printOfWords(text)
	b.wordsOf[print] = text
	return print
}

// printOfWords is the fingerprint of a text; programs may break its lines otherwise.
func printOfWords(text string) string { return seal.PrintKey(strings.Join(strings.Fields(text), " ")) }

// printOf is the fingerprint of a formula of a sheet being written.
func (b *Book) printOf(sheet, formula string) string {
	print, _ := b.scribe.Print(sheet, formula, seal.Stay)
	return print
}
