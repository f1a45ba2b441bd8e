package ooxml

import (
	"fmt"
	"path"
	"strconv"
	"strings"
)

const (
	relationsNS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	typeSheet   = relationsNS + "/worksheet"
	typeStyles  = relationsNS + "/styles"
)

// contentTypes maps the parts of a package to their declared types, by lower-case name.
func (p *Package) contentTypes() (map[string]string, error) {
	data, err := p.part(typesPart)
	if err != nil {
		return nil, err
	}
	out := map[string]string{}
	err = each(data, typesPart, func(t *token) error {
		if string(t.name) == "Override" {
			name, _ := t.attr("PartName")
			kind, _ := t.attr("ContentType")
			out[partKey(name)] = kind
		}
		return nil
	})
	return out, err
}

const typesPart = "[Content_Types].xml"

// contentTypes declares the added parts and forgets the dropped ones.
func (m *merge) contentTypes() error {
	data, err := m.target.part(typesPart)
	if err != nil {
		return err
	}
	overrides, err := children(data, 0, len(data), "Override", 0)
	if err != nil {
		return err
	}
	var edits []edit
	for _, e := range overrides {
		if name, _ := e.attr("PartName"); m.drop[partKey(name)] {
			edits = append(edits, edit{e.from, e.to, ""})
		}
	}
	root, err := find(data, "Types")
	if err != nil || root == nil {
		return fmt.Errorf("%w: its list of content types is broken", ErrRefused)
	}
	prefix := prefixOf(data)
	var add strings.Builder
	for _, a := range m.added {
		if a.contentType != "" {
			fmt.Fprintf(&add, `<%sOverride PartName="/%s" ContentType="%s"/>`, prefix, escape(a.name), escape(a.contentType))
		}
	}
	edits = append(edits, edit{root.close, root.close, add.String()})
	m.changed[partKey(typesPart)] = splice(data, edits)
	return nil
}

// relationsPart drops the workbook's relations to dropped parts and adds those to our sheets.
func (m *merge) relationsPart(map[string]bool) error {
	name := relsOf(m.main)
	data, err := m.target.part(name)
	if err != nil {
		return err
	}
	all, err := children(data, 0, len(data), "Relationship", 0)
	if err != nil {
		return err
	}
	ids := map[string]bool{}
	var edits []edit
	for _, e := range all {
		id, _ := e.attr("Id")
		target, _ := e.attr("Target")
		full := strings.TrimPrefix(target, "/")
		if !strings.HasPrefix(target, "/") {
			full = path.Join(m.dir, target)
		}
		if mode, _ := e.attr("TargetMode"); mode != "External" && m.drop[partKey(full)] {
			edits = append(edits, edit{e.from, e.to, ""})
			continue
		}
		ids[id] = true
	}
	root, err := find(data, "Relationships")
	if err != nil || root == nil {
		return fmt.Errorf("%w: the relations of its workbook part are broken", ErrRefused)
	}
	prefix := prefixOf(data)
	var add strings.Builder
	next := 1
	fresh := func(kind, target string) string {
		for ids[fmt.Sprintf("rIdP%d", next)] {
			next++
		}
		id := fmt.Sprintf("rIdP%d", next)
		ids[id] = true
		fmt.Fprintf(&add, `<%sRelationship Id="%s" Type="%s" Target="/%s"/>`, prefix, id, kind, escape(target))
		return id
	}
	for i := range m.ours.Sheets {
		m.sheetRel = append(m.sheetRel, fresh(typeSheet, m.renamed[m.ours.Sheets[i].part]))
	}
	for _, a := range m.added {
		if strings.HasSuffix(a.contentType, "styles+xml") {
			fresh(typeStyles, a.name)
		}
	}
	edits = append(edits, edit{root.close, root.close, add.String()})
	m.changed[partKey(name)] = splice(data, edits)
	return nil
}

