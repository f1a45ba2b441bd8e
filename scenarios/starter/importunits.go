package starter

import (
	"fmt"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
	"piececost/scenarios/sheet"
)

// columnUnit settles the unit of a column, and adds its heading where the sheet has none. On a sheet on which a row is a
// quantity the row has the unit.
func (s *importSheet) columnUnit(c *importColumn) error {
	if s.layout.Shape == table.ColumnsAre {
		if c.inUnit.factor = 1; c.to > 0 {
			return nil
		}
		c.to = len(s.existing[0]) + 1
		if err := s.setHeading(c.to, c.Heading); err != nil || !isValueColumn(c.Heading) {
			return err
		}
		return s.addThing(c.to)
	}
	_, unit, bracket := table.SplitHeading(c.Heading)
	c.inUnit = inUnit{shown: unit, table: unit, factor: 1}
	kind := s.kind(s.layout, c.name)
	if it := s.lib.Describe(s.layout.Scope, c.name); kind == quantities && !bracket && needsUnit(it) {
		return fmt.Errorf("%s: heading %q has no unit; write %s [%s]", s.file, c.Heading, it.Label, s.shownUnit(it))
	}
	if c.to == 0 {
		c.to = len(s.existing[0]) + 1
		return s.addColumn(c)
	}
	_, c.shown, _ = table.SplitHeading(s.existing[0][c.to-1])
	if !bracket || kind == words || kind == OwnContent && s.layout.Scope != "" {
		c.table = c.shown
		return nil
	}
	takes, err := s.settle(&c.inUnit, c.name, c.Heading, s.isEmpty(c.to))
	if err != nil || !takes {
		return err
	}
	return s.changeColumn(c.to, unit)
}

func needsUnit(it *costmodel.Item) bool {
	return it != nil && it.Unit != "" && it.Unit != "1"
}

// shownUnit is the unit of a quantity with the model currency's code.
func (im *importer) shownUnit(it *costmodel.Item) string {
	return strings.ReplaceAll(it.Unit, "currency", im.sys.ModelCurrency())
}

// settle compares the unit of a table with that of the sheet. takes says that the sheet is to take the table's, since it
// has no values yet; else in.factor converts numbers.
func (s *importSheet) settle(in *inUnit, name, what string, empty bool) (takes bool, err error) {
	if in.shown == in.table {
		return false, nil
	}
	theirs, err := s.sys.Parse(in.table)
	if err != nil {
		return false, fmt.Errorf("%s, %s: %w", s.file, what, err)
	}
	mismatch := fmt.Errorf("%s: %s is %s, but the sheet %s has it in [%s]", s.file, what, theirs.Dim.Describe(), s.layout.Sheet, in.shown)
	if it := s.lib.Describe(s.layout.Scope, name); it != nil {
		if own, err := s.sys.Parse(it.Unit); err == nil && own.Dim != theirs.Dim {
			return false, mismatch
		}
	}
	ours, err := s.sys.Parse(in.shown)
	switch {
	case err == nil && ours.Same(theirs):
		return false, nil // the same unit spelt otherwise
	case empty:
		label, _, _ := strings.Cut(what, "[")
		s.report.Units = append(s.report.Units, fmt.Sprintf("%s: %s, now in [%s] instead of [%s]", s.layout.Sheet, strings.TrimSpace(label), in.table,
			in.shown))
		in.shown = in.table
		return true, nil
	case err != nil:
		return false, fmt.Errorf("%s, sheet %s, %s: %w", s.file, s.layout.Sheet, what, err)
	case ours.Dim != theirs.Dim:
		return false, mismatch
	}
	in.between(theirs, ours)
	s.converted[s.layout.Sheet+"|"+name] = theirs
	return false, nil
}

// between sets how numbers of the table's unit become those of the sheet's.
func (in *inUnit) between(theirs, ours units.Unit) {
	in.factor, in.add = theirs.Factor/ours.Factor, 0
	if theirs.Zero != 0 || ours.Zero != 0 {
		in.add = theirs.In(ours, 0)
	}
}

// isEmpty tells whether a column has nothing below its heading.
func (s *importSheet) isEmpty(col int) bool {
	for _, row := range s.existing[1:] {
		if cellAt(row, col-1) != "" {
			return false
		}
	}
	return true
}

// addThing gives the rows of a new plant or scenario the formats and ranges of their units.
func (s *importSheet) addThing(col int) error {
	for i, r := range s.existing[1:] {
		_, unit := rowQuantity(s.layout, s.existing[0], r)
		if err := s.write(s.layout.Sheet, i+2, col, Content{}, unit, "", sheet.Look{Kind: "input"}); err != nil {
			return err
		}
		if unit != "%" {
			continue
		}
		if err := s.shareCells(s.layout.Sheet, i+2, col, col); err != nil {
			return err
		}
	}
	return nil
}
