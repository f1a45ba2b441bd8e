package costmodel

import (
	"fmt"
	"strings"

	"piececost/costmodel/plan"
)

// A Hop is a relation: it leads from a row to another, or to many.
type Hop struct {
	Name, From, To string // scopes; from "" means every scope
	Many           bool
	Note           string // what it leads to, in words
}

// Relations is the table of what an equation may see beyond its own row. Their numbers are indexes into it.
var Relations = []Hop{
	{"case", "", "case", false, "the whole case"},
	{"scenario", "", "scenario", false, "the scenario being costed"},
	{"plant", "scenario", "plant", false, "the scenario's plant"},
	{"product", "scenario", "part", false, "the scenario's product"},
	{"parts", "scenario", "part", true, "all parts of the product"},
	{"operations", "scenario", "operation", true, "all operations of the product"},
	{"machines", "scenario", "machine", true, "all machines in use"},
	{"plant", "machine", "plant", false, "the plant it stands in"},
	{"pooled", "machine", "operation", true, "the operations on it whose equipment allocation is pooled"},
	{"operations", "machine", "operation", true, "all operations on it"},
	{"parts", "material", "part", true, "the parts made of it"},
	{"plant", "part", "plant", false, "the scenario's plant"},
	{"material", "part", "material", false, "its material"},
	{"first", "part", "operation", false, "its first operation"},
	{"last", "part", "operation", false, "its last operation"},
	{"first_child", "part", "part", false, "the first child of its bill"},
	{"operations", "part", "operation", true, "its operations"},
	{"children", "part", "link", true, "the links to what joins it"},
	{"uses", "part", "link", true, "the links to what it joins"},
	{"parent", "link", "part", false, "the parent"},
	{"child", "link", "part", false, "the child"},
	{"operation", "link", "operation", false, "the parent's operation at which the child joins"},
	{"operation", "joint", "operation", false, "the operation that makes it"},
	{"part", "operation", "part", false, "the part it belongs to"},
	{"machine", "operation", "machine", false, "its machine"},
	{"plant", "operation", "plant", false, "the plant it is done in"},
	{"material", "operation", "material", false, "the material of its part"},
	{"next", "operation", "operation", false, "the next operation on the route"},
	{"previous", "operation", "operation", false, "the operation before it on the route"},
	{"joining", "operation", "link", true, "the links that join at this operation"},
	{"joined", "operation", "link", true, "the links that have joined up to and with this operation"},
	{"joint_rows", "operation", "joint", true, "its rows of the sheet Joints"},
	{"request", "quote", "request", false, "what was asked for"},
	{"lines", "quote", "quote line", true, "its rows of the sheet Quote lines"},
	{"quote", "quote line", "quote", false, "the quote that it belongs to"},
	{"request", "quote line", "request", false, "what was asked for"},
	{"first_joint", "operation", "joint", false, "the first of its rows of the sheet Joints"},
	{"tool_kind", "operation", "tool kind", false, "the kind of tool whose price is built up; there is none where Tool kind is empty"},
}

// relationNamed finds a relation that starts at a scope, or -1.
func relationNamed(scope, name string) plan.Relation {
	for i, r := range Relations {
		if r.Name == name && (r.From == scope || r.From == "") {
			return plan.Relation(i)
		}
	}
	return -1
}

// RelationNumber finds a relation that starts at a scope; it must exist.
func RelationNumber(scope, name string) plan.Relation {
	r := relationNamed(scope, name)
	if r < 0 {
		panic(fmt.Sprintf("no relation %s of a %s", name, scope))
	}
	return r
}

// structural are the flags that the engine itself gives.
var structural = map[string][]Item{
	"part": {
		{Name: "product", Label: "Product", Unit: "flag", Note: "whether it is the scenario's product"},
		{Name: "has_route", Label: "Has route", Unit: "flag", Note: "whether it has operations"},
	},
	"operation": {
		{Name: "first_operation", Label: "First operation", Unit: "flag", Note: "whether it is the first operation of its part"},
		{Name: "last_operation", Label: "Last operation", Unit: "flag", Note: "whether it is the last operation of its part"},
	},
}

// optionalRows are the relations to one row that lead nowhere in rows that are in order: a definition that names one has an `otherwise`.
var optionalRows = map[string]bool{"tool_kind": true}

// lackedRows says for people what is missing where a relation to rows of a sheet leads nowhere, and what to do.
var lackedRows = map[string]struct{ what, help string }{
	"first_joint": {"the gauges in the sheet Joints", "list its joints with their gauges there, or give the gauge in a column of Operations"},
}

// lackedBy says what a name lacks that leads nowhere.
func lackedBy(path string) string {
	head, _, _ := strings.Cut(path, ".")
	if rows, ok := lackedRows[head]; ok {
		return rows.what
	}
	return "what " + path + " leads to"
}
