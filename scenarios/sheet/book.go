package sheet

import (
	"archive/zip"
	"io"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/live"
	"piececost/scenarios/seal"
)

// OwnNote stands in the second row of every sheet that the program writes; by it such a sheet is known and replaced.
const OwnNote = "Written by piececost; replaced at each run."

// ChecksSheet is the sheet whose third row tells how all checks stand; every other one shows it.
const ChecksSheet = "Checks"

// A Book is a workbook of sheets of ours while they are written, with the fingerprints of what is written.
type Book struct {
	File     *excelize.File
	looks    *Looks
	Names    map[string]string             // of the sheets: as planned, as written
	Status   string                        // what the master cell says at the run
	Attached map[string][]excelize.Comment // notes of a person's, by sheet

	Sealed  []*Sealed
	WordsOf map[string]string // by fingerprint
	scribe  seal.Scribe
}

// NewBook makes a workbook without sheets of ours.
func NewBook(attached map[string][]excelize.Comment) *Book {
	f := excelize.NewFile().SetZipWriter(Unpacked)
	return &Book{File: f, looks: NewLooks(f), Names: map[string]string{}, Attached: attached, WordsOf: map[string]string{}}
}

// Unpacked makes a zip of parts that are not packed, for what is read again at once: result sheets go into the user's workbook, and
// are packed there.
func Unpacked(w io.Writer) excelize.ZipWriter { return &stored{zip.NewWriter(w)} }

type stored struct{ *zip.Writer }

func (s *stored) Create(name string) (io.Writer, error) {
	return s.CreateHeader(&zip.FileHeader{Name: name, Method: zip.Store})
}

// Quoted is the name of a result sheet for a formula.
func (b *Book) Quoted(sheet string) string { return live.QuoteSheet(b.Names[sheet]) }

// addNotes attaches the notes of a sheet before its stream ends.
func (b *Book) addNotes(sheet string) error {
	for _, c := range b.Attached[sheet] {
		if err := b.File.AddComment(sheet, c); err != nil {
			return err
		}
	}
	return nil
}

// Sealed collects the fingerprints of a sheet while it is written.
type Sealed struct {
	Sheet string
	Rows  []int
	Texts []string // fingerprints of each row as text
	Words []string // likewise
	Last  int      // column
	Drawn int      // charts
}
