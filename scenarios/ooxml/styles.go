package ooxml

import (
	"bytes"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf16"
	"unicode/utf8"
)

// maxStyles bounds the cell styles and the number formats: far above what spreadsheet programs allow (65,490 by
// Microsoft's page of Excel specifications, from memory).
const maxStyles = 1 << 20

// readStyles reads what the number formats of the cell styles mean. A workbook without styles has plain cells; broken
// ones are an error, for a share would be taken for a number.
func (p *Package) readStyles(name string) error {
	if !p.Has(name) || p.files[strings.ToLower(name)].UncompressedSize64 == 0 {
		return nil
	}
	custom := map[int]Style{}
	p.codes = map[int]string{}
	inCells, inFormats, formats := false, false, 0
	choose := chooser{names: prefixes{}}
	return p.walk(name, func(s *scanner, t *token) error {
		if skip, err := choose.skips(s, t); skip || err != nil {
			return err
		}
		switch string(t.name) {
		case "numFmts":
			inFormats = t.kind == startTag && !t.empty
		case "numFmt":
			if t.kind != startTag {
				break
			}
			formats++
			if code, ok := t.attr("formatCode"); ok && inFormats {
				id := t.number("numFmtId", -1)
				custom[id], p.codes[id] = formatUse(code), code
				if p.kept += mapMemory + ofText(code); p.used() > maxMemory {
					return errMemory
				}
			}
		case "cellXfs":
			inCells = t.kind == startTag && !t.empty
		case "xf":
			if inCells && t.kind == startTag {
				id := t.number("numFmtId", 0)
				p.styles, p.formats = append(p.styles, styleOf(id, custom)), append(p.formats, id)
			}
		}
		if len(p.styles) > maxStyles || formats > maxStyles {
			return fmt.Errorf("the part %s has more than %d styles", shown(name), maxStyles)
		}
		return nil
	})
}

// CellStyles is how many cell styles there are; those of the branches of alternatives that are not taken are none.
func (p *Package) CellStyles() int { return len(p.styles) }

// Format is the code of the number format of a cell style, "" for one that is known by its number.
func (p *Package) Format(style int) string {
	if style < 0 || style >= len(p.formats) {
		return ""
	}
	return p.codes[p.formats[style]]
}

func styleOf(id int, custom map[int]Style) Style {
	if use, ok := custom[id]; ok {
		return use
	}
	return builtIn(id)
}

// builtIn is the meaning of a number format that is known by its number (ECMA-376 part 1, 18.8.30; those of Thai, from
// 59 on, from memory).
func builtIn(id int) Style {
	switch {
	case id == 9 || id == 10 || id == 67 || id == 68:
		return Style{Percent: true}
	case id >= 14 && id <= 22 || id >= 27 && id <= 36 || id >= 45 && id <= 47 || id >= 50 && id <= 58 || id >= 71 && id <= 81:
		return Style{Date: true}
	}
	return Style{}
}

// formatUse reads a number format outside quotes, brackets and escapes, its first section only.
func formatUse(format string) Style {
	var use Style
	for i := 0; i < len(format); i++ {
		switch c := format[i]; {
		case c == '"':
			i += 1 + len(upTo(format[i+1:], `"`))
		case c == '[':
			inside := upTo(format[i+1:], "]")
			use.Date = use.Date || isElapsed(inside)
			i += 1 + len(inside)
		case c == '\\' || c == '_' || c == '*':
			i++
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

// upTo is what stands before a closing mark, all where it is missing.
func upTo(s, mark string) string {
	before, _, _ := strings.Cut(s, mark)
	return before
}

// isElapsed tells [h], [mm] and the like, which count hours, minutes or seconds beyond a day.
func isElapsed(bracket string) bool {
	return bracket != "" && (strings.Trim(bracket, "hH") == "" || strings.Trim(bracket, "mM") == "" || strings.Trim(bracket, "sS") == "")
}

// readStrings reads the shared strings; the parts of a rich text are joined, its phonetic help is left out.
func (p *Package) readStrings(name string) error {
	if !p.Has(name) {
		return nil // a cell that needs one says so
	}
	held := memory(0)
	err := p.walk(name, func(s *scanner, t *token) error {
		if t.kind != startTag || string(t.name) != "si" {
			return nil
		}
		if p.strings == nil { // counted first, for growing holds them twice
			p.strings = make([]string, 0, min(bytes.Count(s.data, []byte("si>"))+bytes.Count(s.data, []byte("si/>")), MaxCells))
			held = memory(len(s.data)) + textMemory*memory(cap(p.strings))
		}
		if len(p.strings) == MaxCells {
			return fmt.Errorf("the part %s has more than %d texts", shown(name), MaxCells)
		}
		value := ""
		if !t.empty {
			var err error
			if value, err = s.richText("si"); err != nil {
				return broken(name, err)
			}
		}
		p.strings = append(p.strings, value)
		if held += ofText(value); p.used()+held > maxMemory {
			return errMemory
		}
		p.kept += ofText(value)
		held -= ofText(value)
		return nil
	})
	p.kept += textMemory * memory(cap(p.strings))
	return err
}

// richText joins the text of t elements up to the end of an element.
func (s *scanner) richText(until string) (string, error) {
	var out pieces
	inText, phonetic := false, false
	for {
		t, err := s.next()
		if err != nil {
			return "", err
		}
		switch {
		case t.kind == endOfPart:
			return "", errCut
		case t.kind == text:
			if inText && !phonetic {
				if err := out.add(&t); err != nil {
					return "", err
				}
			}
		case string(t.name) == "t":
			inText = t.kind == startTag && !t.empty
		case string(t.name) == "rPh" && !t.empty:
			phonetic = t.kind == startTag
		case t.kind == endTag && string(t.name) == until:
			return plainString(out.String()), nil
		}
	}
}

// plainString resolves _x000D_ and the like, in which spreadsheet programs write characters that XML can't hold.
func plainString(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, ok := hexEscape(s[i:])
		if !ok {
			b.WriteByte(s[i])
			i++
			continue
		}
		i += escapeLen
		if low, ok := hexEscape(s[i:]); ok && utf16.DecodeRune(r, low) != utf8.RuneError {
			r = utf16.DecodeRune(r, low) // a character beyond U+FFFF is written as two
			i += escapeLen
		}
		b.WriteRune(r)
	}
	return b.String()
}

const escapeLen = len("_x0041_")

// hexEscape reads the _x0041_ that a string begins with.
func hexEscape(s string) (rune, bool) {
	if len(s) < escapeLen || s[0] != '_' || s[1] != 'x' || s[escapeLen-1] != '_' {
		return 0, false
	}
	n, err := strconv.ParseUint(s[2:escapeLen-1], 16, 16)
	return rune(n), err == nil
}
