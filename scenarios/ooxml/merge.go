package ooxml

import (
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"path"
	"sort"
	"strings"
)

// A merge puts the sheets of one package (ours, made by the library) into another (a user's), part by part. Every part
// that it need not change is copied as it is, compressed; the list of sheets, the styles, the relations and the content
// types are spliced. Sheets that are to be replaced go, with the parts that only they use.
type merge struct {
	target, ours *Package
	dir          string            // folder of the target's workbook part, "xl"
	main         string            // its workbook part
	drop         map[string]bool   // parts of the target that go, lower case
	changed      map[string][]byte // parts of the target with new content, lower case
	added        []addedPart
	renamed      map[string]string // our part: its name in the target
	styleMap     []int             // our cell style: the target's
	sheetRel     []string          // for each of our sheets: its relation id
	replaced     []bool            // for each of the target's sheets: one of ours, of an earlier run
	taken        map[string]bool   // part names that are not free, lower case
	cells        map[string][]Cell // for each of our sheets, by name: cells of the user's that stand in it
}

// An addedPart is one of ours; its content is made when it is written, one part at a time.
type addedPart struct {
	name, contentType string
	write             func(io.Writer) error
}

// ErrRefused marks a package that is not written into, with the reason.
var ErrRefused = errors.New("results can't be put into it")

// Put writes the target with the sheets of ours into w. Sheets of the target for which own says so are replaced: one of
// the same name keeps its place, others go. Our sheets without a place come last. Cells of the target's, with the numbers of
// its styles, go into our sheets, by name; there may be none.
func Put(w io.Writer, target, ours *Package, own func(*Sheet) bool, cells map[string][]Cell) error {
	m := &merge{target: target, ours: ours, drop: map[string]bool{}, changed: map[string][]byte{}, renamed: map[string]string{},
		taken: map[string]bool{}, cells: cells}
	for i := range target.Sheets {
		m.replaced = append(m.replaced, own(&target.Sheets[i]))
	}
	for _, step := range []func() error{m.refuse, m.refuseNames, m.dropSheets, m.styles, m.rename, m.sheets, m.relationsPart, m.workbookPart, m.contentTypes} {
		if err := step(); err != nil {
			return err
		}
	}
	return m.write(w)
}

// refuse says which packages are left alone, and why.
func (m *merge) refuse() error {
	root, err := m.target.relations("")
	if err != nil {
		return err
	}
	for _, r := range root {
		switch {
		case r.kind == "officeDocument":
			m.main, m.dir = r.target, path.Dir(r.target)
		case strings.Contains(r.kind, "signature") || r.kind == "origin":
			return fmt.Errorf("%w: it is digitally signed, and writing would break the signature; save an unsigned copy", ErrRefused)
		}
	}
	data, err := m.spliced(m.main)
	if err != nil {
		return err
	}
	if bytes.Contains(data[:min(len(data), 4096)], []byte("purl.oclc.org/ooxml")) {
		return fmt.Errorf("%w: it is saved as Strict Open XML; save it as a normal .xlsx workbook", ErrRefused)
	}
	return nil
}

// maxSpliced bounds the parts that are changed: the list of sheets, relations, types, styles. Honest ones are far smaller.
const maxSpliced = 32 << 20

// spliced unpacks a part of the target that is to be changed. It must be well-formed: what is put between tags that do
// not match, or beside an attribute without quotes, may land anywhere.
func (m *merge) spliced(name string) ([]byte, error) {
	if f := m.target.files[strings.ToLower(name)]; f != nil && f.UncompressedSize64 > maxSpliced {
		return nil, fmt.Errorf("%w: the part %s unpacks to more than %d MB", ErrRefused, shown(name), maxSpliced>>20)
	}
	data, err := m.target.xml(name)
	if err != nil {
		return nil, err
	}
	for d := xml.NewDecoder(bytes.NewReader(declaredUTF8(data))); ; {
		_, err := d.Token()
		switch {
		case errors.Is(err, io.EOF):
			return data, nil
		case err != nil:
			return nil, fmt.Errorf("%w: the part %s is not well-formed", ErrRefused, shown(name))
		}
	}
}

// refuseNames refuses a workbook in which a sheet that stays bears the name of one of ours, as spreadsheet programs see
// names: two sheets of one name are no workbook.
func (m *merge) refuseNames() error {
	for i := range m.target.Sheets {
		for j := range m.ours.Sheets {
			if name := m.target.Sheets[i].Name; !m.replaced[i] && strings.EqualFold(name, m.ours.Sheets[j].Name) {
				return fmt.Errorf("%w: it has a sheet %s already", ErrRefused, shown(name))
			}
		}
	}
	return nil
}