// workbookPart rewrites the list of sheets, the names that belong to sheets, the active tab and the mark that all
// formulas are to be computed on loading.
func (m *merge) workbookPart(replaced map[string]bool) error {
	data, err := m.target.part(m.main)
	if err != nil {
		return err
	}
	list, err := find(data, "sheets")
	if err != nil || list == nil {
		return fmt.Errorf("%w: its workbook part lists no sheets", ErrRefused)
	}
	prefix := prefixOf(data)
	order, newIndex, text, err := m.sheetList(data, list, prefix, replaced)
	if err != nil {
		return err
	}
	edits := []edit{{list.inner, list.close, text}}
	if edits, err = m.names(data, list, prefix, order, newIndex, edits); err != nil {
		return err
	}
	if edits, err = m.activeTab(data, newIndex, edits); err != nil {
		return err
	}
	m.changed[partKey(m.main)] = splice(data, edits)
	return nil
}

// sheetList writes the sheet elements anew: kept ones as they were, ours in the place of one of their name or at the end.
// order lists our sheets' new indexes by name, newIndex the new index of each old one, -1 for one that goes.
func (m *merge) sheetList(data []byte, list *element, prefix string, replaced map[string]bool) (order map[string]int, newIndex []int, text string, err error) {
	all, err := children(data, list.inner, list.close, "sheet", 0)
	if err != nil {
		return nil, nil, "", err
	}
	ours := map[string]int{}
	for i := range m.ours.Sheets {
		ours[m.ours.Sheets[i].Name] = i
	}
	rel := relPrefix(data)
	order = map[string]int{}
	highest, n := 0, 0
	var b strings.Builder
	for _, e := range all {
		highest = max(highest, e.number("sheetId", 0))
		name, _ := e.attr("name")
		name = plainString(name)
		i, same := ours[name]
		switch {
		case !replaced[name]:
			b.Write(data[e.from:e.to])
		case same:
			id, _ := e.attr("sheetId")
			fmt.Fprintf(&b, `<%ssheet name="%s" sheetId="%s" %sid="%s"/>`, prefix, escape(name), id, rel, m.sheetRel[i])
			order[name] = n
		default:
			newIndex = append(newIndex, -1)
			continue
		}
		newIndex = append(newIndex, n)
		n++
	}
	for i := range m.ours.Sheets {
		name := m.ours.Sheets[i].Name
		if _, placed := order[name]; placed {
			continue
		}
		highest++
		fmt.Fprintf(&b, `<%ssheet name="%s" sheetId="%d" %sid="%s"/>`, prefix, escape(name), highest, rel, m.sheetRel[i])
		order[name] = n
		n++
	}
	return order, newIndex, b.String(), nil
}

// relPrefix is the prefix that the part gives the relations namespace, with its colon.
func relPrefix(data []byte) string {
	head := string(data[:min(len(data), 8192)])
	if i := strings.Index(head, `="`+relationsNS+`"`); i > 0 {
		if j := strings.LastIndex(head[:i], "xmlns:"); j >= 0 {
			return head[j+len("xmlns:"):i] + ":"
		}
	}
	return `xmlns:r="` + relationsNS + `" r:`
}

