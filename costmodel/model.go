package costmodel

import (
	"fmt"
	"slices"
	"strings"
	"sync"

	"piececost/costmodel/formula"
	"piececost/costmodel/table"
)

// A Model is a case read against a library. It is not changed after New and may be shared.
type Model struct {
	Case        *table.Case
	library     *Library
	Schema      *Schema
	Scenarios   []*Scenario
	Volumes     []float64        // of the sheet Volumes, 1/yr, ascending; may be empty
	Targets     []*Target        // of the sheet Targets
	Benchmarks  []*Benchmark     // of the sheet Benchmarks, one for each part that it is about
	trialValues []*TrialQuantity // of the sheet Trial values, one for each part and quantity
	questions   []*Question      // of the sheet Studies
	Overrides   []*Override      // of the sheet Overrides, those in force
	Diagnostics table.Diagnostics

	impossible map[table.Place]bool // cells with a number outside its possible range: said, and what follows from it is not

	pastTools    []*PastTool                 // of the sheet Past tools
	pastMachines []*PastMachine              // of the sheet Past machines
	machineTerms map[*Record][2]*machineTerm // of the sheet Machine relations

	sized *sync.Map // of sizedKey: machines of an operation's own size, made when first asked for

	aside     map[string][]table.Row          // rows of examples that nothing names, by sheet
	bands     []bandSet                       // of the sheet Price bands, in its order
	broken    map[*Record]bool                // rows of alternatives with an error, of a model for combining
	twoWays   map[table.Place]bool            // cells whose percent can be read in two ways, and that is reported
	changed   []changedCell                   // of the sheets Scenarios and Overrides
	fractions []fractionFormula               // formulas whose plain numbers are fractions
	unread    map[string]bool                 // scopes whose sheet is missing or has no keys, which is reported
	lacking   map[string][]string             // columns of words that a scope's sheet has not, which is reported
	suspected map[*Quantity]bool              // a heading or row is nearly its name, and that is reported
	records   map[string][]*Record            // by scope
	byKey     map[string]map[string][]*Record // by scope and key
	classes   map[*Variant][]*Record          // machines by a process that they can do, in the order of their sheet
}

// New reads a case. The model is usable where its Diagnostics have no error; all problems of the tables are found in one
// go, those of a scenario's structure by Compile.
func New(c *table.Case, lib *Library) *Model {
	m := &Model{Case: c, library: lib, unread: map[string]bool{}, lacking: map[string][]string{}, suspected: map[*Quantity]bool{},
		impossible: map[table.Place]bool{}, records: map[string][]*Record{}, byKey: map[string]map[string][]*Record{}, sized: &sync.Map{}}
	m.requireSheets()
	m.mendHeadings()
	m.setExamplesAside()
	c = m.Case
	sys := m.readCurrencies()
	curves := m.readCurves(sys)
	m.readPriceBands(sys, curves)
	lib = m.withOwnProcesses(lib, sys).withGradesOf(c)
	m.Schema = newSchema(lib, sys, curves, namedInCase(c), &m.Diagnostics)
	for i := range table.Layouts {
		l := &table.Layouts[i]
		t := c.Table(l.Sheet)
		if t == nil || l.Scope == "" || l.Scope == "scenario" {
			continue
		}
		m.joinedCells(l, t)
		recs := m.readSheet(l, t)
		for _, r := range recs {
			m.readFields(r)
		}
		m.records[l.Scope] = recs
		m.index(l.Scope, recs)
		m.lookedUp(l.Scope, recs)
		m.keyLengths(l.Scope, recs)
	}
	m.addToolKinds()
	m.attachPriceBands()
	m.readSizes()
	m.readMachineRelations()
	m.readClasses()
	m.checkReferences()
	m.checkOwnProcesses()
	m.readScenarios()
	m.readOverrides()
	m.readVolumes()
	m.readTargets()
	m.readBenchmarks()
	m.readTrialValues()
	m.readQuestions()
	m.readPastTools()
	m.readPastMachines()
	m.unknown()
	m.checkPossible()
	m.checkPercent()
	m.checkPlausible()
	m.chooseMachines()
	return m
}

