package ooxml

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
)

// bookPart is the target's workbook part while its list of sheets changes.
type bookPart struct {
	data     []byte
	prefix   string
	list     *element       // sheets
	order    map[string]int // of our sheets: the new index
	newIndex []int          // of each old index: the new one, -1 for a sheet that goes
	edits    []edit
}

func (b *bookPart) edit(from, to int, with string) { b.edits = append(b.edits, edit{from, to, with}) }

// workbookPart changes the list of sheets, the names that belong to sheets, the active tab and the mark that all
// formulas are to be computed on loading; nothing else.
func (m *merge) workbookPart() error {
	data, err := m.spliced(m.main)
	if err != nil {
		return err
	}
	list, err := find(data, "sheets")
	if err != nil || list == nil {
		return fmt.Errorf("%w: its workbook part lists no sheets", ErrRefused)
	}
	b := &bookPart{data: data, prefix: prefixOf(data), list: list, order: map[string]int{}}
	for _, step := range []func(*bookPart) error{m.sheetList, m.names, calcPr, tabs} {
		if err := step(b); err != nil {
			return err
		}
	}
	m.changed[partKey(m.main)] = splice(data, b.edits)
	return nil
}

// sheetList keeps the user's sheets as they are, points those of ours that have a place to their new parts and adds the
// others at the end.
func (m *merge) sheetList(b *bookPart) error {
	all, err := children(b.data, b.list.inner, b.list.close, "sheet", 0)
	if err != nil || len(all) != len(m.replaced) {
		return fmt.Errorf("%w: its list of sheets is broken", ErrRefused)
	}
	ours := map[string]int{}
	for i := range m.ours.Sheets {
		ours[m.ours.Sheets[i].Name] = i
	}
	ids := map[int]bool{}
	n := 0
	for k, e := range all {
		ids[e.number("sheetId", 0)] = true
		name := m.target.Sheets[k].Name
		i, same := ours[name]
		_, placed := b.order[name]
		switch {
		case !m.replaced[k]:
		case same && !placed:
			b.edit(e.from, e.inner, setAttr(string(b.data[e.from:e.inner]), relationAttr(&e.token), m.sheetRel[i]))
			b.order[name] = n
		default:
			b.edit(e.from, e.to, "")
			b.newIndex = append(b.newIndex, -1)
			continue
		}
		b.newIndex = append(b.newIndex, n)
		n++
	}
	b.edits = append(b.edits, insertEnd(b.data, b.list, m.newSheets(b, ids, n)))
	return nil
}

// relationAttr is the name of the attribute that leads to a sheet's part, r:id in nearly every workbook.
func relationAttr(t *token) string {
	for a := t.attrs; ; {
		key, _, rest, ok := nextAttr(a)
		if !ok {
			return "id"
		}
		if prefix, local, prefixed := bytes.Cut(key, []byte(":")); prefixed && string(local) == "id" && string(prefix) != "xmlns" {
			return string(key)
		}
		a = rest
	}
}

// newSheets writes the elements of our sheets that have no place yet; n is the first free index.
func (m *merge) newSheets(b *bookPart, ids map[int]bool, n int) string {
	rel := relPrefix(b.data)
	var add strings.Builder
	for i := range m.ours.Sheets {
		name := m.ours.Sheets[i].Name
		if _, placed := b.order[name]; placed {
			continue
		}
		id := freeID(ids)
		fmt.Fprintf(&add, `<%ssheet name="%s" sheetId="%d" %sid="%s"/>`, b.prefix, escape(name), id, rel, m.sheetRel[i])
		b.order[name] = n
		n++
	}
	return add.String()
}

// freeID takes the number after the highest sheetId, or the lowest free one where that is beyond 65,534, the most that
// spreadsheet programs take (from memory).
func freeID(ids map[int]bool) int {
	id := 0
	for used := range ids {
		id = max(id, used)
	}
	if id++; id > 65534 {
		for id = 1; ids[id]; id++ {
		}
	}
	ids[id] = true
	return id
}

// relPrefix is the prefix that the root element gives the relations namespace, with its colon; where it gives none (some
// programs declare it at each sheet), a declaration for one element.
func relPrefix(data []byte) string {
	top, err := children(data, 0, len(data), "", 1)
	if err == nil && len(top) == 1 {
		for a := top[0].attrs; ; {
			key, value, rest, ok := nextAttr(a)
			if !ok {
				break
			}
			if prefix, found := strings.CutPrefix(string(key), "xmlns:"); found && string(value) == relationsNS {
				return prefix + ":"
			}
			a = rest
		}
	}
	return `xmlns:r="` + relationsNS + `" r:`
}

