package starter

import (
	"fmt"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// isChange tells whether a row for Scenarios is a change of an input and not a setting.
func (s *importSheet) isChange(row []string) bool {
	c := s.column("sheet")
	return s.layout.Scope == "scenario" && c != nil && c.text(row) != ""
}

// labelName is the column that names the quantity of a row.
func (s *importSheet) labelName() string {
	if s.layout.Scope == "scenario" {
		return "column"
	}
	return "quantity"
}

// quantityRow writes a row of a sheet on which a row is a quantity: into the row of that quantity, or below as a new one.
func (s *importSheet) quantityRow(row []string, line int) error {
	label := s.column(s.labelName())
	if label == nil || label.from < 0 {
		return fmt.Errorf("%s: a table for the sheet %s needs a column that goes to %s", s.file, s.layout.Sheet, table.Label(s.labelName()))
	}
	text := label.text(row)
	if text == "" {
		if strings.Join(row, "") != "" {
			return fmt.Errorf("%s line %d: the row has no %s", s.file, line, table.Label(s.labelName()))
		}
		return nil
	}
	q := s.quantity(row, text)
	at := s.rowOf(label.to, q.name)
	isNew := at == 0
	if isNew {
		at = s.next
		s.next++
	} else if s.taken[at] {
		return fmt.Errorf("%s line %d: %q stands twice", s.file, line, text)
	} else if err := s.unitOfRow(&q, at, label.to); err != nil {
		return err
	}
	s.take(at)
	for i := range s.columns {
		c := &s.columns[i]
		var err error
		switch {
		case isValueColumn(c.Heading):
			err = s.quantityCell(c, row, at, line, q)
		case isNew || c.name != "unit" && c.name != label.name:
			err = s.cell(c, row, at, line, words, c.name, inUnit{factor: 1})
		}
		if err != nil {
			return err
		}
	}
	return nil
}

func (s *importSheet) take(at int) {
	if s.taken == nil {
		s.taken = map[int]bool{}
	}
	s.taken[at] = true
}

// tableQuantity is the quantity of a row of a table.
type tableQuantity struct {
	name, label string
	kind        contentKind
	item        *costmodel.Item
	given       bool // the table gives a unit
	inUnit
}

func (s *importSheet) quantity(row []string, label string) tableQuantity {
	q := tableQuantity{label: label, inUnit: inUnit{factor: 1}}
	q.name, q.table, q.given = table.SplitHeading(label)
	if c := s.column("unit"); c != nil && c.text(row) != "" {
		q.table, q.given = c.text(row), true
	}
	q.shown = q.table
	q.item = s.lib.Describe(s.layout.Scope, q.name)
	q.kind = s.kind(s.layout, q.name)
	if s.layout.Scope == "scenario" && q.item == nil {
		q.kind = words // product, plant, alternatives
	}
	return q
}

// rowOf finds the row of a quantity, 0 where there is none; rows of changes are not looked at.
func (s *importSheet) rowOf(labelColumn int, name string) int {
	sheet := -1
	if s.layout.Scope == "scenario" {
		sheet = s.columnNamed("sheet") - 1
	}
	for i, r := range s.existing[1:] {
		if n, _, _ := table.SplitHeading(cellAt(r, labelColumn-1)); n == name && cellAt(r, sheet) == "" {
			return i + 2
		}
	}
	return 0
}

// rowUnit settles the unit of a quantity that has a row.
func (s *importSheet) rowUnit(q *tableQuantity, at, labelColumn int) error {
	r := s.existing[at-1]
	_, q.shown = rowQuantity(s.layout, s.existing[0], r)
	if q.kind != quantities || !q.given {
		q.table = q.shown
		return nil
	}
	empty := true
	for i, h := range s.existing[0] {
		empty = empty && (!isValueColumn(h) || cellAt(r, i) == "")
	}
	takes, err := s.settle(&q.inUnit, q.name, q.label, empty)
	if err != nil || !takes {
		return err
	}
	return s.changeRow(at, labelColumn, q.table)
}

// changeRow gives a row without values another unit.
func (s *importSheet) changeRow(at, labelColumn int, unit string) error {
	col, text := s.columnNamed("unit"), unit
	if col == 0 {
		label, _, _ := strings.Cut(cellAt(s.existing[at-1], labelColumn-1), "[")
		col, text = labelColumn, fmt.Sprintf("%s [%s]", strings.TrimSpace(label), unit)
	}
	if err := s.write(s.layout.Sheet, at, col, Content{Text: text}, "", "", sheet.Look{Kind: "label"}); err != nil {
		return err
	}
	for i, h := range s.existing[0] {
		if !isValueColumn(h) {
			continue
		}
		if err := s.write(s.layout.Sheet, at, i+1, Content{}, unit, "", sheet.Look{Kind: "input"}); err != nil {
			return err
		}
	}
	return s.rangeOfRow(at, unit)
}

// rangeOfRow gives the values of a row the range of a share, or takes it from them.
func (s *importSheet) rangeOfRow(at int, unit string) error {
	row := strconv.Itoa(at)
	err := s.validations(s.layout.Sheet, func(dv *excelize.DataValidation) bool {
		first, _, _ := strings.Cut(dv.Sqref, ":")
		return strings.TrimLeft(first, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") != row
	})
	if err != nil || unit != "%" {
		return err
	}
	first, last := valueColumns(s.existing[0])
	return s.shareCells(s.layout.Sheet, at, first, last)
}

// quantityCell writes a value of a quantity; a bare number needs a unit in the table.
func (s *importSheet) quantityCell(c *importColumn, row []string, at, line int, q tableQuantity) error {
	if q.kind == quantities && !q.given && needsUnit(q.item) {
		if v, err := s.mark.Read(c.text(row), q.kind, s.sys); err == nil && v.bare {
			return fmt.Errorf("%s line %d, %s: %s has no unit; write %s [%s], or add a column that goes to Unit", s.file, line, c.Heading, q.label,
				q.label, s.shownUnit(q.item))
		}
	}
	return s.cell(c, row, at, line, q.kind, q.name, q.inUnit)
}

// changesInputs tells the sheets whose rows name a cell of another sheet and have numbers in its unit.
func (s *importSheet) changesInputs() bool {
	return s.layout.Scope == "scenario" || s.layout.Sheet == "Uncertainty" || s.layout.Sheet == "Overrides"
}

// isChanged tells the columns with numbers in the unit of the cell that the row names.
func (s *importSheet) isChanged(c *importColumn) bool {
	switch s.layout.Sheet {
	case "Uncertainty":
		return c.name == "low" || c.name == "likely" || c.name == "high"
	case "Overrides":
		return c.name == "value"
	}
	return isValueColumn(c.Heading)
}

// changeUnit finds what a change is in: the unit written with it, or that of the column which it changes.
func (s *importSheet) changeUnit(row []string) (contentKind, string, inUnit, error) {
	word := func(name string) string {
		if c := s.column(name); c != nil {
			return c.text(row)
		}
		return ""
	}
	l, label := table.LayoutOf(word("sheet")), word("column")
	in := inUnit{factor: 1}
	if l == nil {
		return OwnContent, "", in, nil // check says so
	}
	if l.Shape == table.ColumnsAre && l.Scope != "scenario" {
		label = word("row")
	}
	name, unit, bracket := table.SplitHeading(label)
	kind := s.kind(l, name)
	if kind != quantities {
		return kind, name, in, nil
	}
	if in.shown, in.table = unit, unit; bracket {
		return kind, name, in, nil
	}
	var err error
	if in.shown, err = s.unitIn(l, name); err != nil {
		return kind, name, in, err
	}
	in.table = in.shown
	if theirs, ok := s.converted[l.Sheet+"|"+name]; ok {
		ours, err := s.sys.Parse(in.shown)
		if err != nil {
			return kind, name, in, err
		}
		in.table = theirs.Text
		in.between(theirs, ours)
	}
	return kind, name, in, nil
}

// unitIn is the unit that a sheet has a quantity in, "" where it doesn't have it.
func (s *importSheet) unitIn(l *table.Layout, name string) (string, error) {
	key := l.Sheet + "|" + name
	if unit, known := s.units[key]; known {
		return unit, nil
	}
	rows, err := s.f.GetRows(l.Sheet)
	if err != nil || len(rows) == 0 {
		return "", nil // check says that there is no such sheet
	}
	found := ""
	if l.Shape == table.ColumnsAre {
		for _, r := range rows[1:] {
			if n, unit := rowQuantity(l, rows[0], r); n == name {
				found = unit
			}
		}
	}
	for _, h := range rows[0] {
		if n, unit, _ := table.SplitHeading(h); l.Shape != table.ColumnsAre && n == name {
			found = unit
		}
	}
	if s.units == nil {
		s.units = map[string]string{}
	}
	s.units[key] = found
	return found, nil
}
