package costmodel

import (
	"fmt"
	"slices"
	"strings"

	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// An alias is another name of a quantity, which headings and expressions may use; what is printed has the quantity's own name.

// aliasFault is an alias that can't be one.
type aliasFault struct {
	scope, alias string
	place        table.Place
	what, help   string
}

// aliasFaults finds the aliases of a library that are no names, or names of something else that a heading or an expression of their
// scope can mean.
func (lib *Library) aliasFaults(uses aliasUses) []aliasFault {
	var out []aliasFault
	for _, scope := range scopeOrder {
		list := lib.itemsOf(scope)
		of := map[string]string{} // the quantity that has the alias
		for _, it := range list {
			for _, a := range it.aliases {
				if uses.ofOneProcess(a, it) {
					continue
				}
				if what := aliasTaken(scope, a, it, uses, of); what != "" {
					out = append(out, aliasFault{scope, a, clashPlace(a, it, list), fmt.Sprintf("%s can't be another name of %s: %s", a, it.Name, what),
						"write the quantity's own name, or take a name that nothing else has"})
					continue
				}
				of[a] = it.Name
			}
		}
	}
	return out
}

// itemsOf lists the quantities of a scope, those of its forms and processes among them.
func (lib *Library) itemsOf(scope string) []*Item {
	var out []*Item
	for _, list := range [][]*Template{lib.Scopes, lib.Forms, lib.Processes, lib.Tools, lib.Sizes} {
		for _, t := range list {
			if t.Scope != scope {
				continue
			}
			for i := range t.Items {
				out = append(out, &t.Items[i])
			}
		}
	}
	return out
}

// aliasTaken says what else an alias means, "" where nothing.
func aliasTaken(scope, alias string, it *Item, uses aliasUses, of map[string]string) string {
	if table.Normalise(alias) != alias || alias == "" || strings.Contains(alias, ".") {
		return "it is no name; write small letters and underscores"
	}
	if _, constant := constants[alias]; constant || alias == "base" || relationNamed(scope, alias) >= 0 {
		return "the language has that word"
	}
	for i := range table.Layouts {
		if l := &table.Layouts[i]; l.Scope == scope && (slices.Contains(l.Key, alias) || slices.Contains(l.Texts, alias)) {
			return "it is a column of the sheet " + l.Sheet
		}
	}
	for _, s := range structural[scope] {
		if s.Name == alias {
			return "it follows from the structure"
		}
	}
	if other := of[alias]; other != "" && other != it.Name {
		return "it is another name of " + other
	}
	for _, c := range uses[alias] {
		if c.of.Scope == scope && (c.it.Name == alias || c.it.Name != it.Name) {
			return "a quantity is called so"
		}
	}
	return ""
}

// clashPlace is where a workbook's own definition took the name, or else where the alias is written.
func clashPlace(alias string, it *Item, list []*Item) table.Place {
	for _, other := range list {
		if other.Name == alias && other.place.Sheet != "" {
			return other.place
		}
	}
	return it.place
}

// addAliases lets the aliases of a library mean their quantities.
func (s *Schema) addAliases(lib *Library, ds *table.Diagnostics) {
	bad, uses := map[string]bool{}, lib.aliasUses()
	for _, f := range lib.aliasFaults(uses) {
		bad[f.scope+"."+f.alias] = true
		ds.Add("alias", f.place, f.what, f.help)
	}
	for _, sc := range s.Scopes {
		for _, it := range lib.itemsOf(sc.Name) {
			n, declared := sc.index[it.Name]
			for _, a := range it.aliases {
				if declared && !bad[sc.Name+"."+a] && !uses.ofOneProcess(a, it) {
					sc.index[a] = n
				}
			}
		}
		for _, v := range sc.Variants[1:] {
			v.addOwnAliases(uses, sc)
		}
	}
}

// ownNames writes an equation with the own names of its quantities where it uses aliases.
func ownNames(eq *plan.Equation, named map[string]string) {
	if len(named) == 0 {
		return
	}
	text := []rune(eq.Expr.Text)
	for _, span := range slices.Backward(eq.Expr.Spans()) {
		path := string(text[span.From:span.To])
		if own, ok := named[path]; ok {
			text = slices.Replace(text, span.From, span.To, []rune(own)...)
		}
	}
	eq.Expr.Text = string(text)
	for i := range eq.Expr.Names {
		if own, ok := named[eq.Expr.Names[i].Path]; ok {
			eq.Expr.Names[i].Path = own
		}
	}
}

// ownPath is a path with the own name of the quantity that it leads to.
func ownPath(path string, q *Quantity) string {
	last := strings.LastIndexByte(path, '.') + 1
	return path[:last] + q.Name
}

// OtherNames lists the aliases of a quantity, "" where it has none.
func (it *Item) OtherNames() string { return strings.Join(it.aliases, ", ") }
