package lint

import (
	"bytes"
	"encoding/xml"
	"fmt"
	"io"
	"path"
	"strings"

	"piececost/scenarios/ooxml"
)

// A relation leads from a part to another part, or out of the package.
type relation struct {
	id, kind, target string
	external         bool
}

// relations reads the relations of a part, of the package itself for "". A part without any has none.
func relations(p *ooxml.Package, part string) ([]relation, error) {
	dir, base := path.Split(part)
	rels := path.Join(dir, "_rels", base+".rels")
	if !p.Has(rels) {
		return nil, nil
	}
	var out []relation
	err := elements(p, rels, func(e *element) error {
		if e.name != "Relationship" {
			return nil
		}
		r := relation{id: e.attr("Id"), target: strings.ReplaceAll(e.attr("Target"), `\`, "/"), external: e.attr("TargetMode") == "External"}
		kind := e.attr("Type")
		r.kind = kind[strings.LastIndex(kind, "/")+1:]
		if !r.external {
			if !strings.HasPrefix(r.target, "/") {
				r.target = path.Join("/", dir, r.target)
			}
			r.target = strings.TrimPrefix(path.Clean(r.target), "/")
		}
		out = append(out, r)
		return nil
	})
	return out, err
}

// An element is a start tag of a part while elements visits it.
type element struct {
	prefix string
	name   string // without prefix
	attrs  []xml.Attr
	reader *xml.Decoder
}

// attr returns an attribute by its local name, one without prefix first; "" where it is not there.
func (e *element) attr(name string) string {
	value := ""
	for _, a := range e.attrs {
		if a.Name.Local != name {
			continue
		}
		if a.Name.Space == "" {
			return a.Value
		}
		if a.Name.Space != "xmlns" {
			value = a.Value
		}
	}
	return value
}

func (e *element) flag(name string) bool {
	v := e.attr(name)
	return v == "1" || v == "true"
}

// text reads on to the next tag and returns the text before it.
func (e *element) text() (string, error) {
	var b strings.Builder
	for {
		t, err := e.reader.RawToken()
		if err != nil {
			return b.String(), err
		}
		data, ok := t.(xml.CharData)
		if !ok {
			return b.String(), nil
		}
		b.Write(data)
	}
}

// elements calls visit for every start tag of a part.
func elements(p *ooxml.Package, part string, visit func(*element) error) error {
	data, err := p.Part(part)
	if err != nil {
		return err
	}
	d := xml.NewDecoder(bytes.NewReader(data))
	d.Strict = false
	d.CharsetReader = func(_ string, in io.Reader) (io.Reader, error) { return in, nil } // Part gives UTF-8
	e := element{reader: d}
	for {
		t, err := d.RawToken()
		if err == io.EOF {
			return nil
		}
		if err != nil {
			return broken(part)
		}
		start, ok := t.(xml.StartElement)
		if !ok {
			continue
		}
		e.prefix, e.name, e.attrs = start.Name.Space, start.Name.Local, start.Attr
		if visit(&e) != nil {
			return broken(part)
		}
	}
}

func broken(part string) error { return fmt.Errorf("the part %s is broken", part) }
