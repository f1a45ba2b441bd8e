package live

import (
	"fmt"

	"piececost/costmodel"
	"piececost/costmodel/plan"
	"piececost/costmodel/table"
)

// KeyHeading is the heading of the first column of every block.
const KeyHeading = "Key"

// keyColumns adds the row's key as it was, a live link to it, and whether they are still the same: without it, sorting
// an input sheet would move every link silently.
func (s *Sheet) keyColumns(b *Block) {
	b.add(&Column{Heading: KeyHeading, Unit: "text", Note: "as it was at the run", Kind: Key, Text: true, fill: func(_ int, e plan.Entity) Cell {
		return Cell{Kind: Word, Text: s.keyOf(e)}
	}})
	live := b.add(&Column{Heading: "Key now", Unit: "text", Note: "link to the input sheet", Kind: Link, Text: true})
	live.fill = func(_ int, e plan.Entity) Cell {
		return Cell{Kind: Word, Text: s.keyOf(e), Formula: s.keyLink(e), Input: true}
	}
	b.add(&Column{Heading: "Moved", Unit: "1 yes, 0 no", Note: "whether the row of the input sheet is another now", Kind: Quantity, Factor: 1, Whole: true,
		fill: func(row int, _ plan.Entity) Cell {
			return Cell{Kind: Number, Formula: fmt.Sprintf("IF(EXACT(A%d,B%d),0,1)", b.First+row, b.First+row)}
		}})
	switch b.Scope.Name {
	case "quote", "quote line":
		s.quoteKeys(b)
	case "machine":
		if b.Variant == nil {
			s.machineKeys(b, live)
		}
	case "material":
		s.gradeColumn(b)
	case "part":
		if b.Variant == nil {
			s.materialRow(b)
		}
	case "operation":
		if b.Variant == nil {
			s.operationKeys(b)
		}
	case "link":
		s.linkKeys(b)
	case "joint":
		wordColumn(b, "Operation", func(e plan.Entity) string {
			return s.keyOf(s.Plan.Follow(e, costmodel.RelationNumber("joint", "operation")))
		})
	}
}

func (s *Sheet) keyOf(e plan.Entity) string {
	r := s.Plan.RowRecord(e)
	if r.Scope == "quote line" {
		return r.Text("quote") + "/" + r.Text("line") // as its cells have it
	}
	return r.Key
}

// keyLink joins the key cells of a row as they are now.
func (s *Sheet) keyLink(e plan.Entity) string {
	r := s.Plan.RowRecord(e)
	var parts []table.Place
	switch r.Scope {
	case "link":
		parts = []table.Place{r.TextPlace("parent"), r.TextPlace("child")}
	case "operation":
		parts = []table.Place{r.TextPlace("part"), r.TextPlace("operation")}
	case "joint":
		parts = []table.Place{r.TextPlace("part"), r.TextPlace("operation"), r.TextPlace("kind")}
	case "quote line":
		parts = []table.Place{r.TextPlace("quote"), r.TextPlace("line")}
	default:
		if r.Place.Row == 0 { // a kind of tool of the library, in no sheet
			return ""
		}
		parts = []table.Place{r.Place}
		if own := r.SizedFor(); own != "" {
			return CellRef(r.Place) + "&" + textLiteral(own)
		}
	}
	text := ""
	for i, p := range parts {
		if i > 0 {
			text += `&"/"&`
		}
		text += CellRef(p)
	}
	return text
}

// wordColumn adds a column of words that are fixed by the structure of the run.
func wordColumn(b *Block, heading string, word func(e plan.Entity) string) *Column {
	return b.add(&Column{Heading: heading, Unit: "text", Kind: Key, Text: true, fill: func(_ int, e plan.Entity) Cell {
		return Cell{Kind: Word, Text: word(e)}
	}})
}

// textLink is a live link to a word of an input sheet, or of a scenario's change.
func (s *Sheet) textLink(e plan.Entity, column string, live bool) Cell {
	text, at := s.Plan.RowText(e, column)
	if text == "" || at.Row == 0 {
		return Cell{}
	}
	s.Inputs.add(Input{Place: at, Value: table.Value{Kind: table.Text, Text: text}, Key: s.keyOf(e), Heading: column, Live: live, Record: s.Plan.RowRecord(e)})
	return Cell{Kind: Word, Text: text, Formula: CellRef(at), Input: true}
}

// The columns by which a row is found are kept under these names.
const (
	lookupColumn   = " lookup"
	materialRowCol = " material row"
	machineRowCol  = " machine row"
)

