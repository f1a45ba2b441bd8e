package starter

import (
	"regexp"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/reading"
	"piececost/scenarios/sheet"
)

// currencies makes the units of the import: the workbook's model currency and rates, and those of the tables, which are
// known before any table is read. Headings of an empty workbook in the old model currency take the new one where nothing
// stands below them.
func (im *importer) currencies(tables []*importTable) error {
	c, err := reading.CaseOf(im.f, "the workbook")
	if err != nil {
		return err
	}
	im.sys = costmodel.UnitsOf(c)
	before := im.sys.ModelCurrency()
	for _, t := range tables {
		switch t.layout.Sheet {
		case "Case":
			addModelCurrency(c, t)
		case "Currencies":
			im.addRates(c, t)
		}
	}
	im.sys = costmodel.UnitsOf(c)
	if after := im.sys.ModelCurrency(); after != before {
		return im.changeCurrency(before, after)
	}
	return nil
}

// columnFor finds what a table has for a heading of its sheet, nil where it has nothing.
func (t *importTable) columnFor(fits func(heading string) bool) *importColumn {
	for _, m := range t.maps {
		if fits(m.Heading) {
			c := &importColumn{ColumnMap: m, from: -1}
			if m.Column != "" {
				c.from = indexOf(t.rows[0], m.Column)
			}
			return c
		}
	}
	return nil
}

func named(name string) func(string) bool {
	return func(heading string) bool { return table.Normalise(heading) == name }
}

// addModelCurrency puts the model currency of a table in the place of the workbook's.
func addModelCurrency(c *table.Case, t *importTable) {
	label, value := t.columnFor(named("quantity")), t.columnFor(isValueColumn)
	if label == nil || value == nil {
		return
	}
	for _, row := range t.rows[1:] {
		if code := value.text(row); table.Normalise(label.text(row)) == "model_currency" && code != "" {
			place := table.Place{File: t.file}
			text := func(s string) table.Value {
				return table.Value{Kind: table.Text, Text: s, Place: place}
			}
			own := &table.Table{Sheet: "Case", Columns: []table.Column{{Heading: "Quantity"}, {Heading: "Value"}},
				Rows: []table.Row{{Cells: []table.Value{text("Model currency"), text(code)}}}}
			c.Tables = append([]*table.Table{own}, c.Tables...)
		}
	}
}

// addRates adds the rates of a table to the workbook's.
func (im *importer) addRates(c *table.Case, t *importTable) {
	code, rate := t.columnFor(named("code")), t.columnFor(named("rate"))
	if code == nil || rate == nil {
		return
	}
	own := &table.Table{Sheet: "Currencies", Columns: []table.Column{{Heading: "Code"}, {Heading: "Rate"}}}
	if there := c.Table("Currencies"); there != nil {
		for _, row := range there.Rows {
			cells := make([]table.Value, 2)
			for i, col := range there.Columns {
				switch table.Normalise(col.Heading) {
				case "code":
					cells[0] = row.Cells[i]
				case "rate":
					cells[1] = row.Cells[i]
				}
			}
			own.Rows = append(own.Rows, table.Row{Cells: cells})
		}
	}
	for _, row := range t.rows[1:] {
		v, err := im.mark.Read(rate.text(row), OwnContent, im.sys)
		if err == nil && v.Is {
			own.Rows = append(own.Rows, table.Row{Cells: []table.Value{{Kind: table.Text, Text: code.text(row)},
				{Kind: table.Number, Number: v.Number}}})
		}
	}
	c.Tables = append([]*table.Table{own}, c.Tables...)
}

// changeCurrency replaces a model currency in the units of columns and rows that hold no values yet. Those that do keep
// their unit, and check asks for its rate.
func (im *importer) changeCurrency(before, after string) error {
	code := regexp.MustCompile(`\b` + before + `\b`)
	for i := range table.Layouts {
		l := &table.Layouts[i]
		if j, err := im.f.GetSheetIndex(l.Sheet); err != nil || j < 0 {
			continue
		}
		rows, err := im.f.GetRows(l.Sheet)
		if err != nil {
			return err
		}
		if len(rows) == 0 {
			continue
		}
		s := &importSheet{importer: im, importTable: &importTable{layout: l}, existing: rows}
		if err := s.changeUnits(func(unit string) string { return code.ReplaceAllString(unit, after) }); err != nil {
			return err
		}
	}
	return nil
}

// changeUnits writes the units of empty columns and rows anew; their formats stay.
func (s *importSheet) changeUnits(change func(string) string) error {
	if s.layout.Shape != table.ColumnsAre {
		for i, h := range s.existing[0] {
			label, unit, ok := strings.Cut(h, "[")
			if now := change(unit); ok && now != unit && s.isEmpty(i+1) {
				if err := s.setHeading(i+1, label+"["+now); err != nil {
					return err
				}
			}
		}
		return nil
	}
	col := s.columnNamed("unit")
	for i, r := range s.existing[1:] {
		empty := true
		for j, h := range s.existing[0] {
			empty = empty && (!isValueColumn(h) || cellAt(r, j) == "")
		}
		unit := cellAt(r, col-1)
		if now := change(unit); now != unit && empty {
			if err := s.write(s.layout.Sheet, i+2, col, Content{Text: now}, "", "", sheet.Look{Kind: "label"}); err != nil {
				return err
			}
		}
	}
	return nil
}
