package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// A PastTool is a row of the sheet Past tools: what a tool has cost, and the figures that explain it. Its columns have the names of
// quantities of an operation: Tool price, Tool face area, Tool stages, Tool features, or any other on which the build-up rests.
type PastTool struct {
	Name   string
	Kind   string  // of tool, as the record of its coefficients is called
	Price  float64 // coherent: model currency
	Date   string
	Place  table.Place       // of its name
	fields map[int32]float64 // quantities of an operation, coherent
}

// PastTools lists the rows of the sheet Past tools that can be used; what is wrong with others is among the model's findings.
func (m *Model) PastTools() []*PastTool { return m.pastTools }

// readPastTools reads the sheet Past tools.
func (m *Model) readPastTools() {
	t, l := m.Case.Table(pastTools), table.LayoutOf(pastTools)
	if t == nil || len(t.Rows) == 0 {
		return
	}
	sc := m.Schema.byName["operation"]
	uses := m.columnUses(l, sc, t)
	if !m.requireColumns(l, t, uses) {
		return
	}
	for _, row := range t.Rows {
		p := &PastTool{Name: t.TextAt(row, "tool"), Date: cellText(t.ValueAt(row, "date")), Place: t.ValueAt(row, "tool").Place, fields: map[int32]float64{}}
		if m.pastToolRow(sc, p, t, row, uses) {
			m.pastTools = append(m.pastTools, p)
		}
	}
}

// pastToolRow takes a row; false where it is empty or something is wrong.
func (m *Model) pastToolRow(sc *Scope, p *PastTool, t *table.Table, row table.Row, uses []columnUse) bool {
	sound, filled := true, false
	price := sc.MustQuantity("tool_price")
	for i, u := range uses {
		v := row.Cells[i]
		if u.quantity < 0 || v.Kind == table.Empty {
			continue
		}
		filled = true
		def := m.readField(sc, u.quantity, v, u.unit, nil)
		switch {
		case def.failed:
			sound = false
		case def.Kind != plan.Given:
			m.Diagnostics.Add("past tool", v.Place, fmt.Sprintf("%s of a past tool is an expression", sc.Quantities[u.quantity].Label), "write a number")
			sound = false
		default:
			p.fields[u.quantity] = def.Value
		}
	}
	kind := t.TextAt(row, "tool_kind")
	if !filled && kind == "" && p.Name == "" {
		return false
	}
	if p.Name == "" {
		p.Name = fmt.Sprintf("row %d", row.Number)
	}
	rec := m.toolKindNamed(kind)
	switch d := m.toolKindError(kind); {
	case kind == "":
		m.Diagnostics.Add("past tool", t.ValueAt(row, "tool_kind").Place, fmt.Sprintf("past tool %s has no tool kind", p.Name),
			"write its kind, or clear the row")
	case d != nil || rec == nil:
		m.Diagnostics.Add("tool kind", t.ValueAt(row, "tool_kind").Place, fmt.Sprintf("unknown tool kind %q", table.Shortened(kind)),
			"write a kind that `piececost processes` lists, or one of the sheet "+toolRelations)
	default:
		p.Kind = rec.Key
	}
	return m.pastToolPrice(p, price, sound) && sound && p.Kind != ""
}

// pastToolPrice takes the price of a past tool, which must be above 0.
func (m *Model) pastToolPrice(p *PastTool, price int32, sound bool) bool {
	v, ok := p.fields[price]
	if !ok || v <= 0 {
		if sound {
			m.Diagnostics.Add("past tool", p.Place, fmt.Sprintf("past tool %s has no price above 0", p.Name),
				"fill its cell under Tool price, or clear the row")
		}
		return false
	}
	p.Price = v
	delete(p.fields, price)
	return true
}

// OfToolFits keeps the findings that stand in the way of a fit: those of the sheets that it reads.
func OfToolFits(ds table.Diagnostics) (out table.Diagnostics) {
	for _, d := range ds {
		if s := d.Place.Sheet; d.Severity == table.Error && (s == pastTools || s == toolRelations || s == "Currencies" || s == "Processes" || s == "Tables") {
			out = append(out, d)
		}
	}
	return out
}

// pastToolKinds are the kinds of the past tools, each once, in the order of the sheet.
func (m *Model) pastToolKinds() (out []string) {
	for _, p := range m.pastTools {
		if !contains(out, p.Kind) {
			out = append(out, p.Kind)
		}
	}
	return out
}

// ToolsOf are the past tools of a kind.
func (m *Model) ToolsOf(kind string) (out []*PastTool) {
	for _, p := range m.pastTools {
		if strings.EqualFold(p.Kind, kind) {
			out = append(out, p)
		}
	}
	return out
}