func (m *Model) readSheet(l *table.Layout, t *table.Table) []*Record {
	switch l.Shape {
	case table.ColumnsAre:
		return m.columnRecords(l, t)
	case table.Listed:
		return m.listedRecords(l, t)
	}
	return m.rowRecords(l, t)
}

// index finds records by key and reports keys that stand twice for the same alternative.
func (m *Model) index(scope string, recs []*Record) {
	by := map[string][]*Record{}
	for _, r := range recs {
		twice := false
		for _, other := range by[r.Key] {
			same := strings.EqualFold(other.Text("alternative"), r.Text("alternative"))
			if scope == "link" {
				same = same && other.Text("joined_at_operation") == r.Text("joined_at_operation")
			}
			if same && !m.unread[scope] {
				help := "delete one of the two"
				switch scope {
				case "part", "operation":
					help += ", or tell them apart by their Alternative"
				case "joint":
					help = "put the sum of the numbers in one row, or tell the two apart by the words under Kind"
				case "link":
					help = "put the sum of the quantities in one row"
				}
				m.Diagnostics.Add("duplicate", r.Place, fmt.Sprintf("%s stands twice", r.Key), help, table.Related{Place: other.Place, Note: "first at"})
				twice = true
				break // once is enough, and a column of one word would be said in pairs
			}
		}
		if !twice {
			by[r.Key] = append(by[r.Key], r)
		}
	}
	m.byKey[scope] = by
}

// lookedUp refuses keys that the live formulas could not find: they look grades and machines up by their keys, where a
// spreadsheet takes * ? ~ for other letters and capitals for small ones (common practice, no source).
func (m *Model) lookedUp(scope string, recs []*Record) {
	if scope != "material" && scope != "machine" && scope != "plant" {
		return
	}
	first := map[string]*Record{}
	for _, r := range recs {
		if strings.ContainsAny(r.Key, "*?~") {
			m.Diagnostics.Add("key", r.Place, fmt.Sprintf("the key %q has one of * ? ~, which a spreadsheet takes for other letters", r.Key),
				"write another key")
		}
		if scope == "plant" && strings.Contains(r.Key, "|") { // which joins a machine's key and its plant's
			m.Diagnostics.Add("key", r.Place, fmt.Sprintf("the key %q has a |, by which machines and plants are told apart", r.Key), "write another key")
		}
		low := strings.ToLower(r.Key)
		if other := first[low]; other != nil && other.Key != r.Key {
			m.Diagnostics.Add("key", r.Place, fmt.Sprintf("the key %s differs from %s in capitals only, which a spreadsheet does not tell apart",
				r.Key, other.Key), "write another key", table.Related{Place: other.Place, Note: "the other at"})
		} else if other == nil {
			first[low] = r
		}
	}
}

// requireSheets reports required sheets that are missing, sheets that stand twice and merged headings.
func (m *Model) requireSheets() {
	have := map[string]bool{}
	for _, t := range m.Case.Tables {
		if have[t.Sheet] {
			m.Diagnostics.Add("sheet", t.Place, fmt.Sprintf("two sheets are called %s but for upper and lower case", t.Sheet), "rename one of them")
		}
		have[t.Sheet] = true
		seen := map[string]bool{}
		for _, g := range t.Merged {
			if !seen[g.Range] {
				m.Diagnostics.Add("heading", g.Place, fmt.Sprintf("the heading row has merged cells (%s)", g.Range),
					"unmerge them and give every column its own heading")
			}
			seen[g.Range] = true
		}
	}
	for i := range table.Layouts {
		l := &table.Layouts[i]
		if !l.Required || m.Case.Table(l.Sheet) != nil {
			continue
		}
		m.unreadable(l.Scope)
		m.Diagnostics.Add("sheet", table.Place{File: m.Case.File}, fmt.Sprintf("the workbook has no sheet %q", l.Sheet),
			fmt.Sprintf("add it (a row is %s), or start from a workbook made by `piececost new`", l.About))
	}
}

