package formula_test

import (
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// TestCases runs the files of testdata/formula; their README gives the format.
func TestCases(t *testing.T) {
	files, err := filepath.Glob("../../testdata/formula/*.txt")
	if err != nil || len(files) == 0 {
		t.Fatalf("no case files: %v", err)
	}
	accepted, refused := 0, 0
	for _, file := range files {
		raw, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		t.Run(filepath.Base(file), func(t *testing.T) {
			f := caseFile{t: t, sys: testUnits(t), env: newTestEnv()}
			for i, line := range strings.Split(string(raw), "\n") {
				f.line = i + 1
				f.statement(line)
			}
			if f.open {
				t.Errorf("the last eval has neither gives nor refused")
			}
			accepted, refused = accepted+f.accepted, refused+f.refused
		})
	}
	if accepted < 30 || refused < 30 {
		t.Errorf("%d accepted and %d refused examples, wanted are 30 of each", accepted, refused)
	}
}

// A caseFile is the state in which a statement is read.
type caseFile struct {
	t                 *testing.T
	sys               *units.System
	env               *testEnv
	rules             formula.Rules
	line              int
	text              string // the expression of the last eval
	open              bool   // it waits for gives or refused
	accepted, refused int
}

func (f *caseFile) statement(line string) {
	line = strings.TrimSpace(line)
	if line == "" || line[0] == '#' {
		return
	}
	word, rest, _ := strings.Cut(line, " ")
	rest = strings.TrimSpace(rest)
	if ends := word == "gives" || word == "refused"; ends != f.open {
		f.t.Fatalf("line %d: %q does not follow an eval as it should", f.line, line)
	}
	switch word {
	case "name", "rows", "constant":
		f.name(word, rest)
	case "curve":
		f.curve(rest)
	case "cell", "template":
		f.rules = formula.Rules{Want: f.typeOf(rest), Grace: word == "cell"}
	case "eval":
		f.text, f.open = rest, true
	case "gives":
		f.gives(rest)
	case "refused":
		f.refuses(rest)
	default:
		f.t.Fatalf("line %d: unknown statement %q", f.line, word)
	}
}

// name reads "cycle_time [s] = 4", "a = 2", and for rows any number of values.
func (f *caseFile) name(kind, text string) {
	head, list, _ := strings.Cut(text, "=")
	path, unit, _ := strings.Cut(strings.TrimSpace(head), " [")
	n := testName{typ: f.typeOf(strings.TrimSuffix(unit, "]")), many: kind == "rows"}
	n.typ.Bare = kind == "constant"
	for _, word := range strings.Fields(list) {
		v := f.number(word)
		if !n.typ.Flag {
			v = n.typ.Unit.Coherent(v)
		}
		n.value += v // the total is what a sum means
	}
	f.env.names[path] = n
}

// curve reads "press_price [kN] [EUR] = 100:20000 200:30000".
func (f *caseFile) curve(text string) {
	head, list, _ := strings.Cut(text, "=")
	parts := strings.FieldsFunc(head, func(r rune) bool { return strings.ContainsRune(" []", r) })
	c := testCurve{x: f.typeOf(parts[1]).Unit, y: f.typeOf(parts[2]).Unit}
	for _, point := range strings.Fields(list) {
		x, y, _ := strings.Cut(point, ":")
		c.X, c.Y = append(c.X, c.x.Coherent(f.number(x))), append(c.Y, c.y.Coherent(f.number(y)))
	}
	f.env.curves[parts[0]] = &c
}

func (f *caseFile) typeOf(unit string) formula.Type {
	if unit == "condition" {
		return formula.Type{Flag: true, Unit: units.One}
	}
	u, err := f.sys.Parse(unit)
	if err != nil {
		f.t.Fatalf("line %d: %v", f.line, err)
	}
	return formula.Type{Unit: u}
}

func (f *caseFile) number(text string) float64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		f.t.Fatalf("line %d: %v", f.line, err)
	}
	return v
}

// gives reads "9: by hand" or "0.163 ±0.0005: table 15" and compares; without a tolerance to 1e-14.
func (f *caseFile) gives(text string) {
	f.open = false
	f.accepted++
	figure, source, _ := strings.Cut(text, ":")
	if strings.TrimSpace(source) == "" {
		f.t.Errorf("line %d: the figure has no source", f.line)
	}
	figure, margin, rounded := strings.Cut(figure, " ±")
	want := f.number(figure)
	tolerance := 1e-14 * math.Abs(want)
	if rounded {
		tolerance = f.number(margin)
	}
	got, err := f.env.run(f.text, f.sys, f.rules)
	if err != nil {
		f.t.Errorf("line %d: %s\nis refused: %s", f.line, f.text, pointed(err))
	} else if !(math.Abs(got-want) <= tolerance) {
		f.t.Errorf("line %d: %s\ngives %v, not %v", f.line, f.text, got, want)
	}
}

func (f *caseFile) refuses(text string) {
	f.open = false
	f.refused++
	got, err := f.env.run(f.text, f.sys, f.rules)
	if err == nil {
		f.t.Errorf("line %d: %s\ngives %v, wanted is the message %s", f.line, f.text, got, text)
	} else if pointed(err) != text {
		f.t.Errorf("line %d: %s\nhas the message %s\n          wanted is %s", f.line, f.text, pointed(err), text)
	}
}

// pointed writes an error with the first and last character it points at, counted from 1.
func pointed(err error) string {
	var fe *formula.Error
	if !errors.As(err, &fe) {
		return "no *formula.Error: " + err.Error()
	}
	return fmt.Sprintf("%d-%d: %s", fe.From+1, fe.To, fe.Error())
}
