package ooxml

import (
	"bytes"
	"errors"
	"strconv"
	"strings"
	"unicode/utf8"
)

// A scanner walks the bytes of an XML part: start tags, end tags and text. It checks no more than it needs: parts are
// written by programs, and a broken one is noticed by what is missing. A document type is refused (entity bombs).
type scanner struct {
	data []byte
	pos  int
}

type tokenKind uint8

const (
	endOfPart tokenKind = iota
	startTag
	endTag
	text
)

// A token is a tag with its attributes as they stand, or a piece of text with its entities.
type token struct {
	kind  tokenKind
	name  []byte // local name, without prefix
	attrs []byte
	empty bool // <tag/>
	text  []byte
	cdata bool
}

var (
	errDocType = errors.New("it holds a document type, which no workbook needs")
	errCut     = errors.New("it ends in the middle of a tag")
)

func (s *scanner) next() (token, error) {
	for s.pos < len(s.data) {
		if s.data[s.pos] != '<' {
			end := bytes.IndexByte(s.data[s.pos:], '<')
			if end < 0 {
				end = len(s.data) - s.pos
			}
			t := token{kind: text, text: s.data[s.pos : s.pos+end]}
			s.pos += end
			return t, nil
		}
		rest := s.data[s.pos:]
		switch {
		case bytes.HasPrefix(rest, []byte("<!--")):
			if !s.skip("-->") {
				return token{}, errCut
			}
		case bytes.HasPrefix(rest, []byte("<![CDATA[")):
			from := s.pos + len("<![CDATA[")
			if !s.skip("]]>") {
				return token{}, errCut
			}
			return token{kind: text, text: s.data[from : s.pos-len("]]>")], cdata: true}, nil
		case bytes.HasPrefix(rest, []byte("<?")):
			if !s.skip("?>") {
				return token{}, errCut
			}
		case bytes.HasPrefix(rest, []byte("<!")):
			return token{}, errDocType
		default:
			return s.tag()
		}
	}
	return token{kind: endOfPart}, nil
}

func (s *scanner) skip(to string) bool {
	i := bytes.Index(s.data[s.pos:], []byte(to))
	if i < 0 {
		return false
	}
	s.pos += i + len(to)
	return true
}

// tag reads <name attrs>, <name attrs/> or </name>. A > inside a quoted attribute does not end it.
func (s *scanner) tag() (token, error) {
	i := s.pos + 1
	t := token{kind: startTag}
	if i < len(s.data) && s.data[i] == '/' {
		t.kind = endTag
		i++
	}
	from := i
	for i < len(s.data) && !isSpace(s.data[i]) && s.data[i] != '>' && s.data[i] != '/' {
		i++
	}
	t.name = s.data[from:i]
	if c := bytes.IndexByte(t.name, ':'); c >= 0 {
		t.name = t.name[c+1:]
	}
	from = i
	quote := byte(0)
	for ; i < len(s.data); i++ {
		c := s.data[i]
		switch {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			t.attrs = s.data[from:i]
			if n := len(t.attrs); n > 0 && t.attrs[n-1] == '/' {
				t.empty, t.attrs = true, t.attrs[:n-1]
			}
			s.pos = i + 1
			return t, nil
		}
	}
	return t, errCut
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// attr returns an attribute by its local name, entities resolved; ok is false where it is not there.
func (t *token) attr(name string) (value string, ok bool) {
	a := t.attrs
	for len(a) > 0 {
		for len(a) > 0 && isSpace(a[0]) {
			a = a[1:]
		}
		eq := bytes.IndexByte(a, '=')
		if eq < 0 {
			return "", false
		}
		key := bytes.TrimSpace(a[:eq])
		if c := bytes.IndexByte(key, ':'); c >= 0 {
			key = key[c+1:]
		}
		a = bytes.TrimLeft(a[eq+1:], " \t\r\n")
		if len(a) == 0 || a[0] != '"' && a[0] != '\'' {
			return "", false
		}
		end := bytes.IndexByte(a[1:], a[0])
		if end < 0 {
			return "", false
		}
		if string(key) == name {
			return unescape(a[1 : 1+end]), true
		}
		a = a[end+2:]
	}
	return "", false
}

// number returns a whole-number attribute, or the default.
func (t *token) number(name string, otherwise int) int {
	v, ok := t.attr(name)
	if !ok {
		return otherwise
	}
	n, err := strconv.Atoi(v)
	if err != nil {
		return otherwise
	}
	return n
}

var entities = map[string]string{"lt": "<", "gt": ">", "amp": "&", "quot": `"`, "apos": "'"}

// unescape resolves the five entities of XML and numbered characters; anything else stays as it is.
func unescape(raw []byte) string {
	if bytes.IndexByte(raw, '&') < 0 {
		return string(raw)
	}
	var b strings.Builder
	for {
		i := bytes.IndexByte(raw, '&')
		if i < 0 {
			b.Write(raw)
			return b.String()
		}
		b.Write(raw[:i])
		raw = raw[i:]
		end := bytes.IndexByte(raw, ';')
		if end < 0 || end > 12 {
			b.WriteByte('&')
			raw = raw[1:]
			continue
		}
		name := string(raw[1:end])
		if r, ok := numbered(name); ok {
			b.WriteRune(r)
		} else if e, ok := entities[name]; ok {
			b.WriteString(e)
		} else {
			b.Write(raw[:end+1])
		}
		raw = raw[end+1:]
	}
}

func numbered(name string) (rune, bool) {
	if !strings.HasPrefix(name, "#") {
		return 0, false
	}
	base, digits := 10, name[1:]
	if strings.HasPrefix(digits, "x") || strings.HasPrefix(digits, "X") {
		base, digits = 16, digits[1:]
	}
	n, err := strconv.ParseUint(digits, base, 32)
	if err != nil || !utf8.ValidRune(rune(n)) {
		return 0, false
	}
	return rune(n), true
}

// plainString resolves _x000D_ and the like, in which spreadsheet programs write characters that XML can't hold.
func plainString(s string) string {
	if !strings.Contains(s, "_x") {
		return s
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		if i+7 <= len(s) && s[i] == '_' && s[i+1] == 'x' && s[i+6] == '_' {
			if n, err := strconv.ParseUint(s[i+2:i+6], 16, 32); err == nil {
				b.WriteRune(rune(n))
				i += 7
				continue
			}
		}
		b.WriteByte(s[i])
		i++
	}
	return b.String()
}