// checkReferences reports words that name something that is not there, in every row, used by a scenario or not.
func (m *Model) checkReferences() {
	m.checkGrades()
	for _, r := range m.records["part"] {
		m.refer(r, "material", "material", "Materials")
		if v := m.Schema.byName["part"].variant(r.Text("form")); v == nil && !m.lacks("part", "form") {
			m.unknownVariant(r, "form", m.Schema.byName["part"])
		}
	}
	for _, r := range m.records["link"] {
		for _, end := range []string{"parent", "child"} {
			m.refer(r, end, "part", "Parts")
		}
	}
	m.referJoints()
	m.referToolKinds()
	for _, r := range m.records["operation"] {
		m.refer(r, "part", "part", "Parts")
		m.refer(r, "machine", "machine", "Machines")
		m.refer(r, "plant", "plant", "Plants")
		switch p := r.Text("process"); {
		case m.lacks("operation", "process"):
		case p == "":
			m.Diagnostics.Add("process", r.TextPlace("process"), fmt.Sprintf("operation %s has no process", r.Key),
				"write one of those that `piececost processes` lists; timed operation takes any operation whose time is known")
		case m.Schema.byName["operation"].variant(p) == nil:
			m.unknownVariant(r, "process", m.Schema.byName["operation"])
		}
		if v := m.Schema.byName["operation"].variant(r.Text("process")); r.Text("machine") == "" && !m.lacks("operation", "machine") &&
			(v == nil || !v.Template.noMachine) && (v == nil || len(m.ofClass(v)) == 0) {
			m.Diagnostics.Add("machine", r.TextPlace("machine"), fmt.Sprintf("operation %s has no machine", r.Key),
				"write a key of the sheet Machines; or, to have one chosen, the process under Process class of the machines there that can do it")
		}
		if _, ok := stepNumber(r.Text("operation")); !ok {
			m.Diagnostics.Add("operation", r.TextPlace("operation"), fmt.Sprintf("operation %q is not a number", r.Text("operation")),
				"number the operations 10, 20, 30")
		}
	}
}

// refer reports a word that should be a key of a sheet.
func (m *Model) refer(r *Record, column, scope, sheet string) {
	if err := m.referenceError(r.Text(column), column, scope, sheet); err != nil {
		m.Diagnostics.Add("reference", r.TextPlace(column), err.Summary, err.Help)
	}
}

func (m *Model) referenceError(key, column, scope, sheet string) *table.Diagnostic {
	if key == "" || m.unread[scope] || len(m.byKey[scope][key]) > 0 {
		return nil
	}
	help := fmt.Sprintf("add it to the sheet %s or correct it", sheet)
	if near := formula.Nearest(key, m.keys(scope)); near != "" {
		help = "did you mean " + near + "?"
	}
	return &table.Diagnostic{Summary: fmt.Sprintf("%s %q is not in the sheet %s", column, key, sheet), Help: help}
}

func (m *Model) keys(scope string) []string {
	var out []string
	for _, r := range m.records[scope] {
		out = append(out, r.Key)
	}
	return out
}

func (m *Model) unknownVariant(r *Record, column string, sc *Scope) {
	var names, aliases []string
	for _, v := range sc.Variants[1:] {
		names, aliases = append(names, v.Template.Name), append(aliases, v.Template.Aliases...)
	}
	help := ""
	if near := formula.Nearest(strings.ToLower(r.Text(column)), append(slices.Clone(names), aliases...)); near != "" {
		help = "did you mean " + near + "?"
	} else if column == "form" {
		help = m.unknownForm(r.Text(column), names)
	} else { // the library is long, and has ways for what it does not know
		help = "write one that `piececost processes` lists, or timed operation where the time of the operation is known, or define it in the sheet " +
			"Processes (README, Your own process in ten rows); a part of known masses has the form " + GivenMasses
	}
	m.Diagnostics.Add(column, r.TextPlace(column), fmt.Sprintf("unknown %s %q", column, r.Text(column)), help)
}
