package wire

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
)

// dialect is the JSON Schema that is written: draft 2020-12.
const dialect = "https://json-schema.org/draft/2020-12/schema"

// A schema is a JSON Schema, its keywords in the order in which they are read.
type schema struct {
	Dialect     string      `json:"$schema,omitempty"`
	Title       string      `json:"title,omitempty"`
	Description string      `json:"description,omitempty"`
	Ref         string      `json:"$ref,omitempty"`
	Type        any         `json:"type,omitempty"` // a word, or several
	Const       any         `json:"const,omitempty"`
	OneOf       []*schema   `json:"oneOf,omitempty"`
	Items       *schema     `json:"items,omitempty"`
	MinItems    int         `json:"minItems,omitempty"`
	MaxItems    int         `json:"maxItems,omitempty"`
	Properties  *properties `json:"properties,omitempty"`
	Required    []string    `json:"required,omitempty"`
	Additional  any         `json:"additionalProperties,omitempty"` // of an object: false, or the schema of its values
	Defs        *properties `json:"$defs,omitempty"`
}

// Schema is the JSON Schema of a kind of answer (Names), or of any of them where name is empty, indented, without a line
// end. The version and name of a form are constants in it, and no other keys are allowed than those of this version of the
// program.
func Schema(name string) ([]byte, error) {
	docs, err := readDocs()
	if err != nil {
		return nil, err
	}
	w := &schemaWriter{docs: docs, defs: &properties{}}
	root := &schema{}
	for _, f := range forms {
		switch name {
		case f.name:
			root = w.form(f)
		case "":
			root.OneOf = append(root.OneOf, w.form(f))
		}
	}
	if name != "" && root.Title == "" {
		return nil, fmt.Errorf("there is no answer %q; the answers are %s", name, strings.Join(Names(), ", "))
	}
	root.Dialect, root.Defs = dialect, w.defs
	return json.MarshalIndent(root, "", "  ")
}

// A schemaWriter collects the definitions of the types that a schema rests on.
type schemaWriter struct {
	docs docs
	defs *properties
}

// form is the schema of an answer, with its format and version as constants.
func (w *schemaWriter) form(f form) *schema {
	s := w.object(f.of)
	s.Title = fmt.Sprintf("%s, version %d", f.format, f.version)
	s.Properties.of("format").Const, s.Properties.of("version").Const = f.format, f.version
	return s
}

// object is the schema of a struct.
func (w *schemaWriter) object(t reflect.Type) *schema {
	s := &schema{Type: "object", Description: w.docs[t.Name()], Properties: &properties{}, Additional: false}
	w.fields(t, s)
	return s
}

// fields adds the fields of a struct, those of an embedded one in its place.
func (w *schemaWriter) fields(t reflect.Type, s *schema) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			w.fields(f.Type, s)
			continue
		}
		key, options, _ := strings.Cut(f.Tag.Get("json"), ",")
		absent := options == "omitempty"
		p := w.value(f.Type, !absent)
		p.Description = w.docs[t.Name()+"."+f.Name]
		s.Properties.add(key, p)
		if !absent {
			s.Required = append(s.Required, key)
		}
	}
}

// value is the schema of a value; null says whether a pointer that leads nowhere is written as that.
func (w *schemaWriter) value(t reflect.Type, null bool) *schema {
	switch {
	case t == reflect.TypeFor[json.Number]():
		return &schema{Type: "number"}
	case t.Kind() == reflect.Pointer && null:
		s := w.value(t.Elem(), false)
		s.Type = []any{s.Type, "null"}
		return s
	case t.Kind() == reflect.Pointer:
		return w.value(t.Elem(), false)
	case t.Kind() == reflect.Slice:
		return &schema{Type: "array", Items: w.value(t.Elem(), true)}
	case t.Kind() == reflect.Array:
		return &schema{Type: "array", Items: w.value(t.Elem(), true), MinItems: t.Len(), MaxItems: t.Len()}
	case t.Kind() == reflect.Map:
		return &schema{Type: "object", Additional: w.value(t.Elem(), true)}
	case t.Kind() == reflect.Struct:
		return w.reference(t)
	}
	return &schema{Type: plainType(t)}
}

// reference is a reference to the definition of a struct, which is made when it is first met.
func (w *schemaWriter) reference(t reflect.Type) *schema {
	if w.defs.of(t.Name()) == nil {
		w.defs.add(t.Name(), nil) // its own parts may be of it
		w.defs.set(t.Name(), w.object(t))
	}
	return &schema{Ref: "#/$defs/" + t.Name()}
}

// plainType is the JSON type of a value without parts.
func plainType(t reflect.Type) string {
	switch t.Kind() {
	case reflect.String:
		return "string"
	case reflect.Bool:
		return "boolean"
	case reflect.Int:
		return "integer"
	case reflect.Float64:
		return "number"
	}
	panic(fmt.Sprintf("the wire form has no %s", t))
}
