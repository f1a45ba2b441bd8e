package costmodel

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"piececost/costmodel/formula"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// A Scenario is one column of the sheet Scenarios: what is made where and how many, and what it changes.
type Scenario struct {
	Name         string
	Place        table.Place // of its heading
	Product      string
	plant        string
	Alternatives []string
	Volume       float64 // 1/yr
	record       *Record // its own quantities
	changes      map[*Record]*changed

	chosen   map[*Record]*Choice // by operation without a machine of its own
	standing map[*Record]*Record // operation: the machine that stands for it while one is chosen
}

// changed holds what a scenario changes of a record.
type changed struct {
	fields map[int32]change
	texts  map[string]change
}

type change struct {
	value table.Value
	unit  units.Unit // of a bare number in it
	def   fieldDefinition
	rank  int
}

// scenarioTexts are the settings in words.
var scenarioTexts = []string{"product", "plant", "alternatives", "description"}

// readScenarios reads the sheet: settings where the column Sheet is empty, changes below.
func (m *Model) readScenarios() {
	t := m.Case.Table("Scenarios")
	if t == nil {
		return
	}
	cols := map[string]int{"sheet": -1, "row": -1, "column": -1}
	for i, c := range t.Columns {
		if n, _, _ := table.SplitHeading(c.Heading); n != "" {
			if _, ok := cols[n]; ok {
				cols[n] = i
			}
		}
	}
	for _, n := range []string{"sheet", "row", "column"} {
		if cols[n] < 0 {
			m.Diagnostics.Add("heading", t.Place, fmt.Sprintf("the sheet has no column %q", table.Label(n)),
				"its columns are Sheet, Row, Column, then one a scenario")
			return
		}
	}
	byColumn := m.scenarioColumns(t, cols)
	if len(byColumn) == 0 {
		m.Diagnostics.Add("scenario", t.Place, "the sheet has no scenario", "add a column with a name, its Product and its Annual volume [1/yr]")
		return
	}
	for _, row := range t.Rows {
		if sheet := strings.TrimSpace(row.Cells[cols["sheet"]].Text); sheet == "" {
			m.setting(row, cols, byColumn)
		} else {
			m.changeRow(row, cols, byColumn, sheet)
		}
	}
	for _, s := range m.Scenarios {
		m.finishScenario(s)
	}
	m.unlistedTags()
}

// scenarioColumns finds the scenarios: every column but the three of the layout and the provenance ones that has a
// product or an annual volume.
func (m *Model) scenarioColumns(t *table.Table, cols map[string]int) map[int]*Scenario {
	out := map[int]*Scenario{}
	seen := map[string]table.Place{}
	for i, c := range t.Columns {
		name, _, _ := table.SplitHeading(c.Heading)
		if _, layout := cols[name]; name == "" || layout || table.IsProvenance(name) || name == "unit" {
			continue
		}
		if !scenarioUsed(t, cols, i) {
			continue
		}
		key := strings.TrimSpace(c.Heading)
		if first, dup := seen[strings.ToLower(key)]; dup {
			m.Diagnostics.Add("duplicate", c.Place, fmt.Sprintf("scenario %q stands twice", key), "rename one of the two",
				table.Related{Place: first, Note: "first at"})
			continue
		}
		seen[strings.ToLower(key)] = c.Place
		m.keyLength(key, c.Place, mostInKey)
		s := &Scenario{Name: key, Place: c.Place, changes: map[*Record]*changed{}}
		s.record = &Record{Scope: "scenario", Sheet: t.Sheet, Key: key, Place: c.Place, texts: map[string]table.Value{}}
		out[i] = s
		m.Scenarios = append(m.Scenarios, s)
	}
	return out
}

func scenarioUsed(t *table.Table, cols map[string]int, col int) bool {
	for _, row := range t.Rows {
		n, _, _ := table.SplitHeading(row.Cells[cols["column"]].Text)
		if near := formula.Nearest(n, []string{"annual_volume", "product", "plant", "alternatives"}); near != "" {
			n = near
		}
		if row.Cells[cols["sheet"]].Kind == table.Empty && (n == "annual_volume" || contains(scenarioTexts, n) && n != "description") &&
			row.Cells[col].Kind != table.Empty {
			return true
		}
	}
	return false
}