func (s *Sheet) machineKeys(b *Block, live *Column) {
	plantOf := func(e plan.Entity) string {
		return s.keyOf(s.Plan.Follow(e, costmodel.RelationNumber("machine", "plant")))
	}
	plant := wordColumn(b, "Plant", plantOf)
	c := b.add(&Column{Heading: "Machine and plant", Unit: "text", Note: "by which operations find it", Kind: Quantity, Text: true})
	c.fill = func(row int, e plan.Entity) Cell {
		return Cell{Kind: Word, Text: s.keyOf(e) + "|" + plantOf(e), Formula: b.address(live, row) + `&"|"&` + b.address(plant, row)}
	}
	b.pulled[lookupColumn] = c
	b.pulled[machineRowCol] = b.add(&Column{Heading: "Row", Unit: "1", Note: "place in this block", Kind: Key, Factor: 1, Whole: true,
		fill: func(row int, _ plan.Entity) Cell {
			return Cell{Kind: Number, Num: float64(row + 1)}
		}})
}

func (s *Sheet) materialRow(b *Block) {
	materials := s.main["material"]
	if materials == nil {
		return
	}
	m := b.add(&Column{Heading: "Material", Unit: "text", Note: "may be changed in the input sheet", Kind: Link, Text: true,
		fill: func(_ int, e plan.Entity) Cell {
			return s.textLink(e, "material", true)
		}})
	c := b.add(&Column{Heading: "Row of material", Unit: "1", Note: "place in the block Materials", Kind: Quantity, Factor: 1, Whole: true})
	c.fill = func(row int, e plan.Entity) Cell {
		to := s.Plan.Follow(e, costmodel.RelationNumber("part", "material"))
		if to < 0 {
			return Cell{}
		}
		return Cell{Kind: Number, Num: float64(materials.rowOf[to] + 1), Formula: fmt.Sprintf("MATCH(%s,%s,0)", b.address(m, row),
			materials.Range(materials.Columns[1]))}
	}
	b.pulled[materialRowCol] = c
}

func (s *Sheet) operationKeys(b *Block) {
	wordColumn(b, "Part", func(e plan.Entity) string {
		return s.keyOf(s.Plan.Follow(e, costmodel.RelationNumber("operation", "part")))
	})
	plant := wordColumn(b, "Plant", func(e plan.Entity) string {
		return s.keyOf(s.Plan.Follow(e, costmodel.RelationNumber("operation", "plant")))
	})
	m := b.add(&Column{Heading: "Machine", Unit: "text", Note: "may be changed in the input sheet", Kind: Link, Text: true,
		fill: func(_ int, e plan.Entity) Cell {
			if s.Plan.Follow(e, costmodel.RelationNumber("operation", "machine")) < 0 {
				return Cell{} // done by another firm
			}
			if to := s.Plan.Follow(e, costmodel.RelationNumber("operation", "machine")); s.Plan.Scenario.ChoiceOf(s.Plan.RowRecord(e)) != nil {
				return Cell{Kind: Word, Text: s.keyOf(to), Found: true} // chosen at the run; a key in the input cell asks for another
			}
			return s.machineLink(e)
		}})
	c := b.add(&Column{Heading: "Row of machine", Unit: "1", Note: "place in the block Machines", Kind: Quantity, Factor: 1, Whole: true})
	c.fill = func(row int, e plan.Entity) Cell {
		machines := s.main["machine"]
		to := s.Plan.Follow(e, costmodel.RelationNumber("operation", "machine"))
		if to < 0 {
			return Cell{}
		}
		return Cell{Kind: Number, Num: float64(machines.rowOf[to] + 1),
			Formula: fmt.Sprintf(`MATCH(%s&"|"&%s,%s,0)`, b.address(m, row), b.address(plant, row), machines.Range(machines.pulled[lookupColumn]))}
	}
	b.pulled[machineRowCol] = c
}

// machineLink is a live link to the machine of an operation. One that is sized for the operation stands in the block under the key of its row and
// the operation's; another machine in its cell asks for a run.
func (s *Sheet) machineLink(e plan.Entity) Cell {
	to := s.Plan.RowRecord(s.Plan.Follow(e, costmodel.RelationNumber("operation", "machine")))
	own := to.SizedFor()
	cell := s.textLink(e, "machine", own == "")
	if own != "" && cell.Formula != "" {
		cell.Text, cell.Formula = to.Key, cell.Formula+"&"+textLiteral(own)
	}
	return cell
}

func (s *Sheet) linkKeys(b *Block) {
	wordColumn(b, "Parent", func(e plan.Entity) string {
		return s.keyOf(s.Plan.Follow(e, costmodel.RelationNumber("link", "parent")))
	})
	wordColumn(b, "Child", func(e plan.Entity) string {
		return s.keyOf(s.Plan.Follow(e, costmodel.RelationNumber("link", "child")))
	})
	wordColumn(b, "Joined at", func(e plan.Entity) string { return s.keyOf(s.joinsAt(e)) })
}
