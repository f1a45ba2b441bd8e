package costmodel_test

import (
	"go/parser"
	"go/token"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
)

// allowed is the partial order of the packages: what each may import of this module and which outside modules. Only a
// deliberate edit here can relax it.
var allowed = map[string][]string{
	"cmd/piececost": {"cmd/piececost/internal/report", "cmd/piececost/internal/term", "costmodel", "costmodel/quote", "costmodel/study", "costmodel/table",
		"scenarios", "scenarios/costing", "scenarios/costing/wire", "scenarios/lint", "templates", "github.com/spf13/cobra"},

	"cmd/piececost/internal/report": {"cmd/piececost/internal/term", "costmodel", "costmodel/quote", "costmodel/table", "costmodel/study",
		"costmodel/fit", "costmodel/formula",
		"costmodel/units", "scenarios",
		"scenarios/costing/wire", "scenarios/lint",
		"github.com/shopspring/decimal"},
	"cmd/piececost/internal/term": {"golang.org/x/term"},
	"scenarios/costing/wire":      {},
	"scenarios/costing": {"costmodel", "costmodel/fit", "costmodel/quote", "costmodel/table", "costmodel/study", "scenarios", "scenarios/sheet",
		"templates"},
	"scenarios": {"costmodel", "costmodel/quote", "costmodel/table", "costmodel/study", "scenarios/handedits", "scenarios/ooxml", "scenarios/quoteform",
		"scenarios/reading", "scenarios/results", "scenarios/safefile", "scenarios/sheet", "scenarios/starter", "github.com/xuri/excelize/v2"},
	"scenarios/starter": {"costmodel", "costmodel/table", "costmodel/units", "scenarios/ooxml", "scenarios/reading", "scenarios/sheet",
		"github.com/xuri/excelize/v2"},
	"scenarios/quoteform": {"costmodel", "costmodel/table", "costmodel/units", "scenarios/ooxml", "scenarios/reading", "scenarios/sheet",
		"github.com/xuri/excelize/v2"},
	"scenarios/results": {"costmodel", "costmodel/fit", "costmodel/quote", "costmodel/table", "costmodel/study", "scenarios/handedits", "scenarios/live",
		"scenarios/seal",
		"scenarios/sheet", "github.com/xuri/excelize/v2"},
	"scenarios/handedits": {"costmodel", "costmodel/table", "scenarios/live", "scenarios/ooxml", "scenarios/reading", "scenarios/seal",
		"scenarios/sheet", "scenarios/sheetformula", "github.com/xuri/excelize/v2"},
	"scenarios/reading":      {"costmodel/table", "scenarios/ooxml", "scenarios/sheet", "scenarios/sheetformula", "github.com/xuri/excelize/v2"},
	"scenarios/sheet":        {"costmodel/table", "scenarios/live", "scenarios/seal", "github.com/xuri/excelize/v2"},
	"scenarios/safefile":     {},
	"scenarios/seal":         {"scenarios/sheetformula"},
	"scenarios/sheetformula": {},
	"scenarios/ooxml":        {"golang.org/x/text/encoding/unicode"},
	"scenarios/lint":         {"costmodel/table", "costmodel/units", "scenarios/ooxml", "scenarios/sheetformula"},
	"scenarios/live":         {"costmodel", "costmodel/table", "costmodel/plan", "costmodel/formula", "costmodel/units"},
	"costmodel/study":        {"costmodel", "costmodel/fit", "costmodel/table", "costmodel/kernel"},
	"costmodel/quote":        {"costmodel", "costmodel/table", "costmodel/units"},
	"costmodel": {"costmodel/table", "costmodel/plan", "costmodel/kernel", "costmodel/formula", "costmodel/units",
		"github.com/shopspring/decimal", "go.yaml.in/yaml/v3"},
	"costmodel/plan":   {"costmodel/kernel", "costmodel/formula"},
	"costmodel/kernel": {},
	"costmodel/formula": {"costmodel/units", "github.com/expr-lang/expr/ast", "github.com/expr-lang/expr/conf", "github.com/expr-lang/expr/file",
		"github.com/expr-lang/expr/parser", "github.com/expr-lang/expr/parser/lexer"},
	"costmodel/units": {"golang.org/x/text/currency"},
	"costmodel/table": {},
	"costmodel/fit": {"gonum.org/v1/gonum/blas", "gonum.org/v1/gonum/blas/blas64", "gonum.org/v1/gonum/lapack/lapack64", "gonum.org/v1/gonum/mat",
		"gonum.org/v1/gonum/stat/distuv"},
	"templates":     {},
	"testdata/door": {"scenarios/costing", "scenarios/costing/wire"}, // a program of its own
}

// TestImportsRunDown reads the imports of every file that is no test.
func TestImportsRunDown(t *testing.T) {
	seen := map[string]bool{}
	err := filepath.WalkDir("..", func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		pkg := filepath.ToSlash(strings.TrimPrefix(filepath.Dir(path), ".."+string(filepath.Separator)))
		list, known := allowed[pkg]
		if !known {
			t.Errorf("package %s is not in the list", pkg)
			return nil
		}
		seen[pkg] = true
		f, err := parser.ParseFile(token.NewFileSet(), path, nil, parser.ImportsOnly)
		if err != nil {
			return err
		}
		for _, imp := range f.Imports {
			name, _ := strconv.Unquote(imp.Path.Value)
			own, inside := strings.CutPrefix(name, "piececost/")
			if !inside && !strings.Contains(strings.SplitN(name, "/", 2)[0], ".") {
				continue // standard library
			}
			if !contains(list, own) {
				t.Errorf("%s imports %s", path, name)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(seen) < 9 {
		t.Errorf("only %d packages seen", len(seen))
	}
}

func contains(list []string, name string) bool {
	for _, x := range list {
		if x == name {
			return true
		}
	}
	return false
}