// setting reads a row above the changes.
func (m *Model) setting(row table.Row, cols map[string]int, byColumn map[int]*Scenario) {
	label := row.Cells[cols["column"]]
	name, unit, bracket := table.SplitHeading(label.Text)
	if name == "" {
		return
	}
	if contains(scenarioTexts, name) {
		for _, i := range slices.Sorted(maps.Keys(byColumn)) {
			m.textCell(byColumn[i].record, name, row.Cells[i])
		}
		return
	}
	sc := m.Schema.byName["scenario"]
	n, ok := sc.byHeading(name)
	if !ok {
		help := "settings are Annual volume [1/yr], Product, Alternatives, Plant"
		near := formula.Nearest(name, append([]string{"annual_volume"}, scenarioTexts...))
		if near == "" && name == "volume" {
			near = "annual_volume"
		}
		if near != "" {
			help = "did you mean " + table.Label(near) + "?"
		}
		m.Diagnostics.Add("setting", label.Place, fmt.Sprintf("unknown setting %q", label.Text), help)
		if near != "" { // read as meant, so that it is not called missing as well
			row.Cells = slices.Clone(row.Cells)
			row.Cells[cols["column"]].Text = m.settingMeant(near)
			m.setting(row, cols, byColumn)
		}
		return
	}
	u := m.columnUnit(sc.Quantities[n], label.Place, fmt.Sprintf("%q", label.Text), unit, bracket, fmt.Sprintf("write %s [%s]", sc.Quantities[n].Label,
		m.ShownUnit(sc.Quantities[n].Unit)))
	for i, s := range byColumn {
		if v := row.Cells[i]; v.Kind != table.Empty {
			s.record.fields = append(s.record.fields, givenField{quantity: n, value: v, unit: u})
		}
	}
}

// settingMeant writes a setting as it should stand.
func (m *Model) settingMeant(near string) string {
	sc := m.Schema.byName["scenario"]
	if n, ok := sc.byHeading(near); ok {
		return sc.Quantities[n].Label + " [" + sc.Quantities[n].Unit.Text + "]"
	}
	return table.Label(near)
}

// finishScenario checks the settings of a scenario.
func (m *Model) finishScenario(s *Scenario) {
	m.readFields(s.record)
	s.Product, s.plant = s.record.Text("product"), s.record.Text("plant")
	s.Alternatives = splitList(s.record.Text("alternatives"))
	m.scenarioVolume(s)
	if s.Product == "" {
		m.Diagnostics.Add("scenario", s.Place, fmt.Sprintf("scenario %s has no product", s.Name), "write the key of a part in the row Product")
	} else {
		m.refer(s.record, "product", "part", "Parts")
	}
	m.scenarioPlant(s)
	m.unknownTags(s)
}

func (m *Model) scenarioVolume(s *Scenario) {
	n := m.Schema.byName["scenario"].MustQuantity("annual_volume")
	f := s.record.field(n)
	switch {
	case f == nil:
		m.Diagnostics.Add("scenario", s.Place, fmt.Sprintf("scenario %s has no annual volume", s.Name), "write it in a row Annual volume [1/yr]")
	case f.def.failed:
	case f.def.Kind != plan.Given:
		m.Diagnostics.Add("scenario", f.value.Place, "the annual volume is an expression", "write a number; a sweep varies it")
	case !(f.def.Value > 0): // its possible range says so
	default:
		s.Volume = f.def.Value
	}
}

func (m *Model) scenarioPlant(s *Scenario) {
	switch plants := m.records["plant"]; {
	case s.plant != "":
		m.refer(s.record, "plant", "plant", "Plants")
	case len(plants) == 1:
		s.plant = plants[0].Key
	case len(plants) > 1:
		m.Diagnostics.Add("scenario", s.Place, fmt.Sprintf("scenario %s names no plant, and there are %d", s.Name, len(plants)), "write one in the row Plant")
	}
}

// target is what a row of changes aims at.
type target struct {
	layout   *table.Layout
	records  []*Record
	rank     int
	text     string // a column of words, or
	quantity int32  // a quantity
	unit     units.Unit
	place    table.Place
}

// changeRow reads one row of changes.
func (m *Model) changeRow(row table.Row, cols map[string]int, byColumn map[int]*Scenario, sheet string) {
	at := row.Cells[cols["sheet"]].Place
	l := table.LayoutOf(sheet)
	if l == nil || l.Scope == "" || l.Scope == "scenario" {
		var names []string
		for _, x := range table.Layouts {
			if x.Scope != "" && x.Scope != "scenario" {
				names = append(names, x.Sheet)
			}
		}
		help := "changes are possible in " + strings.Join(names, ", ")
		if near := formula.Nearest(sheet, names); near != "" {
			help = "did you mean " + near + "?"
		}
		m.Diagnostics.Add("selector", at, fmt.Sprintf("there is no input sheet %q", sheet), help)
		return
	}
	rows, column := row.Cells[cols["row"]], row.Cells[cols["column"]]
	if m.orderOf(l, cellText(rows), cellText(column)) == eitherWay { // which of the two an older workbook means is not known
		m.Diagnostics.Add("selector", rows.Place, fmt.Sprintf("%q and %q are each a plant and a quantity of the sheet %s", cellText(rows),
			cellText(column), l.Sheet), "rename the plant; Row is the plant, Column the quantity")
		return
	}
	t, ok := m.changeTarget(l, rows, column)
	if !ok {
		return
	}
	for _, i := range slices.Sorted(maps.Keys(byColumn)) {
		if v := row.Cells[i]; v.Kind != table.Empty {
			m.applyChange(byColumn[i], t, v)
		}
	}
}

