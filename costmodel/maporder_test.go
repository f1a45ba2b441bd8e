package costmodel_test

import (
	"bytes"
	"encoding/json"
	"go/ast"
	"go/importer"
	"go/parser"
	"go/token"
	"go/types"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// anyOrder are the functions that walk a map as it comes, with the reason why nothing they make depends on the order. A
// walk that writes, reports, registers or appends goes over sorted keys instead: slices.Sorted(maps.Keys(m)).
var anyOrder = map[string]string{
	"costmodel/formula/parse.go parserConfig":      "fills a map",
	"costmodel/joininstead.go assign":              "counts",
	"costmodel/joininstead.go alike":               "asks whether one is there",
	"costmodel/machinesized.go sizedChanged":       "collects, sorted below",
	"costmodel/ownprocess.go checkOwnProcesses":    "collects, sorted with more below",
	"costmodel/questionsread.go headings":          "fills a map",
	"costmodel/possible.go holdsImpossible":        "asks whether one is there",
	"costmodel/unread.go eachReference":            "fills sets",
	"costmodel/unread.go look":                     "fills sets",
	"costmodel/quotecolumns.go saysAnything":       "asks whether one is there",
	"costmodel/quote/check.go anyOf":               "asks whether one is there",
	"costmodel/record.go quantityRow":              "each key has a record of its own",
	"costmodel/scenario.go setting":                "each key has a record of its own",
	"costmodel/structure.go activeSteps":           "sorts each value by itself",
	"costmodel/units/system.go nearest":            "collects, sorted below",
	"scenarios/sheet/fingerprints.go Seal":         "the greatest",
	"scenarios/handedits/record.go recordOf":       "sorts each value by itself",
	"scenarios/lint/sheet.go take":                 "collects, sorted below",
	"scenarios/live/build.go ScopeOfTitle":         "each title stands once",
	"scenarios/live/build.go hasOwn":               "asks whether one is there",
	"scenarios/live/inputs.go Sorted":              "collects, sorted below by place, of which each has one",
	"scenarios/ooxml/merge.go dropUnused":          "marks until nothing more is to be marked",
	"scenarios/ooxml/merge.go users":               "asked whether all are of a kind",
	"scenarios/ooxml/mergebook.go freeID":          "the greatest",
	"scenarios/starter/importformats.go growLists": "each list is another",
	"scenarios/handedits/remarkrows.go keep":       "each heading has a cell of its own",
	"scenarios/handedits/remarkplace.go add":       "the least and the greatest",
	"scenarios/handedits/remarks.go lostLabels":    "counts",
	"scenarios/handedits/remarks.go width":         "the greatest",
	"scenarios/handedits/rowalign.go unique":       "collects, sorted below",
	"scenarios/sheet/page.go Flush":                "the greatest",
	"costmodel/study/volumeviewpools.go differing": "collects, sorted below",
}

// listed is what `go list` says of a package.
type listed struct {
	ImportPath, Dir, Export string
	GoFiles                 []string
	Module                  *struct{ Main bool }
}

// TestNoOrderOfMaps finds every walk over a map in the product, by the types of its code. The same input gives the same
// bytes only where none of them reaches an output.
func TestNoOrderOfMaps(t *testing.T) {
	packages, export := listPackages(t)
	files := token.NewFileSet()
	from := importer.ForCompiler(files, "gc", func(path string) (io.ReadCloser, error) { return os.Open(export[path]) })
	found := map[string]bool{}
	for _, p := range packages {
		for at := range mapWalks(t, files, from, p) {
			found[at] = true
			if anyOrder[at] == "" {
				t.Errorf("%s walks a map as it comes: walk sorted keys, or list it here with the reason why its order reaches no output", at)
			}
		}
	}
	for at := range anyOrder {
		if !found[at] {
			t.Errorf("%s is listed and walks no map", at)
		}
	}
}

func listPackages(t *testing.T) (own []listed, export map[string]string) {
	t.Helper()
	cmd := exec.Command("go", "list", "-export", "-deps", "-json=ImportPath,Dir,Export,GoFiles,Module", "./...")
	cmd.Dir, cmd.Stderr = "..", os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	export = map[string]string{}
	for d := json.NewDecoder(bytes.NewReader(out)); d.More(); {
		var p listed
		if err := d.Decode(&p); err != nil {
			t.Fatal(err)
		}
		export[p.ImportPath] = p.Export
		if p.Module != nil && p.Module.Main {
			own = append(own, p)
		}
	}
	return own, export
}

// mapWalks lists the functions of a package that range over a map, as file and function.
func mapWalks(t *testing.T, files *token.FileSet, from types.Importer, p listed) map[string]bool {
	t.Helper()
	var parsed []*ast.File
	for _, name := range p.GoFiles {
		f, err := parser.ParseFile(files, filepath.Join(p.Dir, name), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		parsed = append(parsed, f)
	}
	info := &types.Info{Types: map[ast.Expr]types.TypeAndValue{}}
	if _, err := (&types.Config{Importer: from}).Check(p.ImportPath, files, parsed, info); err != nil {
		t.Fatal(err)
	}
	found := map[string]bool{}
	for _, f := range parsed {
		file := strings.TrimPrefix(p.ImportPath, "piececost/") + "/" + filepath.Base(files.Position(f.Pos()).Filename)
		for _, d := range f.Decls {
			sorted := map[ast.Stmt]bool{}
			ast.Inspect(d, func(n ast.Node) bool {
				if b, ok := n.(*ast.BlockStmt); ok {
					sortedNext(b.List, sorted)
				}
				if r, ok := n.(*ast.RangeStmt); ok && !sorted[r] && inMapOrder(info, r.X) {
					found[file+" "+nameOf(d)] = true
				}
				return true
			})
		}
	}
	return found
}

// sortedNext marks the loops that do nothing but collect the keys, which the next statement sorts.
func sortedNext(list []ast.Stmt, sorted map[ast.Stmt]bool) {
	for i := 1; i < len(list); i++ {
		loop, ok := list[i-1].(*ast.RangeStmt)
		next, isCall := list[i].(*ast.ExprStmt)
		if !ok || !isCall || len(loop.Body.List) != 1 || loop.Value != nil {
			continue
		}
		call, _ := next.X.(*ast.CallExpr)
		if _, assigns := loop.Body.List[0].(*ast.AssignStmt); call == nil || !assigns {
			continue
		}
		of, _ := call.Fun.(*ast.SelectorExpr)
		if of == nil {
			continue
		}
		from, _ := of.X.(*ast.Ident)
		sorted[loop] = from != nil && (from.Name == "sort" || from.Name == "slices" && strings.HasPrefix(of.Sel.Name, "Sort"))
	}
}

// inMapOrder tells a map, and maps.Keys, maps.Values or maps.All of one; sorted or collected ones are other calls.
func inMapOrder(info *types.Info, x ast.Expr) bool {
	if call, ok := x.(*ast.CallExpr); ok {
		if of, ok := call.Fun.(*ast.SelectorExpr); ok {
			name, ok := of.X.(*ast.Ident)
			return ok && name.Name == "maps"
		}
	}
	_, ok := info.Types[x].Type.Underlying().(*types.Map)
	return ok
}

func nameOf(d ast.Decl) string {
	switch d := d.(type) {
	case *ast.FuncDecl:
		return d.Name.Name
	case *ast.GenDecl:
		for _, s := range d.Specs {
			if v, ok := s.(*ast.ValueSpec); ok {
				return v.Names[0].Name
			}
		}
	}
	return ""
}