// names moves the target's sheet-bound names to the new indexes, drops those of sheets that go, and puts the built-in
// ones of our sheets (print titles) in place of the old.
func (m *merge) names(b *bookPart) error {
	own, err := m.ourNames(b)
	if err != nil {
		return err
	}
	defined, err := find(b.data, "definedNames")
	switch {
	case err != nil:
		return err
	case defined == nil && own != "":
		at, err := afterAny(b.data, b.list.to, "functionGroups", "externalReferences")
		b.edit(at, at, "<"+b.prefix+"definedNames>"+own+"</"+b.prefix+"definedNames>")
		return err
	case defined == nil:
		return nil
	}
	all, err := children(b.data, defined.inner, defined.close, "definedName", 0)
	if err != nil {
		return err
	}
	before, kept := len(b.edits), 0
	for i := range all {
		if m.name(b, &all[i]) {
			kept++
		}
	}
	if kept == 0 && own == "" && len(all) > 0 { // an empty list is no valid one
		b.edits = b.edits[:before]
		b.edit(defined.from, defined.to, "")
		return nil
	}
	b.edits = append(b.edits, insertEnd(b.data, defined, own))
	return nil
}

// name moves or drops one name and tells whether it stays.
func (m *merge) name(b *bookPart, e *element) bool {
	i := e.number("localSheetId", -1)
	name, _ := e.attr("name")
	switch {
	case i < 0 || i >= len(m.replaced)+len(b.order):
		return true
	case i >= len(b.newIndex): // of no sheet so far; it would get one of ours, which has names of its own
		b.edit(e.from, e.to, "")
		return false
	}
	if b.newIndex[i] < 0 || m.replaced[i] && strings.HasPrefix(name, "_xlnm.") {
		b.edit(e.from, e.to, "")
		return false
	}
	if b.newIndex[i] != i {
		b.edit(e.from, e.inner, setAttr(string(b.data[e.from:e.inner]), "localSheetId", strconv.Itoa(b.newIndex[i])))
	}
	return true
}

// ourNames writes the names of our sheets (print titles) for their new indexes.
func (m *merge) ourNames(b *bookPart) (string, error) {
	main, err := m.ours.mainPart()
	if err != nil {
		return "", err
	}
	data, err := m.ours.part(main)
	if err != nil {
		return "", err
	}
	all, err := children(data, 0, len(data), "definedName", 0)
	if err != nil {
		return "", err
	}
	var out strings.Builder
	for _, e := range all {
		i := e.number("localSheetId", -1)
		if i < 0 || i >= len(m.ours.Sheets) {
			continue
		}
		tag := setAttr(string(data[e.from:e.inner]), "localSheetId", strconv.Itoa(b.order[m.ours.Sheets[i].Name]))
		out.WriteString(prefixed(tag+string(data[e.inner:e.to]), b.prefix))
	}
	return out.String(), nil
}

// afterAny returns the end of the last of the named elements that is there, or the given place.
func afterAny(data []byte, at int, names ...string) (int, error) {
	for _, n := range names {
		e, err := find(data, n)
		if err != nil {
			return at, err
		}
		if e != nil {
			at = max(at, e.to)
		}
	}
	return at, nil
}

// calcPr asks for a full calculation on loading and leaves the user's other settings of calculation.
func calcPr(b *bookPart) error {
	calc, err := find(b.data, "calcPr")
	if err != nil {
		return err
	}
	if calc != nil {
		b.edit(calc.from, calc.inner, setAttr(string(b.data[calc.from:calc.inner]), "fullCalcOnLoad", "1"))
		return nil
	}
	at, err := afterAny(b.data, b.list.to, "functionGroups", "externalReferences", "definedNames")
	b.edit(at, at, `<`+b.prefix+`calcPr calcId="191029" fullCalcOnLoad="1"/>`)
	return err
}

// tabs keeps the tab that is active, and the first that is shown, where sheets before it have gone.
func tabs(b *bookPart) error {
	views, err := children(b.data, 0, len(b.data), "workbookView", 0)
	if err != nil {
		return err
	}
	for _, v := range views {
		tag := string(b.data[v.from:v.inner])
		for _, name := range []string{"firstSheet", "activeTab"} {
			if old := v.number(name, 0); old > 0 && old < len(b.newIndex) && b.newIndex[old] != old {
				tag = setAttr(tag, name, strconv.Itoa(max(0, b.newIndex[old])))
			}
		}
		if tag != string(b.data[v.from:v.inner]) {
			b.edit(v.from, v.inner, tag)
		}
	}
	return nil
}
