// Package plainyaml reads the plain part of YAML that files of definitions are written in: mappings and sequences by indentation,
// {...} and [...] on one line, plain and quoted scalars. It is some ten times as fast as a reader of all of YAML, and every command
// begins with these files. What it does not know, or what is wrong, it leaves to that reader, which also has the words for it.
package plainyaml

import (
	"strings"
	"unicode/utf8"

	"go.yaml.in/yaml/v3"
)

// Read returns the nodes of a file as package yaml does, with lines but without columns and comments. It is nil where the file has
// anything beyond the plain part, or anything wrong.
func Read(raw []byte) *yaml.Node {
	text := string(raw)
	if !plainText(text) {
		return nil
	}
	r := reader{}
	for i, line := range strings.Split(text, "\n") {
		body := strings.TrimLeft(line, " ")
		if body == "" || body[0] == '#' {
			continue
		}
		r.lines = append(r.lines, textLine{number: i + 1, indent: len(line) - len(body), text: strings.TrimRight(body, " ")})
	}
	if len(r.lines) == 0 || r.lines[0].indent != 0 {
		return nil
	}
	root := r.block(0)
	if root == nil || r.at < len(r.lines) {
		return nil
	}
	return root
}

// plainText tells whether a text has only characters that mean themselves: no tab, no other end of line, no mark of a byte order.
func plainText(text string) bool {
	for _, c := range text {
		switch {
		case c == '\n':
		case c < ' ' || c >= 0x7f && c < 0xa0 || c == 0x2028 || c == 0x2029 || c == 0xfeff || c >= 0xfff0 || c == utf8.RuneError:
			return false
		}
	}
	return true
}

type textLine struct {
	number, indent int
	text           string // without the blanks around it
}

type reader struct {
	lines []textLine
	at    int
}

// block reads the lines of one indentation, nil where they are beyond the plain part.
func (r *reader) block(indent int) *yaml.Node {
	first := r.lines[r.at]
	out := &yaml.Node{Kind: yaml.MappingNode, Line: first.number}
	entry := r.pair
	if strings.HasPrefix(first.text, "- ") {
		out.Kind, entry = yaml.SequenceNode, r.item
	}
	for r.at < len(r.lines) && r.lines[r.at].indent == indent {
		if !entry(out, r.lines[r.at]) {
			return nil
		}
	}
	if r.at < len(r.lines) && r.lines[r.at].indent > indent { // the second line of a scalar
		return nil
	}
	return out
}

// pair reads "key: value", or "key:" and the lines below it.
func (r *reader) pair(into *yaml.Node, l textLine) bool {
	key, rest := cutKey(l.text, l.number)
	if key == nil {
		return false
	}
	r.at++
	var value *yaml.Node
	switch {
	case rest != "":
		value = whole(rest, l.number)
	case r.at < len(r.lines) && r.lines[r.at].indent > l.indent:
		value = r.block(r.lines[r.at].indent)
	}
	if value == nil {
		return false
	}
	into.Content = append(into.Content, key, value)
	return true
}

// item reads "- value"; a value is on the same line.
func (r *reader) item(into *yaml.Node, l textLine) bool {
	rest, ok := strings.CutPrefix(l.text, "- ")
	if !ok {
		return false
	}
	r.at++
	value := whole(strings.TrimLeft(rest, " "), l.number)
	if value == nil {
		return false
	}
	into.Content = append(into.Content, value)
	return true
}

// cutKey cuts a text behind its key, which is words without marks, or in quotation marks; nil where it is neither.
func cutKey(text string, line int) (key *yaml.Node, rest string) {
	if text != "" && text[0] == '"' {
		v := valueReader{text: text, line: line}
		key, rest = v.quoted('"', yaml.DoubleQuotedStyle), v.text
	} else if end := strings.IndexByte(text, ':'); end > 0 && isKey(text[:end]) {
		key, rest = &yaml.Node{Kind: yaml.ScalarNode, Value: text[:end], Line: line}, text[end:]
	}
	if key == nil || len(key.Value) > 500 || rest != ":" && !strings.HasPrefix(rest, ": ") {
		return nil, ""
	}
	return key, strings.TrimLeft(rest[1:], " ")
}

func isKey(text string) bool {
	for i := range len(text) {
		c := text[i] | 0x20
		if (c < 'a' || c > 'z') && (i == 0 || text[i] < '0' || text[i] > '9') && (i == 0 || i == len(text)-1 || !strings.Contains("_. &", text[i:i+1])) {
			return false
		}
	}
	return true
}
