package ooxml

import (
	"bytes"
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
)

// What follows edits XML parts by splicing bytes: what is not touched stays as it was, to the byte.

// An element is a stretch of a part: a tag with everything in it.
type element struct {
	token
	from, to     int // of the whole element
	inner, close int // of its content; equal for an empty tag
}

// find returns the first element of a local name at or below the top, nil where there is none.
func find(data []byte, name string) (*element, error) {
	all, err := children(data, 0, len(data), name, 1)
	if err != nil || len(all) == 0 {
		return nil, err
	}
	return &all[0], nil
}

// children lists the elements of a name between two places, nested ones of that name not counted; name "" means every
// direct child. most 0 means all.
func children(data []byte, from, to int, name string, most int) ([]element, error) {
	s := scanner{data: data[:to], pos: from}
	var out []element
	for {
		t, err := s.next()
		if err != nil {
			return out, err
		}
		if t.kind == endOfPart {
			return out, nil
		}
		if t.kind != startTag {
			continue
		}
		if name != "" && string(t.name) != name {
			continue
		}
		e := element{token: t, from: tagStart(data, s.pos), inner: s.pos, close: s.pos, to: s.pos}
		if !t.empty {
			if err := s.closeOf(&e); err != nil {
				return out, err
			}
		}
		if out = append(out, e); len(out) == most {
			return out, nil
		}
	}
}

// insertEnd puts text at the end of an element; an empty tag is opened for it.
func insertEnd(data []byte, e *element, text string) edit {
	if !e.empty {
		return edit{e.close, e.close, text}
	}
	tag := data[e.from:e.to]
	name := string(tag[1 : 1+bytes.IndexAny(tag[1:], " \t\r\n/>")])
	open := bytes.TrimRight(tag[:len(tag)-len("/>")], " \t\r\n")
	return edit{e.from, e.to, string(open) + ">" + text + "</" + name + ">"}
}

// root returns the outermost element of a part, nil where it has another name.
func root(data []byte, name string) (*element, error) {
	all, err := children(data, 0, len(data), "", 1)
	if err != nil || len(all) == 0 || string(all[0].name) != name {
		return nil, err
	}
	return &all[0], nil
}

// tagStart finds the < of the tag that ends before a place; a < can't stand in an attribute.
func tagStart(data []byte, end int) int { return bytes.LastIndexByte(data[:end], '<') }

// closeOf walks to the end tag of an element.
func (s *scanner) closeOf(e *element) error {
	depth := 1
	for {
		t, err := s.next()
		if err != nil {
			return err
		}
		switch t.kind {
		case endOfPart:
			return errCut
		case startTag:
			if !t.empty && string(t.name) == string(e.name) {
				depth++
			}
		case endTag:
			if string(t.name) == string(e.name) {
				if depth--; depth == 0 {
					e.close, e.to = tagStart(s.data, s.pos), s.pos
					return nil
				}
			}
		}
	}
}

// An edit replaces the bytes from..to.
type edit struct {
	from, to int
	with     string
}

// splice applies edits that do not overlap, given in any order; insertions at one place keep theirs.
func splice(data []byte, edits []edit) []byte {
	sorted := slices.Clone(edits)
	slices.SortStableFunc(sorted, func(a, b edit) int { return cmp.Compare(a.from, b.from) })
	var b bytes.Buffer
	at := 0
	for _, e := range sorted {
		b.Write(data[at:e.from])
		b.WriteString(e.with)
		at = e.to
	}
	b.Write(data[at:])
	return b.Bytes()
}

// prefixOf returns the namespace prefix of a part's root element with its colon, "" for none.
func prefixOf(data []byte) string {
	s := scanner{data: data}
	for {
		t, err := s.next()
		if err != nil || t.kind == endOfPart {
			return ""
		}
		if t.kind == startTag {
			tag := data[tagStart(data, s.pos)+1 : s.pos]
			if i := bytes.Index(tag, t.name); i > 0 {
				return string(tag[:i])
			}
			return ""
		}
	}
}

var tagName = regexp.MustCompile(`<(/?)([A-Za-z])`)

// prefixed gives every tag of a piece of XML a prefix.
func prefixed(xml, prefix string) string {
	if prefix == "" {
		return xml
	}
	return tagName.ReplaceAllString(xml, "<${1}"+prefix+"${2}")
}

// setAttr returns a tag's text with an attribute set: replaced where it is there, added else. tag includes < and >.
func setAttr(tag, name, value string) string {
	if from, to, ok := attrAt(tag, name); ok {
		return tag[:from] + escape(value) + tag[to:]
	}
	end := len(tag) - 1
	if strings.HasSuffix(tag, "/>") {
		end--
	}
	return fmt.Sprintf(`%s %s="%s"%s`, strings.TrimRight(tag[:end], " \t\r\n"), name, escape(value), tag[end:])
}

// attrAt finds the value of an attribute, by its name with prefix, between its quotes.
func attrAt(tag, name string) (from, to int, ok bool) {
	at := strings.IndexAny(tag, " \t\r\n")
	if at < 0 {
		return 0, 0, false
	}
	for a := []byte(tag[at:]); ; {
		key, value, rest, more := nextAttr(a)
		if !more {
			return 0, 0, false
		}
		if string(key) == name {
			to = len(tag) - len(rest) - 1
			return to - len(value), to, true
		}
		a = rest
	}
}

var escaper = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")

func escape(text string) string { return escaper.Replace(text) }
