package lint

import (
	"slices"
	"strconv"
)

// externalLinks finds formulas that read other workbooks, through names too, and links that no formula uses.
func (c *checker) externalLinks() {
	used := map[string]bool{}
	for i, s := range c.book.sheets {
		for k := range s.cells {
			cell := &s.cells[k]
			if cell.facts == nil {
				continue
			}
			for _, number := range c.book.books(i, cell.facts) {
				used[number] = true
				if file := c.book.link(number); !s.own {
					c.add("external-link", i, cell.Row, cell.Col, file, "the formula %s reads %s", shown(cell.Formula), file)
				}
			}
		}
	}
	for i, file := range c.book.links {
		if !used[strconv.Itoa(i+1)] {
			c.add("external-link", -1, 0, 0, file, "the workbook keeps a link to %s that no formula of a cell uses", file)
		}
	}
}

// books are the other workbooks that a formula reads, each once.
func (b *book) books(sheet int, f *facts) []string {
	var out []string
	b.through(sheet, f, func(f *facts) {
		for _, r := range f.reads {
			if r.Book != "" && !slices.Contains(out, r.Book) {
				out = append(out, r.Book)
			}
		}
	})
	return out
}