func cellText(v table.Value) string {
	if v.Kind == table.Number {
		return fmt.Sprint(v.Number)
	}
	return strings.TrimSpace(v.Text)
}

// changeTarget finds what Row and Column aim at; what is wrong is reported at their cells.
func (m *Model) changeTarget(l *table.Layout, rows, column table.Value) (target, bool) {
	rows, column = m.inOrder(l, rows, column)
	t := target{layout: l, place: rows.Place, quantity: -1}
	name, unit, bracket := table.SplitHeading(cellText(column))
	sc := m.Schema.byName[l.Scope]
	if contains(l.Texts, name) && name != "unit" {
		t.text = name
	} else if n, ok := sc.byHeading(name); ok {
		t.quantity, t.unit = n, m.changeUnit(l, sc.Quantities[n], column, unit, bracket)
	} else {
		known := append([]string{}, l.Texts...)
		for _, q := range sc.Quantities {
			known = append(known, q.Name)
		}
		help := "write a heading of that sheet"
		if near := formula.Nearest(name, known); near != "" {
			help = "did you mean " + table.Label(near) + "?"
		}
		if exchanged := m.exchangedHelp(l, cellText(rows), cellText(column)); exchanged != "" {
			help = exchanged
		}
		m.Diagnostics.Add("selector", column.Place, fmt.Sprintf("%q is no quantity of the sheet %s", cellText(column), l.Sheet), help)
		return t, false
	}
	text := cellText(rows)
	if l.Sheet == "Case" {
		if !m.namesThing(l, text) {
			m.Diagnostics.Add("selector", rows.Place, fmt.Sprintf("the sheet Case has no rows to choose from, and %q names one", text),
				"leave Row empty, with the quantity in Column")
			return t, false
		}
		text = "*"
	}
	sel, err := parseSelector(text)
	if err != nil {
		m.Diagnostics.Add("selector", rows.Place, fmt.Sprintf("the row names nothing of the sheet %s", l.Sheet),
			"write a key of that sheet, a list of keys, or * for all")
		return t, false
	}
	t.rank = sel.rank
	for _, r := range m.records[l.Scope] {
		if sel.matches(r.Key) {
			t.records = append(t.records, r)
		}
	}
	if r := m.sizedNamed(strings.TrimSpace(text)); r != nil && l.Scope == machineScope && len(t.records) == 0 {
		t.records = []*Record{r}
	}
	if len(t.records) == 0 {
		help := "write a key of that sheet, a list of keys, or *"
		if near := formula.Nearest(text, m.keys(l.Scope)); near != "" {
			help = "did you mean " + near + "?"
		}
		m.Diagnostics.Add("selector", rows.Place, fmt.Sprintf("%q matches no row of the sheet %s", text, l.Sheet), help)
	}
	return t, len(t.records) > 0
}

// changeUnit is the unit written with the change, or that of the column it changes.
func (m *Model) changeUnit(l *table.Layout, q *Quantity, column table.Value, unit string, bracket bool) units.Unit {
	if q.Flag || len(q.Options) > 0 {
		return units.One
	}
	if !bracket {
		for _, r := range m.records[l.Scope] {
			for _, f := range r.fields {
				if m.Schema.byName[l.Scope].Quantities[f.quantity] == q {
					return f.unit
				}
			}
		}
	}
	return m.columnUnit(q, column.Place, fmt.Sprintf("%q", cellText(column)), unit, bracket, fmt.Sprintf("write %s [%s]", q.Label, m.ShownUnit(q.Unit)))
}

// textChangeOK checks a changed word that must name something.
func (m *Model) textChangeOK(t target, v table.Value) bool {
	key := cellText(v)
	var d *table.Diagnostic
	switch t.text {
	case "material", "machine", "plant":
		sheets := map[string]string{"material": "Materials", "machine": "Machines", "plant": "Plants"}
		d = m.referenceError(key, t.text, t.text, sheets[t.text])
	case "tool_kind":
		d = m.toolKindError(key)
	case sizeColumn, seriesColumn:
		d = &table.Diagnostic{Summary: fmt.Sprintf("%s of a machine can't differ by scenario", table.Label(t.text)),
			Help: "add a row to the sheet Machines, and let the scenario change the Machine of the operations"}
	case gradeColumn:
		d = m.gradeError(key)
	case "process", "form":
		sc := m.Schema.byName[t.layout.Scope]
		if sc.variant(key) == nil {
			m.unknownVariant(&Record{texts: map[string]table.Value{t.text: v}}, t.text, sc)
			return false
		}
	}
	if d != nil {
		m.Diagnostics.Add("reference", v.Place, d.Summary, d.Help)
	}
	return d == nil
}