// names moves the target's sheet-bound names to the new indexes, drops those of replaced sheets and adds ours.
func (m *merge) names(data []byte, list *element, prefix string, order map[string]int, newIndex []int, edits []edit) ([]edit, error) {
	own, err := m.ourNames(prefix, order)
	if err != nil {
		return nil, err
	}
	defined, err := find(data, "definedNames")
	if err != nil {
		return nil, err
	}
	if defined == nil {
		if own != "" {
			at, err := afterAny(data, list.to, "functionGroups", "externalReferences")
			if err != nil {
				return nil, err
			}
			edits = append(edits, edit{at, at, "<" + prefix + "definedNames>" + own + "</" + prefix + "definedNames>"})
		}
		return m.calcPr(data, prefix, list, edits)
	}
	all, err := children(data, defined.inner, defined.close, "definedName", 0)
	if err != nil {
		return nil, err
	}
	kept := 0
	for _, e := range all {
		i := e.number("localSheetId", -1)
		switch {
		case i < 0 || i >= len(newIndex):
			kept++
		case newIndex[i] < 0 || m.isOurs(order, newIndex[i]):
			edits = append(edits, edit{e.from, e.to, ""})
		default:
			kept++
			if newIndex[i] != i {
				tag := string(data[e.from:e.inner])
				edits = append(edits, edit{e.from, e.inner, setAttr(tag, "localSheetId", strconv.Itoa(newIndex[i]))})
			}
		}
	}
	switch {
	case kept == 0 && own == "":
		edits = append(withoutInside(edits, defined.from, defined.to), edit{defined.from, defined.to, ""})
	case defined.empty:
		edits = append(edits, edit{defined.from, defined.to, "<" + prefix + "definedNames>" + own + "</" + prefix + "definedNames>"})
	default:
		edits = append(edits, edit{defined.close, defined.close, own})
	}
	return m.calcPr(data, prefix, list, edits)
}

func withoutInside(edits []edit, from, to int) []edit {
	var out []edit
	for _, e := range edits {
		if e.from < from || e.to > to {
			out = append(out, e)
		}
	}
	return out
}

func (m *merge) isOurs(order map[string]int, index int) bool {
	for _, i := range order {
		if i == index {
			return true
		}
	}
	return false
}

// ourNames writes the names of our sheets (print titles) for their new indexes.
func (m *merge) ourNames(prefix string, order map[string]int) (string, error) {
	root, err := m.ours.relations("")
	if err != nil {
		return "", err
	}
	main := ""
	for _, r := range root {
		if r.kind == "officeDocument" {
			main = r.target
		}
	}
	data, err := m.ours.part(main)
	if err != nil {
		return "", err
	}
	all, err := children(data, 0, len(data), "definedName", 0)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for _, e := range all {
		i := e.number("localSheetId", -1)
		if i < 0 || i >= len(m.ours.Sheets) {
			continue
		}
		tag := setAttr(string(data[e.from:e.inner]), "localSheetId", strconv.Itoa(order[m.ours.Sheets[i].Name]))
		b.WriteString(prefixed(tag+string(data[e.inner:e.to]), prefix))
	}
	return b.String(), nil
}

// afterAny returns the end of the last of the named elements that is there, or the given place.
func afterAny(data []byte, at int, names ...string) (int, error) {
	for _, n := range names {
		e, err := find(data, n)
		if err != nil {
			return 0, err
		}
		if e != nil {
			at = max(at, e.to)
		}
	}
	return at, nil
}

// calcPr asks for a full calculation on loading and leaves the user's other settings of calculation.
func (m *merge) calcPr(data []byte, prefix string, list *element, edits []edit) ([]edit, error) {
	calc, err := find(data, "calcPr")
	if err != nil {
		return nil, err
	}
	if calc != nil {
		tag := string(data[calc.from:calc.inner])
		return append(edits, edit{calc.from, calc.inner, setAttr(tag, "fullCalcOnLoad", "1")}), nil
	}
	at, err := afterAny(data, list.to, "functionGroups", "externalReferences", "definedNames")
	if err != nil {
		return nil, err
	}
	return append(edits, edit{at, at, `<` + prefix + `calcPr calcId="191029" fullCalcOnLoad="1"/>`}), nil
}

// activeTab keeps the tab that is active where sheets before it have gone.
func (m *merge) activeTab(data []byte, newIndex []int, edits []edit) ([]edit, error) {
	views, err := children(data, 0, len(data), "workbookView", 0)
	if err != nil {
		return nil, err
	}
	for _, v := range views {
		old := v.number("activeTab", 0)
		if old >= len(newIndex) || newIndex[old] == old {
			continue
		}
		tag := string(data[v.from:v.inner])
		edits = append(edits, edit{v.from, v.inner, setAttr(tag, "activeTab", strconv.Itoa(max(0, newIndex[old])))})
	}
	return edits, nil
}
