package lint

import "strings"

// sheetNames finds sheets whose names differ only by case or blanks.
func (c *checker) sheetNames() {
	first := map[string]int{}
	for i, s := range c.book.sheets {
		key := strings.ToLower(strings.Join(strings.Fields(s.name), ""))
		if k, ok := first[key]; ok {
			c.add("similar-sheet-names", i, 0, 0, "", "the sheet's name %q differs from %q only by case or blanks", s.name, c.book.sheets[k].name)
			continue
		}
		first[key] = i
	}
}
