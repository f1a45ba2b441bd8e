package handedits

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/live"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/reading"
	"piececost/scenarios/seal"
	"piececost/scenarios/sheet"
)

// Find finds every cell that a person changed or added. schema gives the quantities that a heading may mean.
func (w *Handwork) Find(schema *costmodel.Model) ([]Edit, error) {
	f, err := w.compare(schema)
	if f == nil || err != nil {
		return nil, err
	}
	w.finder = f
	return f.found, nil
}

// compare compares the result sheets with their fingerprints; nil where the workbook has none.
func (w *Handwork) compare(schema *costmodel.Model) (*editFinder, error) {
	own, err := OwnSheets(w.pack)
	if err != nil {
		return nil, err
	}
	b := reading.NewBook(w.pack)
	r, err := recordOf(b, own)
	if r == nil || err != nil {
		return nil, err
	}
	f := &editFinder{book: b, record: r, model: schema, meanings: schema.Meanings()}
	for i := range w.pack.Sheets {
		s := &w.pack.Sheets[i]
		if was := r.sheets[s.Name]; was != nil && own[s.Name] {
			c := &sheetCheck{finder: f, name: s.Name, was: was}
			if err := c.notes(s); err != nil {
				return nil, err
			}
			if err := b.Pack.Rows(s, c.row); err != nil {
				return nil, err
			}
			if err := c.finish(); err != nil {
				return nil, err
			}
		}
	}
	if f.beyond != nil {
		if more := f.dropped - mostDropped - 1; more > 0 {
			f.beyond.Dropped = fmt.Sprintf("%s; nor are %d more changed cells, which are not listed", f.beyond.Dropped, more)
		}
		f.found = append(f.found, *f.beyond)
	}
	return f, nil
}

// mostDropped bounds the cells listed that can't be taken over: a sheet that was cleared is one fact, not thousands.
const mostDropped = 100

func (f *editFinder) add(e Edit) {
	if e.Dropped != "" {
		f.dropped++
		if f.dropped == mostDropped+1 {
			f.beyond = &e
		}
		if f.dropped > mostDropped {
			return
		}
	}
	f.found = append(f.found, e)
}

const (
	calculationTitle = "Calculation of "
	quotesTitle      = "Quote" // of the sheets that show quotes, and of their calculation
)

var blockNumber = regexp.MustCompile(`^\d+  `)

func (k *sheetCheck) row(n int, cells []ooxml.Cell) error {
	row := rowCells(cells)
	first := row.text(1)
	switch scenario, ok := strings.CutPrefix(first, calculationTitle); {
	case n == 1 && ok:
		k.scenario = scenario
	case n == 1:
		k.quotes = strings.HasPrefix(first, quotesTitle)
	case blockNumber.MatchString(first):
		k.title = blockNumber.ReplaceAllString(first, "")
	case first == live.KeyHeading && k.scenario != "":
		k.block = calcBlock{k.title, slices.Clone(row), k.before}
	}
	k.compare(n, row)
	if len(k.attached) > 0 {
		k.noteRow(n, row)
	}
	if k.scenario != "" && k.title != k.block.title { // heading rows: the last one before the headings holds the units
		k.before = slices.Clone(row)
	}
	return nil
}

// compare finds the cells of a row that are not as they were written.
func (k *sheetCheck) compare(n int, row rowCells) {
	p, _ := k.was.fingerprintsOf(n)
	results := p.results
	sorted := k.scenario != "" && k.sortedAway(row, results)
	if sorted {
		results = nil
	}
	k.ours = map[int]bool{}
	for i := range row {
		col, ok := k.was.cols.exact(row[i].Col)
		k.ours[row[i].Col] = ok && (p.words[col] != "" || p.results[col] != "")
	}
	k.headings(n, row)
	for i := range row {
		c := &row[i]
		if k.finder.record.words && k.filled(c) && k.remark(row, c, p, sorted) {
			continue
		}
		col, _ := k.was.cols.exact(c.Col)
		fingerprint := results[col]
		if fingerprint == "" && !sorted {
			fingerprint = p.words[col]
		}
		if content, changed := k.finder.changed(k.name, c, fingerprint, k.scenario != "" && results != nil); changed {
			k.finder.add(k.edit(row, c, content))
		}
	}
}

func (k *sheetCheck) filled(c *ooxml.Cell) bool {
	return c.Formula != "" || c.HasValue && strings.TrimSpace(c.Value) != ""
}

// sortedAway tells whether another row stands where the fingerprints were taken.
func (k *sheetCheck) sortedAway(row rowCells, fingerprints seal.Fingerprints) bool {
	for i := range row {
		if k.was.cols.was(row[i].Col) == 1 {
			return fingerprints[1] != "" && fingerprints[1] != seal.OfKey(row[i].Value)
		}
	}
	return fingerprints[1] != ""
}

