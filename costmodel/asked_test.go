package costmodel

import (
	"bytes"
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"testing/fstest"
)

// templatesInMemory reads the definitions under templates/, without the samples.
func templatesInMemory(t *testing.T) fstest.MapFS {
	t.Helper()
	out := fstest.MapFS{}
	for _, dir := range []string{"equations", "forms", "processes", "quotes"} {
		err := fs.WalkDir(os.DirFS("../templates"), dir, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() {
				return err
			}
			raw, err := os.ReadFile("../templates/" + path)
			out[path] = &fstest.MapFile{Data: raw}
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return out
}

// loadWith loads the library with the text of some files changed.
func loadWith(files fstest.MapFS, change func(path string, text []byte) []byte) error {
	changed := fstest.MapFS{}
	for path, f := range files {
		changed[path] = &fstest.MapFile{Data: change(path, f.Data)}
	}
	_, err := LoadLibrary(changed)
	return err
}

// TestAskedQuantityGone takes each quantity that Go asks for out of the library in turn: loading it says which one is gone, and
// from which file.
func TestAskedQuantityGone(t *testing.T) {
	files := templatesInMemory(t)
	lib, err := LoadLibrary(files)
	if err != nil {
		t.Fatal(err)
	}
	seen, spread := 0, map[string]bool{}
	for _, e := range lib.Elements {
		spread["part."+e.Name], spread["scenario."+e.Name], spread["scenario."+e.PieceName()] = true, true, true
	}
	for _, a := range askedFor(lib.Elements) {
		key := regexp.MustCompile(`(?m)^  ` + a.name + `:`)
		if spread[a.scope+"."+a.name] { // written once for all elements
			written := map[bool]string{true: "piece_{element}", false: "{element}"}[strings.HasPrefix(a.name, "piece_")]
			key = regexp.MustCompile(`(?m)^  "` + written + `":`)
		}
		scope := []byte("scope: " + a.scope + "\n")
		file := ""
		err := loadWith(files, func(path string, text []byte) []byte {
			of := bytes.HasPrefix(text, scope) || bytes.Contains(text, append([]byte("\n"), scope...)) || a.within == "form" && strings.HasPrefix(path,
				"forms/")
			if !of || !key.Match(text) {
				return text
			}
			file, seen = path, seen+1
			return key.ReplaceAll(text, []byte("  gone_from_here:"))
		})
		if file == "" {
			t.Errorf("%s of a %s stands in no file", a.name, a.scope)
			continue
		}
		want := "no quantity " + a.name + " of the " + a.scope
		if err == nil || !strings.Contains(err.Error(), want) || a.within == "" && !strings.Contains(err.Error(), file) {
			t.Errorf("without %s of a %s: %v", a.name, a.scope, err)
		}
	}
	if seen < 100 {
		t.Errorf("only %d quantities taken out", seen)
	}
}

// TestAskedQuantityChanged: a quantity that is there but is no longer what Go takes it for is an error too.
func TestAskedQuantityChanged(t *testing.T) {
	files := templatesInMemory(t)
	for _, c := range []struct{ file, old, new, message string }{
		{"equations/2-plant.yaml", `  paid_hours_per_shift: {unit: h,`, `  paid_hours_per_shift: {unit: "1",`,
			"paid_hours_per_shift of a plant is [1], but the program takes it for [h]"},
		{"equations/2-plant.yaml", `  paid_hours_per_shift: {unit: h,`, `  paid_hours_per_shift: {unit: min,`,
			"paid_hours_per_shift of a plant is [min], but the program takes it for [h]"},
		{"equations/4-machine.yaml", "options: [shared, dedicated, pooled]", "options: [shared, dedicated, merged]",
			`equipment_allocation of a machine is one of ["shared" "dedicated" "merged"], but the program takes it for [shared|dedicated|pooled]`},
		{"equations/7-operation.yaml", "counts: set-ups, ", "", "no quantity of an operation counts set-ups"},
		{"equations/2-plant.yaml", `  shifts: {unit: "1",`, `  shifts: {unit: flag,`, "shifts of a plant is a choice or a condition"},
	} {
		found := false
		err := loadWith(files, func(path string, text []byte) []byte {
			if path != c.file {
				return text
			}
			found = bytes.Contains(text, []byte(c.old))
			return bytes.ReplaceAll(text, []byte(c.old), []byte(c.new))
		})
		if !found {
			t.Errorf("%s has no %q", c.file, c.old)
		} else if err == nil || !strings.Contains(err.Error(), c.message) {
			t.Errorf("%s for %s: %v", c.new, c.old, err)
		}
	}
}

// libraryBlind are the packages that know no library: their words are units, functions and parts of files.
var libraryBlind = []string{"costmodel/units", "costmodel/formula", "costmodel/kernel", "costmodel/plan", "costmodel/fit", "scenarios/lint", "scenarios/ooxml",
	"scenarios/safefile", "scenarios/seal", "scenarios/sheetformula"}

// accessors are the methods that take a quantity by its name.
var accessors = []string{"Value", "Must", "In", "Choice", "Fix", "CaseValue", "MustQuantity", "Ref", "VariantRef", "Find", "ColumnOf", "Lanes"}

// ordinaryWords are quantities of processes that Go never asks for and whose names are words that it has for something else: a flag, a
// relation, a way to vary.
var ordinaryWords = map[string]bool{"operation.cycle": true, "operation.depth": true, "operation.operations": true, "operation.stretch": true}

// TestAskedIsComplete reads the source: every text in it that is the name of a quantity of the library is in the list, for each
// scope that has such a quantity, and so is every name that an accessor is called with.
func TestAskedIsComplete(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	scopesOf := map[string][]string{}
	for _, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes} {
		for _, tpl := range list {
			for _, it := range tpl.Items {
				if !slices.Contains(scopesOf[it.Name], tpl.Scope) {
					scopesOf[it.Name] = append(scopesOf[it.Name], tpl.Scope)
				}
			}
		}
	}
	ofQuotes := quoteQuantities(t)
	listed := map[string]bool{}
	for _, a := range askedFor(lib.Elements) {
		if listed[a.scope+"."+a.name] {
			t.Errorf("%s.%s is listed twice", a.scope, a.name)
		}
		listed[a.scope+"."+a.name] = true
	}
	for _, items := range structural {
		for _, it := range items {
			scopesOf[it.Name] = append(scopesOf[it.Name], "")
			listed["."+it.Name] = true
		}
	}
	used := map[string]bool{}
	eachText(t, func(at token.Position, text string, accessor bool) {
		name := strings.TrimPrefix(text, "case.")
		for _, scope := range scopesOf[name] {
			if ordinaryWords[scope+"."+name] {
				continue
			}
			used[scope+"."+name] = true
			if !listed[scope+"."+name] {
				t.Errorf("%v: %q is a quantity of a %s and does not stand in askedQuantities", at, text, scope)
			}
		}
		switch {
		case accessor && scopesOf[name] == nil && ofQuotes[name]: // TestAskedOfQuotes
		case accessor && scopesOf[name] == nil:
			t.Errorf("%v: an accessor is called with %q, which is no quantity", at, text)
		case strings.HasSuffix(text, "_") && text != "piece_" && beginsSome(text, scopesOf):
			t.Errorf("%v: a name is put together with %q, which this test can't follow", at, text)
		}
	})
	for _, a := range askedFor(nil) { // the elements are taken by the library's list
		if !used[a.scope+"."+a.name] && !strings.HasPrefix(a.name, "piece_") {
			t.Errorf("%s of a %s is in askedQuantities and nowhere else", a.name, a.scope)
		}
	}
	if len(used) < 100 {
		t.Errorf("only %d names seen", len(used))
	}
}

// beginsSome tells whether the name of a quantity begins with a text.
func beginsSome(text string, names map[string][]string) bool {
	for name := range names {
		if strings.HasPrefix(name, text) {
			return true
		}
	}
	return false
}

// eachText visits the texts in the source of the packages that know the library; accessor tells whether a method that takes a
// name is called with it.
func eachText(t *testing.T, visit func(at token.Position, text string, accessor bool)) {
	t.Helper()
	err := filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		pkg := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), ".."+string(filepath.Separator)))
		if slices.Contains(libraryBlind, pkg) || filepath.Base(path) == "asked.go" {
			return nil
		}
		files := token.NewFileSet()
		f, err := parser.ParseFile(files, path, nil, parser.SkipObjectResolution)
		if err != nil {
			return err
		}
		called := map[*ast.BasicLit]bool{}
		ast.Inspect(f, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.ImportSpec:
				return false
			case *ast.Field: // of a struct: its tag is no name
				return n.Tag == nil
			case *ast.CallExpr:
				if s, ok := n.Fun.(*ast.SelectorExpr); ok && slices.Contains(accessors, s.Sel.Name) {
					for _, arg := range n.Args {
						if lit, ok := arg.(*ast.BasicLit); ok {
							called[lit] = true
						}
					}
				}
			case *ast.BasicLit:
				if text, err := strconv.Unquote(n.Value); err == nil && n.Kind == token.STRING {
					visit(files.Position(n.Pos()), text, called[n])
				}
			}
			return true
		})
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

