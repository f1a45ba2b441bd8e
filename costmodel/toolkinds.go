package costmodel

import (
	"fmt"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

// Kinds of tool: an operation whose cell Tool kind names one, and whose Tool price is empty, has its tool price built up by
// templates/equations/7-operation.yaml from the coefficients of that kind. They are the rows of the scope tool kind: defaults of
// templates/tools, or what the sheet Tool relations says instead.

const (
	toolKindScope = "tool kind"

	// ByProcess is the word in the column Tool kind that means the kind that the operation's process mostly takes.
	ByProcess = "by process"
)

// toolKind is a kind of tool that a scenario builds the price of.
type toolKind struct {
	rec     *Record
	variant *Variant // nil for a kind that the workbook alone knows
}

// addToolKinds adds the kinds of the library that a case names and that have no row in the sheet Tool relations.
func (m *Model) addToolKinds() {
	sc := m.Schema.byName[toolKindScope]
	if sc == nil {
		return
	}
	asked := false
	if t := m.Case.Table("Operations"); t != nil {
		_, asked = t.Column("tool_kind")
	}
	if !asked && m.Case.Table(toolRelations) == nil && m.Case.Table(pastTools) == nil {
		return
	}
	named := namedInCase(m.Case)
	for _, r := range m.records["operation"] {
		named[table.Normalise(r.Text("tool_kind"))] = true
	}
	byProcess := named[table.Normalise(ByProcess)]
	of := map[string]bool{}
	for _, v := range m.Schema.byName["operation"].Variants {
		if byProcess && v.Template.toolKind != "" && v.Template.inUse(named) {
			of[table.Normalise(v.Template.toolKind)] = true
		}
	}
	for _, v := range sc.Variants[1:] {
		t := v.Template
		if m.toolKindNamed(t.Name) == nil && (t.inUse(named) || of[table.Normalise(t.Name)]) {
			at := table.Place{File: m.Case.File, Sheet: toolRelations}
			r := &Record{Scope: toolKindScope, Key: t.Name, Sheet: toolRelations, Place: at, texts: map[string]table.Value{}}
			r.texts["tool_kind"] = table.Value{Kind: table.Text, Text: t.Name, Place: at}
			m.records[toolKindScope] = append(m.records[toolKindScope], r)
		}
	}
	m.index(toolKindScope, m.records[toolKindScope])
}

// toolKindNamed finds the record of a kind, however it is written, or nil.
func (m *Model) toolKindNamed(name string) *Record {
	sc := m.Schema.byName[toolKindScope]
	v := sc.variant(name)
	for _, r := range m.records[toolKindScope] {
		if table.Normalise(r.Key) == table.Normalise(name) || v != nil && sc.variant(r.Key) == v {
			return r
		}
	}
	return nil
}

// toolKindError says that a word is no kind of tool, or is nil.
func (m *Model) toolKindError(name string) *table.Diagnostic {
	if name == "" || table.Normalise(name) == table.Normalise(ByProcess) || m.unread[toolKindScope] || m.toolKindNamed(name) != nil {
		return nil
	}
	var known []string
	for _, v := range m.Schema.byName[toolKindScope].Variants[1:] {
		known = append(known, v.Template.Name)
	}
	help := fmt.Sprintf("write one that `piececost processes` lists, %s, or give its coefficients in the sheet %s", ByProcess, toolRelations)
	if near := formula.Nearest(name, append(known, m.keys(toolKindScope)...)); near != "" {
		help = "did you mean " + near + "?"
	}
	return &table.Diagnostic{Summary: fmt.Sprintf("unknown tool kind %q", table.Shortened(name)), Help: help}
}

// referToolKinds reports words that are no kind of tool.
func (m *Model) referToolKinds() {
	for _, r := range m.records["operation"] {
		if d := m.toolKindError(r.Text("tool_kind")); d != nil {
			m.Diagnostics.Add("tool kind", r.TextPlace("tool_kind"), d.Summary, d.Help)
		}
	}
}

// placeTool finds the kind of tool of an operation, if it names one.
func (st *structure) placeTool(s *stepRow) {
	name, at := st.text(s.rec, "tool_kind")
	if name == "" || s.variant == nil {
		return
	}
	if table.Normalise(name) == table.Normalise(ByProcess) {
		if name = s.variant.Template.toolKind; name == "" {
			st.add("tool kind", at, fmt.Sprintf("operation %s: %s mostly takes no tool of a known kind", s.rec.Key, s.variant.Template.Name),
				"write the kind of tool, or clear the cell")
			return
		}
	}
	rec := st.model.toolKindNamed(name)
	if rec == nil {
		return // reported
	}
	for i, k := range st.toolKinds {
		if k.rec == rec {
			s.toolKind = i + 1
			return
		}
	}
	st.toolKinds = append(st.toolKinds, toolKind{rec, st.model.Schema.byName[toolKindScope].variant(rec.Key)})
	s.toolKind = len(st.toolKinds)
}

// missingCoefficient is the error of a kind of tool that lacks a coefficient.
func (g *graph) missingCoefficient(r *row, q *Quantity, unit units.Unit) error {
	return g.diagnose("missing", r.rec.Place, fmt.Sprintf("%s of tool kind %s is missing", q.Label, r.rec.Key),
		fmt.Sprintf("add a row to the sheet %s: Tool kind %s, Coefficient %s, Unit %s", toolRelations, r.rec.Key, q.Label, g.model.ShownUnit(unit)))
}

// ToolCoefficients lists the coefficients of every kind of tool, as the column Coefficient has them.
func (lib *Library) ToolCoefficients() (out []string) {
	for _, t := range lib.Scopes {
		if t.Scope != toolKindScope {
			continue
		}
		for i := range t.Items {
			out = append(out, t.Items[i].Label)
		}
	}
	return out
}
