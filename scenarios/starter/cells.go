package starter

import (
	"fmt"

	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// emptyRows marks rows below the data as inputs, to be filled in.
func (b *starter) emptyRows(l *table.Layout, head []string, used int) error {
	if l.Shape == table.ColumnsAre && l.Scope != "scenario" {
		return nil
	}
	blank := make([]string, len(head))
	for r := used + 1; r <= used+markedRows; r++ {
		for c := range head {
			if err := b.cell(l, head, blank, r, c, ""); err != nil {
				return err
			}
		}
	}
	return nil
}

// cell writes the text of a sample's table.
func (b *starter) cell(l *table.Layout, head, row []string, r, c int, text string) error {
	name, unit, _ := table.SplitHeading(head[c])
	kind := b.kind(l, name)
	k := sheet.Look{Kind: "input", Wrap: isWords(l, name)}
	if isTyped(l.Sheet, name) {
		k.Format = asTyped
	}
	if l.Shape == table.ColumnsAre {
		if name == "quantity" || name == "unit" || l.Scope == "scenario" && name == "column" && text != "" {
			k = sheet.Look{Kind: "label"}
		}
		if !isWords(l, name) {
			name, unit = rowQuantity(l, head, row)
			kind = b.kind(l, name)
		}
	}
	value, err := DecimalMark('.').Read(text, kind, b.sys)
	if err != nil {
		return fmt.Errorf("row %d, %s: %q: %w", r, head[c], text, err)
	}
	return b.write(l.Sheet, r, c+1, value, unit, name, k)
}