// quoteQuantities are the names of the quantities of quotes.
func quoteQuantities(t *testing.T) map[string]bool {
	t.Helper()
	lib, err := LoadQuotes(os.DirFS("../templates"))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]bool{}
	for _, tpl := range lib.Templates {
		for _, it := range tpl.Items {
			out[it.Name] = true
		}
	}
	return out
}

// TestAskedOfQuotes: every name of a quantity of quotes in the source stands in the list that LoadQuotes looks up, and nothing else does.
func TestAskedOfQuotes(t *testing.T) {
	lib, err := libraryOfTests()
	if err != nil {
		t.Fatal(err)
	}
	both := map[string]bool{} // names that cases have too
	for _, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes} {
		for _, tpl := range list {
			for _, it := range tpl.Items {
				both[it.Name] = true
			}
		}
	}
	names, used := quoteQuantities(t), map[string]bool{}
	eachText(t, func(at token.Position, text string, _ bool) {
		if !names[text] {
			return
		}
		used[text] = true
		if !both[text] && !slices.Contains(quotesAsked(), text) && strings.Contains(text, "_") {
			t.Errorf("%v: %q is a quantity of quotes and does not stand in askedOfQuotes", at, text)
		}
	})
	for _, name := range quotesAsked() {
		if !names[name] {
			t.Errorf("%s is in askedOfQuotes and no quantity", name)
		}
	}
}
