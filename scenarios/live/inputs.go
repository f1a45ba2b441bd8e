package live

import (
	"fmt"
	"sort"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// Inputs collects the cells of the input sheets that a workbook's formulas rest on.
type Inputs struct {
	cells map[string]*Input
}

// An Input is a cell of an input sheet as it was at the run.
type Input struct {
	Place   table.Place
	Value   table.Value
	Key     string // of its row
	Heading string
	Live    bool // a change of it is followed by the formulas; else the case has to be run again
	Record  *costmodel.Record
}

// NewInputs makes an empty collection.
func NewInputs() *Inputs { return &Inputs{cells: map[string]*Input{}} }

// add notes a cell. A cell that one use can't follow is not live, whatever its other uses.
func (in *Inputs) add(i Input) {
	key := i.Place.String()
	if old := in.cells[key]; old != nil {
		old.Live = old.Live && i.Live
		if old.Record == nil { // a fact of quotes named the cell first
			old.Key, old.Heading, old.Record = i.Key, i.Heading, i.Record
		}
		return
	}
	in.cells[key] = &i
}

// Unfollowed notes a cell on which numbers rest that no formula follows; one that no formula names is so already.
func (in *Inputs) Unfollowed(p table.Place) {
	if old := in.cells[p.String()]; old != nil {
		old.Live = false
	}
}

// Sorted lists the cells by sheet, row and column.
func (in *Inputs) Sorted() []*Input {
	out := make([]*Input, 0, len(in.cells))
	for _, i := range in.cells {
		out = append(out, i)
	}
	rank := map[string]int{}
	for n, l := range table.Layouts {
		rank[l.Sheet] = n
	}
	sort.Slice(out, func(a, b int) bool {
		p, q := out[a].Place, out[b].Place
		if p.Sheet != q.Sheet {
			return rank[p.Sheet] < rank[q.Sheet]
		}
		if p.Row != q.Row {
			return p.Row < q.Row
		}
		return p.Col < q.Col
	})
	return out
}

// CellRef writes a cell of an input sheet for a formula.
func CellRef(p table.Place) string { return fmt.Sprintf("%s!%s", QuoteSheet(p.Sheet), p.Cell()) }

// Followed notes a cell that a formula of a result sheet follows by itself, without the calculation.
func (in *Inputs) Followed(v table.Value, key, heading string) {
	in.add(Input{Place: v.Place, Value: v, Key: key, Heading: heading, Live: true})
}

// CellTimes writes a cell of an input sheet, multiplied by a factor, for a formula.
func CellTimes(p table.Place, times float64) string {
	return scaled(term{text: CellRef(p), prec: precAtom}, times).text
}
