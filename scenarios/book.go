package scenarios

import (
	"github.com/xuri/excelize/v2"

	"piececost/scenarios/live"
	"piececost/scenarios/seal"
)

// ownNote stands in the second row of every sheet that the program writes; by it such a sheet is known and replaced.
const ownNote = "Written by piececost; replaced at each run."

// checksSheet is the sheet whose third row tells how all checks stand; every other one shows it.
const checksSheet = "Checks"

// A Book is a workbook of sheets of ours while they are written, with the fingerprints of what is written.
type Book struct {
	f        *excelize.File
	looks    *looks
	names    map[string]string             // of the sheets: as planned, as written
	status   string                        // what the master cell says at the run
	attached map[string][]excelize.Comment // notes of a person's, by sheet

	sealed  []*sealed
	wordsOf map[string]string // by fingerprint
	scribe  seal.Scribe
}

// newSheetBook makes a workbook without sheets of ours.
func newSheetBook(attached map[string][]excelize.Comment) *Book {
	f := excelize.NewFile()
	return &Book{f: f, looks: newLooks(f), names: map[string]string{}, attached: attached, wordsOf: map[string]string{}}
}

// quoted is the name of a result sheet for a formula.
func (b *Book) quoted(sheet string) string { return live.QuoteSheet(b.names[sheet]) }

// addNotes attaches the notes of a sheet before its stream ends.
func (b *Book) addNotes(sheet string) error {
	for _, c := range b.attached[sheet] {
		if err := b.f.AddComment(sheet, c); err != nil {
			return err
		}
	}
	return nil
}
