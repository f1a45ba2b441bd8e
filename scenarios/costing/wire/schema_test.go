package wire

import (
	"reflect"
	"strings"
	"testing"
)

// TestEveryKeyIsDocumented: each type of a form, and each of its fields, has words, and a key of its own.
func TestEveryKeyIsDocumented(t *testing.T) {
	docs, err := readDocs()
	if err != nil {
		t.Fatal(err)
	}
	seen, fields := map[reflect.Type]bool{}, 0
	var look func(reflect.Type)
	look = func(of reflect.Type) {
		switch of.Kind() {
		case reflect.Pointer, reflect.Slice, reflect.Array, reflect.Map:
			look(of.Elem())
		case reflect.Struct:
			if seen[of] {
				return
			}
			seen[of] = true
			if docs[of.Name()] == "" {
				t.Errorf("%s has no words", of.Name())
			}
			for i := range of.NumField() {
				f := of.Field(i)
				look(f.Type)
				if f.Anonymous {
					continue
				}
				fields++
				if words := docs[of.Name()+"."+f.Name]; !strings.HasSuffix(words, ".") {
					t.Errorf("%s.%s has no words, or no full stop behind them: %q", of.Name(), f.Name, words)
				}
				if key := f.Tag.Get("json"); key == "" || strings.ToLower(key) != key {
					t.Errorf("%s.%s has the key %q", of.Name(), f.Name, key)
				}
			}
		}
	}
	for _, f := range forms {
		look(f.of)
	}
	if len(seen) < 50 || fields < 250 {
		t.Errorf("only %d types and %d fields seen", len(seen), fields)
	}
}

// TestSchemaOfEach: each answer has a schema with its own format and version, and what is no answer has none.
func TestSchemaOfEach(t *testing.T) {
	for _, f := range forms {
		text, err := Schema(f.name)
		if err != nil || !strings.Contains(string(text), `"const": "`+f.format+`"`) {
			t.Errorf("%s: %v, %.300s", f.name, err, text)
		}
	}
	if _, err := Schema("nothing"); err == nil {
		t.Error("there is a schema of nothing")
	}
	if got := Begin[Run](); got != (Answer{"piececost run", 1}) {
		t.Errorf("a run begins with %+v", got)
	}
}
