package ooxml

import (
	"bytes"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/unicode"
)

// A scanner walks the bytes of an XML part: start tags, end tags and text. It checks no more than it needs: parts are
// written by programs, and a broken one is noticed by what is missing. A document type is refused (entity bombs).
type scanner struct {
	data  []byte
	pos   int
	depth int // elements open
	seen  bool
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
	errTag     = errors.New("a tag of it has a < inside")
	errNesting = errors.New("its tags do not match")
	errEmpty   = errors.New("it is empty")
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

// whole tells, at the end of a part, whether it has a root element and that is closed: a part cut between two tags has
// lost cells without a trace.
func (s *scanner) whole() error {
	switch {
	case !s.seen:
		return errEmpty
	case s.depth != 0:
		return errNesting
	}
	return nil
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
		case c == '<':
			return t, errTag // not in a quoted attribute either (XML 1.0, 3.1)
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
			s.nest(&t)
			return t, nil
		}
	}
	return t, errCut
}

func (s *scanner) nest(t *token) {
	s.seen = true
	switch {
	case t.kind == endTag:
		s.depth--
	case !t.empty:
		s.depth++
	}
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }

// attr returns an attribute by its local name, entities resolved; ok is false where it is not there. One without prefix
// goes before one with (the namespaces of r:id differ); xmlns:r declares a prefix and is none.
func (t *token) attr(name string) (value string, ok bool) {
	raw, ok := t.rawAttr(name)
	return unescape(raw), ok
}

// rawAttr returns an attribute as it stands.
func (t *token) rawAttr(name string) (value []byte, ok bool) {
	var other []byte
	for a := t.attrs; ; {
		key, raw, rest, more := nextAttr(a)
		if !more {
			return other, other != nil
		}
		prefix, local, prefixed := bytes.Cut(key, []byte(":"))
		switch {
		case !prefixed && string(key) == name:
			return raw, true
		case prefixed && other == nil && string(local) == name && string(prefix) != "xmlns":
			other = raw
		}
		a = rest
	}
}

// nextAttr cuts the first attribute off; ok is false where none is left.
func nextAttr(a []byte) (key, value, rest []byte, ok bool) {
	eq := bytes.IndexByte(a, '=')
	if eq < 0 {
		return nil, nil, nil, false
	}
	key = bytes.TrimSpace(a[:eq])
	a = bytes.TrimLeft(a[eq+1:], " \t\r\n")
	if len(a) == 0 || a[0] != '"' && a[0] != '\'' {
		return nil, nil, nil, false
	}
	end := bytes.IndexByte(a[1:], a[0])
	if end < 0 {
		return nil, nil, nil, false
	}
	return key, a[1 : 1+end : 1+end], a[end+2:], true
}

// number returns a whole-number attribute, or the default.
func (t *token) number(name string, otherwise int) int {
	raw, ok := t.rawAttr(name)
	if !ok {
		return otherwise
	}
	if bytes.IndexByte(raw, '&') >= 0 {
		raw = []byte(unescape(raw))
	}
	n, err := strconv.Atoi(string(raw))
	if err != nil {
		return otherwise
	}
	return n
}

// chars returns a text's characters: line ends as XML wants them (1.0, 2.11), entities resolved but in CDATA.
func (t *token) chars() string {
	raw := t.text
	if bytes.IndexByte(raw, '\r') >= 0 {
		raw = bytes.ReplaceAll(raw, []byte("\r\n"), []byte("\n"))
		raw = bytes.ReplaceAll(raw, []byte("\r"), []byte("\n"))
	}
	if t.cdata {
		return string(raw)
	}
	return unescape(raw)
}

// pieces joins the texts of an element, of which there is nearly always one.
type pieces struct {
	first string
	all   []byte
	raw   int
}

func (p *pieces) add(t *token) error {
	if p.raw += len(t.text); p.raw > maxText {
		return errText
	}
	switch {
	case p.first == "":
		p.first = t.chars()
		return nil
	case p.all == nil:
		p.all = []byte(p.first)
	}
	p.all = append(p.all, t.chars()...)
	return nil
}

var errText = fmt.Errorf("a text of it is longer than %d MB", maxText>>20)

func (p *pieces) String() string {
	if p.all == nil {
		return p.first
	}
	return string(p.all)
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

// isUTF16 tells UTF-16, with a mark or without: then by its first < (XML 1.0, appendix F).
func isUTF16(data []byte) bool {
	for _, head := range []string{"\xFF\xFE", "\xFE\xFF", "<\x00", "\x00<"} {
		if bytes.HasPrefix(data, []byte(head)) {
			return true
		}
	}
	return false
}

// utf8Of turns UTF-16 into UTF-8 and drops a byte order mark. UTF-16 without a mark is known by its first < (XML 1.0,
// appendix F).
func utf8Of(data []byte) []byte {
	order := unicode.LittleEndian
	switch {
	case bytes.HasPrefix(data, []byte{0xFF, 0xFE}), bytes.HasPrefix(data, []byte{0xFE, 0xFF}), bytes.HasPrefix(data, []byte{'<', 0}):
	case bytes.HasPrefix(data, []byte{0, '<'}):
		order = unicode.BigEndian
	default:
		return bytes.TrimPrefix(data, []byte("\xEF\xBB\xBF"))
	}
	out, err := unicode.UTF16(order, unicode.UseBOM).NewDecoder().Bytes(data)
	if err != nil {
		return data
	}
	return out
}
