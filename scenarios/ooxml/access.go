package ooxml

import "strings"

// Part unpacks a part of the package by name, as UTF-8.
func (p *Package) Part(name string) ([]byte, error) { return p.part(name) }

// Has tells whether the package holds a part.
func (p *Package) Has(name string) bool { return p.files[strings.ToLower(name)] != nil }

// PartOf returns the part name of a sheet.
func (p *Package) PartOf(s *Sheet) string { return s.part }

// Peek returns the value of one cell near the top of a sheet without reading the rest; "" where it is empty.
func (p *Package) Peek(s *Sheet, row, col int) (string, error) {
	if s.Kind != "worksheet" {
		return "", nil
	}
	data, err := p.part(s.part)
	if err != nil {
		return "", err
	}
	r := sheetScan{scanner: scanner{data: data}, pack: p, grid: &Grid{}, shared: map[string]sharedFormula{}}
	for {
		t, err := r.next()
		if err != nil || t.kind == endOfPart {
			return "", err
		}
		if t.kind != startTag {
			continue
		}
		switch string(t.name) {
		case "row":
			if r.row = t.number("r", r.row+1); r.row > row {
				return "", nil
			}
			r.col = 0
		case "c":
			r.grid.Cells, r.grid.held = r.grid.Cells[:0], 0
			if err := r.cell(&t); err != nil {
				return "", err
			}
			if c := r.grid.Cells; len(c) == 1 && c[0].Row == row && c[0].Col == col {
				return c[0].Value, nil
			}
		}
	}
}

// Identifier returns the identifier of the document's core properties, "" where there is none.
func (p *Package) Identifier() string {
	root, err := p.relations("")
	if err != nil {
		return ""
	}
	for _, r := range root {
		if r.kind != "core-properties" {
			continue
		}
		data, err := p.part(r.target)
		if err != nil {
			return ""
		}
		s := scanner{data: data}
		for {
			t, err := s.next()
			if err != nil || t.kind == endOfPart {
				return ""
			}
			if t.kind == startTag && string(t.name) == "identifier" && !t.empty {
				v, err := s.text("identifier")
				if err != nil {
					return ""
				}
				return v
			}
		}
	}
	return ""
}
