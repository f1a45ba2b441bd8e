package ooxml

import (
	"fmt"
	"path"
	"strings"
)

const (
	relationsNS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
	typeSheet   = relationsNS + "/worksheet"
	typeStyles  = relationsNS + "/styles"
	stylesType  = "application/vnd.openxmlformats-officedocument.spreadsheetml.styles+xml"
	relsType    = "application/vnd.openxmlformats-package.relationships+xml"
)

const typesPart = "[Content_Types].xml"

// contentTypes maps the parts of a package to their types, declared one by one or by the ends of their names.
func (p *Package) contentTypes() (func(part string) string, error) {
	byName, byEnd := map[string]string{}, map[string]string{}
	err := p.walk(typesPart, func(_ *scanner, t *token) error {
		kind, _ := t.attr("ContentType")
		switch {
		case t.kind != startTag:
		case string(t.name) == "Override":
			name, _ := t.attr("PartName")
			byName[partKey(name)] = kind
		case string(t.name) == "Default":
			end, _ := t.attr("Extension")
			byEnd["."+strings.ToLower(end)] = kind
		}
		return nil
	})
	return func(part string) string {
		if kind := byName[strings.ToLower(part)]; kind != "" {
			return kind
		}
		return byEnd[strings.ToLower(path.Ext(part))]
	}, err
}

// contentTypes declares the added parts and forgets the dropped ones.
func (m *merge) contentTypes() error {
	data, err := m.spliced(typesPart)
	if err != nil {
		return err
	}
	declared, err := m.target.contentTypes()
	if err != nil {
		return err
	}
	types, err := root(data, "Types")
	if err != nil || types == nil {
		return fmt.Errorf("%w: its list of content types is broken", ErrRefused)
	}
	overrides, err := children(data, types.inner, types.close, "Override", 0)
	if err != nil {
		return err
	}
	var edits []edit
	for _, e := range overrides {
		if name, _ := e.attr("PartName"); m.drop[partKey(name)] || m.taken[partKey(name)] {
			edits = append(edits, edit{e.from, e.to, ""})
		}
	}
	prefix := prefixOf(data)
	var add strings.Builder
	if declared("any.rels") == "" {
		fmt.Fprintf(&add, `<%sDefault Extension="rels" ContentType="%s"/>`, prefix, relsType)
	}
	for _, a := range m.added {
		if a.contentType != "" {
			fmt.Fprintf(&add, `<%sOverride PartName="/%s" ContentType="%s"/>`, prefix, escape(a.name), escape(a.contentType))
		}
	}
	m.changed[partKey(typesPart)] = splice(data, append(edits, insertEnd(data, types, add.String())))
	return nil
}

// relationsPart drops the workbook's relations to dropped parts and adds those to our sheets.
func (m *merge) relationsPart() error {
	name := relsOf(m.main)
	data, err := m.spliced(name)
	if err != nil {
		return err
	}
	top, err := root(data, "Relationships")
	if err != nil || top == nil {
		return fmt.Errorf("%w: the relations of its workbook part are broken", ErrRefused)
	}
	all, err := children(data, top.inner, top.close, "Relationship", 0)
	if err != nil {
		return err
	}
	ids := map[string]bool{}
	var edits []edit
	for _, e := range all {
		r := relationOf(&e.token, m.dirSlash())
		if mode, _ := e.attr("TargetMode"); mode != "External" && m.drop[strings.ToLower(r.target)] {
			edits = append(edits, edit{e.from, e.to, ""})
			continue
		}
		ids[r.id] = true
	}
	m.changed[partKey(name)] = splice(data, append(edits, insertEnd(data, top, m.newRelations(prefixOf(data), ids))))
	return nil
}

func (m *merge) dirSlash() string {
	dir, _ := path.Split(m.main)
	return dir
}

// newRelations writes the workbook's relations to our styles, where it had none, and to our sheets, under free ids.
func (m *merge) newRelations(prefix string, ids map[string]bool) string {
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
	for _, a := range m.added { // before the sheets, so that a second run, which finds them there, numbers the sheets alike
		if a.contentType == stylesType {
			fresh(typeStyles, a.name)
		}
	}
	for i := range m.ours.Sheets {
		m.sheetRel = append(m.sheetRel, fresh(typeSheet, m.renamed[m.ours.Sheets[i].part]))
	}
	return add.String()
}
