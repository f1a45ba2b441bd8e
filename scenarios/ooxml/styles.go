package ooxml

import "strings"

// readStyles reads what the number formats of the cell styles mean.
func (p *Package) readStyles(name string) error {
	data, err := p.part(name)
	if err != nil {
		return nil // a workbook without styles has plain cells
	}
	custom := map[int]Style{}
	inCells := false
	s := scanner{data: data}
	for {
		t, err := s.next()
		if err != nil || t.kind == endOfPart {
			return nil // broken styles do not make numbers wrong that have none
		}
		switch string(t.name) {
		case "numFmt":
			if code, ok := t.attr("formatCode"); ok && t.kind == startTag {
				custom[t.number("numFmtId", -1)] = formatUse(code)
			}
		case "cellXfs":
			inCells = t.kind == startTag && !t.empty
		case "xf":
			if inCells && t.kind == startTag {
				id := t.number("numFmtId", 0)
				use, ok := custom[id]
				if !ok {
					use = builtIn(id)
				}
				p.styles = append(p.styles, use)
			}
		}
	}
}

// builtIn is the meaning of a number format that is known by its number (ECMA-376 part 1, 18.8.30).
func builtIn(id int) Style {
	switch {
	case id == 9 || id == 10:
		return Style{Percent: true}
	case id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58:
		return Style{Date: true}
	}
	return Style{}
}

// formatUse reads a number format outside quotes, brackets and escapes, its first section only.
func formatUse(format string) Style {
	var use Style
	quoted, bracket := false, false
	for i := 0; i < len(format); i++ {
		switch c := format[i]; {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '\\' || c == '_' || c == '*':
			i++
		case c == '[':
			bracket = true
		case c == ']':
			bracket = false
		case bracket:
		case c == '%':
			use.Percent = true
		case strings.IndexByte("ymdhsYMDHS", c) >= 0:
			use.Date = true
		case c == ';':
			return use
		}
	}
	return use
}

// readStrings reads the shared strings; the parts of a rich text are joined, its phonetic help is left out.
func (p *Package) readStrings(name string) error {
	data, err := p.part(name)
	if err != nil {
		return err
	}
	s := scanner{data: data}
	for {
		t, err := s.next()
		if err != nil || t.kind == endOfPart {
			return err
		}
		if t.kind == startTag && string(t.name) == "si" {
			value := ""
			if !t.empty {
				if value, err = s.richText("si"); err != nil {
					return err
				}
			}
			p.strings = append(p.strings, value)
		}
	}
}

// richText joins the text of t elements up to the end of an element.
func (s *scanner) richText(until string) (string, error) {
	out := ""
	inText, phonetic := false, false
	for {
		t, err := s.next()
		if err != nil {
			return out, err
		}
		switch {
		case t.kind == endOfPart:
			return out, errCut
		case t.kind == text && inText && !phonetic:
			if t.cdata {
				out += string(t.text)
			} else {
				out += unescape(t.text)
			}
		case t.kind == startTag && string(t.name) == "t":
			inText = !t.empty
		case t.kind == endTag && string(t.name) == "t":
			inText = false
		case string(t.name) == "rPh" && !t.empty:
			phonetic = t.kind == startTag
		case t.kind == endTag && string(t.name) == until:
			return plainString(out), nil
		}
	}
}
