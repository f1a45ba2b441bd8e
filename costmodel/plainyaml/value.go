package plainyaml

import (
	"strings"

	"go.yaml.in/yaml/v3"
)

// whole reads a text that is one value.
func whole(text string, line int) *yaml.Node {
	if strings.IndexByte("{['\"", text[0]) < 0 {
		if !isPlain(text) || strings.Contains(text, ": ") || text[len(text)-1] == ':' {
			return nil
		}
		return &yaml.Node{Kind: yaml.ScalarNode, Value: text, Line: line}
	}
	v := valueReader{text: text, line: line}
	n := v.value()
	if n == nil || strings.TrimLeft(v.text, " ") != "" {
		return nil
	}
	return n
}

// isPlain tells whether a text without marks around it means itself: it begins with no sign of YAML's, and a comment nowhere.
func isPlain(text string) bool {
	if text == "" || strings.IndexByte("&*!|>%@`?:-,#]}[{'\"=<~", text[0]) >= 0 && !negative(text) {
		return false
	}
	return strings.IndexByte(text, '#') < 0
}

// negative tells whether a text begins with a minus and what it stands before.
func negative(text string) bool {
	return len(text) > 1 && text[0] == '-' && text[1] != ' ' && text[1] != '-'
}

// valueReader reads values within brackets; text is what is left of the line.
type valueReader struct {
	text string
	line int
}

func (v *valueReader) value() *yaml.Node {
	if v.text == "" {
		return nil
	}
	switch v.text[0] {
	case '{':
		return v.list(&yaml.Node{Kind: yaml.MappingNode, Style: yaml.FlowStyle, Line: v.line}, '}', v.pair)
	case '[':
		return v.list(&yaml.Node{Kind: yaml.SequenceNode, Style: yaml.FlowStyle, Line: v.line}, ']', v.item)
	case '"':
		return v.quoted('"', yaml.DoubleQuotedStyle)
	case '\'':
		return v.quoted('\'', yaml.SingleQuotedStyle)
	}
	return v.plain()
}

// list reads entries up to the closing bracket.
func (v *valueReader) list(out *yaml.Node, closing byte, entry func(*yaml.Node) bool) *yaml.Node {
	v.skip(1)
	if v.text != "" && v.text[0] == closing {
		v.skip(1)
		return out
	}
	for {
		if !entry(out) || v.text == "" {
			return nil
		}
		mark := v.text[0]
		v.skip(1)
		switch mark {
		case closing:
			return out
		case ',':
		default:
			return nil
		}
	}
}

// skip passes over characters and the blanks that follow.
func (v *valueReader) skip(n int) { v.text = strings.TrimLeft(v.text[n:], " ") }

func (v *valueReader) item(into *yaml.Node) bool {
	n := v.value()
	if n == nil {
		return false
	}
	into.Content = append(into.Content, n)
	v.skip(0)
	return true
}

func (v *valueReader) pair(into *yaml.Node) bool {
	key, rest := cutKey(v.text, v.line)
	if key == nil || rest == "" {
		return false
	}
	into.Content = append(into.Content, key)
	v.text = rest
	return v.item(into)
}

// quoted reads up to the closing mark. A doubled single mark is one; a backslash is not of the plain part.
func (v *valueReader) quoted(mark byte, style yaml.Style) *yaml.Node {
	var b strings.Builder
	for rest := v.text[1:]; ; {
		end := strings.IndexByte(rest, mark)
		if end < 0 || mark == '"' && strings.IndexByte(rest[:end], '\\') >= 0 {
			return nil
		}
		b.WriteString(rest[:end])
		rest = rest[end+1:]
		if mark == '"' || rest == "" || rest[0] != mark {
			v.text = rest
			return &yaml.Node{Kind: yaml.ScalarNode, Tag: "!!str", Value: b.String(), Style: style, Line: v.line}
		}
		b.WriteByte(mark)
		rest = rest[1:]
	}
}

// plain reads a scalar without marks up to a comma or a closing bracket.
func (v *valueReader) plain() *yaml.Node {
	end := strings.IndexAny(v.text, ",}]")
	if end < 0 {
		return nil
	}
	text := strings.TrimRight(v.text[:end], " ")
	if !isPlain(text) || strings.ContainsAny(text, "{[?:") {
		return nil
	}
	v.text = v.text[end:]
	return &yaml.Node{Kind: yaml.ScalarNode, Value: text, Line: v.line}
}