// changed tells whether a cell is not what was written, and what it holds. Words without a fingerprint are labels; where
// every number has one (calculation), a number without is new.
func (f *editFinder) changed(on string, c *ooxml.Cell, fingerprint string, numbers bool) (content string, changed bool) {
	switch {
	case c.Formula != "":
		now, ok := f.scribe.Fingerprint(on, c.Formula, f.record.move)
		if !ok {
			return "", false // broken by a deleted row or on: it says nothing of what a person wanted
		}
		return "=" + c.Formula, now != fingerprint
	case !c.HasValue || strings.TrimSpace(c.Value) == "":
		return "", false
	case c.Type == ooxml.Number:
		v, err := strconv.ParseFloat(c.Value, 64)
		same := err == nil && seal.SameNumber(fingerprint, v)
		return c.Value, !same && (fingerprint != "" || numbers)
	}
	return c.Value, fingerprint != "" && fingerprint != seal.OfKey(c.Value) && fingerprint != sheet.FingerprintOfWords(c.Value)
}

// edit finds what a changed cell means.
func (k *sheetCheck) edit(row rowCells, c *ooxml.Cell, content string) Edit {
	e := Edit{Place: table.Place{Sheet: k.name, Row: c.Row, Col: c.Col}, Content: content}
	if k.scenario == "" {
		e.Sheet, e.Row, e.Column = k.name, k.labelOf(row, c.Col), k.heads[c.Col]
		e.Dropped = "this sheet is written anew at each run; change the quantity in its calculation, or keep figures of your own on a sheet of your own"
		if k.quotes {
			e.Dropped = "this sheet is written anew at each run; change a cell of the sheets Quotes or Quote lines, or keep figures of your own on a sheet " +
				"of your own"
		}
		return e
	}
	scope, sheetOf := live.ScopeOfTitle(k.block.title)
	heading, unit := k.block.heads.text(c.Col), k.block.units.text(c.Col)
	if scope == "" || heading == "" || row.text(1) == "" {
		e.Dropped = "the cell is no quantity of a row"
		return e
	}
	e.Scenario, e.Sheet, e.Row = k.scenario, sheetOf, row.text(1)
	q, ok := k.finder.model.QuantityNamed(scope, heading)
	switch words := table.Normalise(heading); {
	case !ok && (words == "machine" || words == "material") && c.Formula == "" && e.Row != "":
		e.Column, e.Value = heading, table.Value{Kind: table.Text, Text: c.Value}
		return e
	case !ok:
		e.Dropped = heading + " follows from other cells; change those"
		return e
	case q.Name == "annual_volume":
		e.Dropped = "change the annual volume in the sheet Scenarios"
		return e
	}
	e.Column = heading
	if !q.Flag && len(q.Options) == 0 {
		e.Column = fmt.Sprintf("%s [%s]", heading, unit)
	}
	k.value(&e, row, c, q, unit)
	return e
}

// value makes the value of an override: a number, a word, an expression, or the stored result of a formula.
func (k *sheetCheck) value(e *Edit, row rowCells, c *ooxml.Cell, q *costmodel.Quantity, unit string) {
	v := k.finder.book.Stored(c)
	if c.Formula != "" && !c.HasValue {
		v = k.finder.book.Calculated(e.Place.Sheet, c)
	}
	if c.Formula != "" {
		t := &handFormula{finder: k.finder, block: &k.block, row: row, number: c.Row, scope: scopeOf(e.Sheet), sheet: e.Place.Sheet, quantity: q}
		if text, ok := t.expression(c.Formula, unit); ok {
			e.Value = table.Value{Kind: table.Text, Text: text}
			return
		}
	}
	switch {
	case v.Kind == table.Broken:
		e.Dropped = v.Text
	case q.Flag && v.Kind == table.Number:
		e.Value = table.Value{Kind: table.Text, Text: map[bool]string{true: "yes", false: "no"}[v.Number != 0]}
	case v.Kind == table.Number:
		v.Percent = strings.Contains(unit, "%") // a calculation shows shares as fractions
		e.Value = v
	default:
		e.Value = v
	}
	if c.Formula != "" && e.Dropped == "" {
		e.Note = "its formula reaches beyond its own row and the inputs, so its result is frozen"
	}
	if e.Value.Kind == table.Number && math.IsNaN(e.Value.Number) {
		e.Dropped = "it is no number"
	}
}

func scopeOf(sheet string) string {
	if l := table.LayoutOf(sheet); l != nil {
		return l.Scope
	}
	return ""
}
