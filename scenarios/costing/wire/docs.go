package wire

import (
	"embed"
	"go/ast"
	"go/parser"
	"go/token"
	"strings"
)

// sources are the files of this package: the words of a schema are their comments, so that they stand once.
//
//go:embed *.go
var sources embed.FS

// docs are the comments of types, by name, and of fields, by type and name with a dot.
type docs map[string]string

func readDocs() (docs, error) {
	entries, err := sources.ReadDir(".")
	if err != nil {
		return nil, err
	}
	out := docs{}
	for _, e := range entries {
		text, err := sources.ReadFile(e.Name())
		if err != nil {
			return nil, err
		}
		f, err := parser.ParseFile(token.NewFileSet(), e.Name(), text, parser.ParseComments)
		if err != nil {
			return nil, err
		}
		for _, d := range f.Decls {
			out.declaration(d)
		}
	}
	return out, nil
}

// declaration notes the comments of a struct.
func (d docs) declaration(decl ast.Decl) {
	g, ok := decl.(*ast.GenDecl)
	if !ok || g.Tok != token.TYPE {
		return
	}
	spec, ok := g.Specs[0].(*ast.TypeSpec)
	if !ok {
		return
	}
	t, ok := spec.Type.(*ast.StructType)
	if !ok {
		return
	}
	d[spec.Name.Name] = oneLine(g.Doc)
	for _, f := range t.Fields.List {
		for _, name := range f.Names {
			d[spec.Name.Name+"."+name.Name] = oneLine(f.Doc)
		}
	}
}

func oneLine(c *ast.CommentGroup) string { return strings.Join(strings.Fields(c.Text()), " ") }
