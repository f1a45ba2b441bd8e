package plainyaml

import (
	"fmt"
	"io/fs"
	"os"
	"strings"
	"testing"

	"go.yaml.in/yaml/v3"
)

// differs says where two trees of nodes differ in kind, kind of value, value, line or number of entries, "" where nowhere.
func differs(a, b *yaml.Node) string {
	if a.Kind != b.Kind || a.ShortTag() != b.ShortTag() || a.Value != b.Value || a.Line != b.Line || len(a.Content) != len(b.Content) {
		return fmt.Sprintf("line %d: %s %q of %d, and line %d: %s %q of %d", a.Line, a.ShortTag(), a.Value, len(a.Content), b.Line, b.ShortTag(), b.Value,
			len(b.Content))
	}
	for i := range a.Content {
		if d := differs(a.Content[i], b.Content[i]); d != "" {
			return d
		}
	}
	return ""
}

// againstYAML holds what is read, if anything is, against package yaml.
func againstYAML(t *testing.T, raw []byte) (read bool) {
	t.Helper()
	got := Read(raw)
	if got == nil {
		return false
	}
	var want yaml.Node
	if err := yaml.Unmarshal(raw, &want); err != nil {
		t.Fatalf("%q is read, but package yaml says: %v", raw, err)
	}
	if d := differs(got, want.Content[0]); d != "" {
		t.Fatalf("%q is read otherwise than by package yaml: %s", raw, d)
	}
	return true
}

// TestLibraryFiles: all files of definitions but one with a comment behind a key are read, each as package yaml reads it.
func TestLibraryFiles(t *testing.T) {
	files := os.DirFS("../../templates")
	names, err := fs.Glob(files, "*/*.yaml")
	if err != nil || len(names) < 50 {
		t.Fatalf("%d files: %v", len(names), err)
	}
	for _, name := range names {
		raw, err := fs.ReadFile(files, name)
		if err != nil {
			t.Fatal(err)
		}
		if read := againstYAML(t, raw); read == strings.HasSuffix(name, "comparison.yaml") {
			t.Errorf("%s: read is %v; a file beyond the plain part makes every command slower", name, read)
		}
	}
}

// TestRead: what is of the plain part, and what is left to package yaml.
func TestRead(t *testing.T) {
	for text, read := range map[string]bool{
		"a: b": true, "a: 1.5\nb: -2\n": true, "a: b c\n\n# d\ne: {f: g, h: [1, 2], i: \"j, k\"}\n": true, "a:\n  b: c\n  d: e\nf: g": true,
		"a:\n  - {b: 'it''s'}\n  - c\n": true, "a: yes\nb: null\nc: 1e6\nd: 0x1F\ne: 1_000": true, "by hand: {part.gauge: 2 mm}": true,
		"a: b:c": true, "a: \"b # c: d\"": true, "a: [[1, 2], {b: c}]": true, "a: 2026-01-31": true,
		"": false, " a: b": false, "a": false, "a:": false, "a:b": false, "a: b: c": false, "a: b:": false, "a: b # c": false, "a: # c\n  b: d": false,
		"a: \"b\\n\"": false, "a: b\n  c": false, "a: |\n  b": false, "a: &b c": false, "a: *b": false, "a: !!str 1": false, "a: {}": true, "a: [ ]": true,
		"\"{a}\": {\"b\": c}": true, "\"a\" b: c": false, "\"a\":b": false, "\"a: b": false, "a: {": false, "a: {}b": false,
		"a: {b: c": false, "a: [1, 2": false, "a: [1, 2,]": false, "a: {b: c} d": false, "a: 'b": false, "a: \"b\" c": false, "a:\tb": false,
		"a: b\r\n": false, "---\na: b": false, "a: b\n...\n": false, "%YAML 1.2\n---\na: b": false, "a: {b: c\n  }": false, "- a\nb: c": false,
		"a:\n- b": false, "a:\n  - b\n  c: d": false, "a: [b: c]": false, "? a\n: b": false, "a:\n    b: c\n  d: e": false, "<<: a": false,
		"a: {b: c? d}": false, "a: {b: http://c}": false, "a: \ufeffb": false, "a: \xffb": false, "a:\n  -b": false, "a: - b": false, "a: b\u2028c": false,
	} {
		if got := againstYAML(t, []byte(text)); got != read {
			t.Errorf("%q: read is %v, want %v", text, got, read)
		}
	}
}

// FuzzRead: whatever is read is what package yaml reads.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"a: b", "a: {b: 'c''d', e: [1, -2]}", "a:\n  - b\n  - {c: \"d\"}\n# e\nf g: h", "a: ~\nb: =\nc: <<", "a:\n  b: c\n d: e"} {
		f.Add([]byte(seed))
	}
	f.Fuzz(func(t *testing.T, raw []byte) { againstYAML(t, raw) })
}