// dropPart marks a part and its relations as going.
func (m *merge) dropPart(name string) {
	m.drop[strings.ToLower(name)] = true
	m.drop[strings.ToLower(relsOf(name))] = true
}

func relsOf(name string) string {
	dir, base := path.Split(name)
	return path.Join(dir, "_rels", base+".rels")
}

// dropSheets drops the sheets that are replaced with the parts that only they lead to (drawings, charts), and the
// calculation chain, which lists formulas that are gone.
func (m *merge) dropSheets() error {
	for i := range m.target.Sheets {
		if part := m.target.Sheets[i].part; m.replaced[i] && part != "" && !m.isKept(part) {
			m.dropPart(part)
		}
	}
	rels, err := m.target.relations(m.main)
	if err != nil {
		return err
	}
	for _, r := range rels {
		if r.kind == "calcChain" {
			m.dropPart(r.target)
		}
	}
	m.dropUnused()
	return nil
}

// isKept tells whether a sheet that stays lies in a part.
func (m *merge) isKept(part string) bool {
	for i := range m.target.Sheets {
		if !m.replaced[i] && strings.EqualFold(m.target.Sheets[i].part, part) {
			return true
		}
	}
	return false
}

func (m *merge) dropUnused() {
	users, ok := m.users()
	for again := ok; again; {
		again = false
		for part, by := range users {
			if !m.drop[part] && onlyDropped(by, m.drop) {
				m.dropPart(part)
				again = true
			}
		}
	}
}

// users lists for each part, in lower case, the parts that lead to it; ok is false where relations can't be read, and
// who leads where is not known.
func (m *merge) users() (users map[string][]string, ok bool) {
	users = map[string][]string{}
	for name := range m.target.files {
		if !strings.HasSuffix(name, ".rels") {
			continue
		}
		dir, base := path.Split(name)
		owner := strings.TrimPrefix(path.Join(path.Dir(path.Clean(dir)), strings.TrimSuffix(base, ".rels")), ".")
		rels, err := m.target.relations(owner)
		if err != nil {
			return nil, false
		}
		for _, r := range rels {
			users[strings.ToLower(r.target)] = append(users[strings.ToLower(r.target)], owner)
		}
	}
	return users, true
}

func onlyDropped(by []string, drop map[string]bool) bool {
	for _, o := range by {
		if !drop[strings.ToLower(o)] {
			return false
		}
	}
	return len(by) > 0
}

// freeName finds a name for a part: the usual one of its kind (sheet12.xml), for some programs know sheets and drawings by
// the names of their parts, under the first number that is free.
func (m *merge) freeName(folder, kind, ext string) string {
	for n := 1; ; n++ {
		name := path.Join(m.dir, folder, fmt.Sprintf("%s%d%s", kind, n, ext))
		key := strings.ToLower(name)
		if m.taken[key] || m.target.files[key] != nil && !m.drop[key] {
			continue
		}
		m.taken[key] = true
		return name
	}
}

// rename finds free names for our sheets, drawings and charts.
func (m *merge) rename() error {
	var queue []string
	for i := range m.ours.Sheets {
		queue = append(queue, m.ours.Sheets[i].part)
	}
	for len(queue) > 0 {
		part := queue[0]
		queue = queue[1:]
		if m.renamed[part] != "" {
			continue
		}
		folder := strings.TrimPrefix(path.Dir(part), "xl") // the library's own folder
		kind := strings.TrimRight(strings.TrimSuffix(path.Base(part), path.Ext(part)), "0123456789")
		m.renamed[part] = m.freeName(folder, kind, path.Ext(part))
		rels, err := m.ours.relations(part)
		if err != nil {
			return err
		}
		for _, r := range rels {
			queue = append(queue, r.target)
		}
	}
	return nil
}

// sheets adds our parts with new names, relations and style numbers.
func (m *merge) sheets() error {
	types, err := m.ours.contentTypes()
	if err != nil {
		return err
	}
	sheetOf := map[string]*Sheet{}
	for i := range m.ours.Sheets {
		sheetOf[m.ours.Sheets[i].part] = &m.ours.Sheets[i]
	}
	parts := make([]string, 0, len(m.renamed))
	for part := range m.renamed {
		parts = append(parts, part)
	}
	sort.Strings(parts)
	for _, part := range parts {
		m.added = append(m.added, addedPart{m.renamed[part], types(part), m.content(part, sheetOf[part])})
		if rels := relsOf(part); m.ours.Has(rels) {
			data, err := m.ours.part(rels)
			if err != nil {
				return err
			}
			if data, err = m.retarget(part, data); err != nil {
				return err
			}
			m.added = append(m.added, addedPart{relsOf(m.renamed[part]), "", bytesOf(data)})
		}
	}
	return nil
}
