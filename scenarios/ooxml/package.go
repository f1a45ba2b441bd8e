package ooxml

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"path"
	"strings"

	"golang.org/x/text/encoding/unicode"
)

// Limits on what a package may unpack to: far above any honest workbook, far below what fills a machine.
const (
	MaxPart  = 192 << 20 // bytes of one part
	MaxParts = 20000     // entries of the zip
	MaxCells = 3_000_000 // filled cells of one sheet
)

// A Package is an open workbook.
type Package struct {
	Sheets   []Sheet
	Date1904 bool

	files   map[string]*zip.File // by part name in lower case, without a leading slash
	order   []*zip.File
	styles  []Style
	strings []string
}

// A Sheet is a sheet's name and part; Kind is worksheet, chartsheet, ...
type Sheet struct {
	Name   string
	Kind   string
	Hidden bool
	part   string
}

// A Style is what the number format of a cell means.
type Style struct{ Percent, Date bool }

// Open reads a package of the given size. The error says in one line what is wrong with it.
func Open(r io.ReaderAt, size int64) (*Package, error) {
	z, err := zip.NewReader(r, size)
	if err != nil {
		return nil, errors.New("it is no zip package, or a broken one")
	}
	if len(z.File) > MaxParts {
		return nil, fmt.Errorf("it has %d parts, more than %d", len(z.File), MaxParts)
	}
	p := &Package{files: map[string]*zip.File{}}
	for _, f := range z.File {
		name := partKey(f.Name)
		if _, twice := p.files[name]; twice {
			return nil, fmt.Errorf("it holds the part %s twice", f.Name)
		}
		p.files[name] = f
		p.order = append(p.order, f)
	}
	if _, ok := p.files["encryptedpackage"]; ok {
		return nil, errors.New("it is protected by a password")
	}
	return p, p.workbook()
}

// partKey is the name by which a part is known: parts are named without regard to case.
func partKey(name string) string {
	return strings.ToLower(strings.TrimPrefix(strings.ReplaceAll(name, `\`, "/"), "/"))
}

// part unpacks a part, as UTF-8.
func (p *Package) part(name string) ([]byte, error) {
	f := p.files[strings.ToLower(name)]
	if f == nil {
		return nil, fmt.Errorf("the part %s is missing", name)
	}
	if f.UncompressedSize64 > MaxPart {
		return nil, fmt.Errorf("the part %s unpacks to %d MB, more than %d MB", name, f.UncompressedSize64>>20, MaxPart>>20)
	}
	if f.Flags&1 != 0 {
		return nil, errors.New("it is protected by a password")
	}
	r, err := f.Open()
	if err != nil {
		return nil, fmt.Errorf("the part %s can't be unpacked", name)
	}
	defer r.Close()
	data, err := io.ReadAll(io.LimitReader(r, MaxPart+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the part %s is broken", name)
	case len(data) > MaxPart:
		return nil, fmt.Errorf("the part %s unpacks to more than %d MB", name, MaxPart>>20)
	}
	return utf8Of(data), nil
}

// utf8Of turns UTF-16 into UTF-8 and drops a byte order mark.
func utf8Of(data []byte) []byte {
	if bytes.HasPrefix(data, []byte{0xFF, 0xFE}) || bytes.HasPrefix(data, []byte{0xFE, 0xFF}) {
		out, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(data)
		if err == nil {
			return out
		}
	}
	return bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
}

// A relation leads from a part to another.
type relation struct{ id, kind, target string }

// relations reads the relations of a part; a part without any has none.
func (p *Package) relations(name string) ([]relation, error) {
	dir, base := path.Split(name)
	rels := path.Join(dir, "_rels", base+".rels")
	if p.files[strings.ToLower(rels)] == nil {
		return nil, nil
	}
	data, err := p.part(rels)
	if err != nil {
		return nil, err
	}
	var out []relation
	err = each(data, rels, func(t *token) error {
		if string(t.name) != "Relationship" {
			return nil
		}
		id, _ := t.attr("Id")
		kind, _ := t.attr("Type")
		target, _ := t.attr("Target")
		if mode, _ := t.attr("TargetMode"); mode == "External" {
			return nil
		}
		target = strings.ReplaceAll(target, `\`, "/")
		if strings.HasPrefix(target, "/") {
			target = strings.TrimPrefix(target, "/")
		} else {
			target = path.Join(dir, target)
		}
		out = append(out, relation{id, kind[strings.LastIndex(kind, "/")+1:], target})
		return nil
	})
	return out, err
}

// each calls visit for every start tag of a part.
func each(data []byte, name string, visit func(*token) error) error {
	s := scanner{data: data}
	for {
		t, err := s.next()
		if err != nil {
			return fmt.Errorf("the part %s is broken: %w", name, err)
		}
		switch t.kind {
		case endOfPart:
			return nil
		case startTag:
			if err := visit(&t); err != nil {
				return err
			}
		}
	}
}

// workbook reads the list of sheets, the styles and the shared strings.
func (p *Package) workbook() error {
	root, err := p.relations("")
	if err != nil {
		return err
	}
	main := ""
	for _, r := range root {
		if r.kind == "officeDocument" {
			main = r.target
		}
	}
	if main == "" || p.files[strings.ToLower(main)] == nil {
		return errors.New("it has no workbook part; it is no spreadsheet")
	}
	rels, err := p.relations(main)
	if err != nil {
		return err
	}
	byID := map[string]relation{}
	for _, r := range rels {
		byID[r.id] = r
	}
	data, err := p.part(main)
	if err != nil {
		return err
	}
	err = each(data, main, func(t *token) error {
		switch string(t.name) {
		case "workbookPr":
			v, _ := t.attr("date1904")
			p.Date1904 = v == "1" || v == "true"
		case "sheet":
			name, _ := t.attr("name")
			id, _ := t.attr("id")
			state, _ := t.attr("state")
			r := byID[id]
			p.Sheets = append(p.Sheets, Sheet{Name: plainString(name), Kind: r.kind, Hidden: state == "hidden" || state == "veryHidden", part: r.target})
		}
		return nil
	})
	if err != nil {
		return err
	}
	if len(p.Sheets) == 0 {
		return errors.New("its workbook part lists no sheet")
	}
	for _, r := range rels {
		switch r.kind {
		case "styles":
			err = errors.Join(err, p.readStyles(r.target))
		case "sharedStrings":
			err = errors.Join(err, p.readStrings(r.target))
		}
	}
	return err
}

// Style returns what a cell's style means; an unknown one means nothing.
func (p *Package) Style(i int) Style {
	if i < 0 || i >= len(p.styles) {
		return Style{}
	}
	return p.styles[i]
}

// Sheet finds a sheet by name, ignoring case as spreadsheet programs do; nil where there is none.
func (p *Package) Sheet(name string) *Sheet {
	for i := range p.Sheets {
		if strings.EqualFold(p.Sheets[i].Name, name) {
			return &p.Sheets[i]
		}
	}
	return nil
}
