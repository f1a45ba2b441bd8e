package sheet

import (
	"fmt"
	"strings"

	"piececost/scenarios/seal"
)

// Seal notes the fingerprints of the cells of a row: of formulas, and in calculations of keys and numbers too; and apart
// from them those of all other words and numbers.
func (b *Book) Seal(sheet string, row int, fingerprints, words seal.Fingerprints) {
	if len(fingerprints)+len(words) == 0 {
		return
	}
	if n := len(b.Sealed); n == 0 || b.Sealed[n-1].Sheet != sheet {
		b.Sealed = append(b.Sealed, &Sealed{Sheet: sheet})
	}
	s := b.Sealed[len(b.Sealed)-1]
	s.Rows = append(s.Rows, row)
	s.Texts = append(s.Texts, fingerprints.String())
	s.Words = append(s.Words, words.String())
	for _, some := range []seal.Fingerprints{fingerprints, words} {
		for c := range some {
			s.Last = max(s.Last, c)
		}
	}
}

// FingerprintOfValue is the fingerprint of a cell without a formula, "" of an empty one; its words are remembered by it.
func (b *Book) FingerprintOfValue(v any) string {
	switch x := v.(type) {
	case nil:
		return ""
	case float64:
		return seal.OfNumber(x)
	case int:
		return seal.OfNumber(float64(x))
	}
	text := fmt.Sprint(v)
	if strings.TrimSpace(text) == "" {
		return ""
	}
	fingerprint := FingerprintOfWords(text)
	b.WordsOf[fingerprint] = text
	return fingerprint
}

// FingerprintOfWords is the fingerprint of a text; programs may break its lines otherwise.
func FingerprintOfWords(text string) string {
	return seal.OfKey(strings.Join(strings.Fields(text), " "))
}

// FingerprintOf is the fingerprint of a formula of a sheet being written.
func (b *Book) FingerprintOf(sheet, formula string) string {
	fingerprint, _ := b.scribe.Fingerprint(sheet, formula, seal.Stay)
	return fingerprint
}
