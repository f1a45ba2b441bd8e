package reading

import (
	"fmt"
	"strings"

	"piececost/costmodel/table"
	"piececost/scenarios/ooxml"
)

// noCase is the error of a workbook that can be read but has none of the input sheets: somebody's own, or of another maker.
type noCase struct{ sheets []ooxml.Sheet }

// mostSheetsNamed is how many sheets of a foreign workbook are named.
const mostSheetsNamed = 4

// Error follows the name of the file. It says what is missing, what is there, and what makes a workbook that has it.
func (e *noCase) Error() string {
	var need, have []string
	for i := range table.Layouts {
		if table.Layouts[i].Required {
			need = append(need, table.Layouts[i].Sheet)
		}
	}
	for _, s := range e.sheets[:min(len(e.sheets), mostSheetsNamed)] {
		have = append(have, fmt.Sprintf("%q", table.Shortened(s.Name)))
	}
	if more := len(e.sheets) - len(have); more > 0 {
		have = append(have, fmt.Sprintf("%d more", more))
	}
	there := "it has " + strings.Join(have, ", ")
	if len(have) == 0 {
		there = "it has none"
	}
	return fmt.Sprintf("holds no case to cost: the sheets %s are missing (%s); `piececost new NEW.xlsx` makes an empty workbook to fill in, "+
		"`piececost import FOLDER NEW.xlsx` fills one from CSV tables, and `piececost lint` looks at any workbook",
		strings.Join(need, ", "), there)
}
