package ooxml

import "strings"

// Part unpacks a part of the package by name, as UTF-8.
func (p *Package) Part(name string) ([]byte, error) { return p.part(name) }

// Has tells whether the package holds a part.
func (p *Package) Has(name string) bool { return p.files[strings.ToLower(name)] != nil }

// PartOf returns the part name of a sheet.
func (p *Package) PartOf(s *Sheet) string { return s.part }

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
