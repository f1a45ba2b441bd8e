package costmodel

import (
	"fmt"
	"strings"
)

// A jointRow is a row of the sheet Joints with the operation that makes it.
type jointRow struct {
	rec  *Record
	step *stepRow
}

// placeJoints gives each operation its rows of the sheet Joints, in the order of the sheet, so that they stand together. Rows of
// operations that do not count in the scenario count with them.
func (st *structure) placeJoints() {
	of := map[string][]*Record{} // by part
	for _, r := range st.model.records["joint"] {
		of[r.Text("part")] = append(of[r.Text("part")], r)
	}
	for _, s := range st.steps {
		for _, r := range of[s.part.rec.Key] {
			if n, ok := stepNumber(r.Text("operation")); ok && n == s.number {
				s.joints = append(s.joints, len(st.joints))
				st.joints = append(st.joints, &jointRow{rec: r, step: s})
			}
		}
	}
}

// referJoints reports joints of parts and operations that are not there.
func (m *Model) referJoints() {
	if m.unread["operation"] {
		return
	}
	routes := map[string][]string{}
	for _, r := range m.records["operation"] {
		routes[r.Text("part")] = append(routes[r.Text("part")], r.Text("operation"))
	}
	for _, r := range m.records["joint"] {
		part := r.Text("part")
		m.refer(r, "part", "part", "Parts")
		if len(m.byKey["part"][part]) == 0 || isNumberOf(routes[part], r.Text("operation")) {
			continue
		}
		help := "its operations are " + strings.Join(routes[part], ", ")
		if len(routes[part]) == 0 {
			help = "it has none; name the part or assembly at whose operation the joint is made"
		}
		m.Diagnostics.Add("operation", r.TextPlace("operation"), fmt.Sprintf("joints are made at operation %s, which %s does not have",
			r.Text("operation"), part), help)
	}
}

// isNumberOf tells whether a number of an operation is among others, 10 and 10.0 alike.
func isNumberOf(operations []string, text string) bool {
	n, ok := stepNumber(text)
	for _, o := range operations {
		if v, is := stepNumber(o); ok && is && v == n {
			return true
		}
	}
	return false
}
