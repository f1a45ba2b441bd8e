package wire

import (
	"fmt"
	"reflect"
)

// A form is a kind of answer.
type form struct {
	name    string // for the command schema
	format  string
	version int
	of      reflect.Type
}

// forms are all kinds of answer, in the order in which they are listed.
var forms = []form{
	{"check", "piececost check", 1, reflect.TypeFor[Check]()},
	{"run", "piececost run", 1, reflect.TypeFor[Run]()},
	{"sweep", "piececost sweep", 1, reflect.TypeFor[Sweep]()},
	{"crossover", "piececost crossover", 1, reflect.TypeFor[Crossover]()},
	{"stability", "piececost crossover stability", 1, reflect.TypeFor[Stability]()},
	{"compare", "piececost compare", 1, reflect.TypeFor[Compare]()},
	{"volumes", "piececost volumes", 1, reflect.TypeFor[Volumes]()},
	{"combine", "piececost combine", 1, reflect.TypeFor[Combine]()},
	{"solve", "piececost solve", 1, reflect.TypeFor[Solve]()},
	{"sensitivity", "piececost sensitivity", 1, reflect.TypeFor[Sensitivity]()},
	{"table", "piececost sensitivity table", 1, reflect.TypeFor[Table]()},
	{"map", "piececost map", 1, reflect.TypeFor[Map]()},
	{"trial", "piececost trial", 1, reflect.TypeFor[Trial]()},
	{"explain", "piececost explain", 1, reflect.TypeFor[Explain]()},
	{"lint", "piececost lint", 1, reflect.TypeFor[Lint]()},
	{"quotes", "piececost quotes", 1, reflect.TypeFor[Quotes]()},
	{"split", "piececost quotes split", 1, reflect.TypeFor[QuotesSplit]()},
	{"clause", "piececost quotes clause", 1, reflect.TypeFor[QuotesClause]()},
	{"change", "piececost quotes change", 1, reflect.TypeFor[QuotesChange]()},
	{"fit", "piececost fit", 1, reflect.TypeFor[Fit]()},
	{"processes", "piececost processes", 1, reflect.TypeFor[Processes]()},
	{"functions", "piececost processes functions", 1, reflect.TypeFor[Language]()},
	{"grades", "piececost grades", 1, reflect.TypeFor[Grades]()},
}

// Begin is how an answer of type T begins.
func Begin[T any]() Answer {
	for _, f := range forms {
		if f.of == reflect.TypeFor[T]() {
			return Answer{f.format, f.version}
		}
	}
	panic(fmt.Sprintf("%s is no answer", reflect.TypeFor[T]()))
}

// Names lists the kinds of answer.
func Names() []string {
	var out []string
	for _, f := range forms {
		out = append(out, f.name)
	}
	return out
}
