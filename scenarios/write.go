package scenarios

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"

	"github.com/xuri/excelize/v2"

	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/handedits"
	"piececost/scenarios/ooxml"
	"piececost/scenarios/results"
	"piececost/scenarios/sheet"
)

// Write puts the result sheets into the workbook: our own of an earlier run are replaced; where a user's sheet bears the
// name of one, ours is called piececost and that name. The sheets are made in a workbook of their own and then put into
// the package, so that every part of the user's stays as it is, to the byte. It ends with the error of the context once that is
// done, with nothing in the workbook.
func (w *Workbook) Write(ctx context.Context, r *results.Result) error {
	m := r.Details[0].Plan.Model
	record, err := w.hand.FindRemarks(m)
	if err != nil {
		return err
	}
	fresh, b, own, err := w.resultSheets(ctx, r, nil)
	if err != nil {
		return err
	}
	for { // rows of Overrides are listed in Input record, so that what stands below them is placed once more
		more, notes := w.hand.KeepRemarks(record, b), w.hand.NotesToKeep()
		if len(more) == 0 && reflect.DeepEqual(notes, b.Attached) {
			break
		}
		if err := w.hand.CarryRemarks(m.Case, more); err != nil {
			return err
		}
		if fresh, b, own, err = w.resultSheets(ctx, r, notes); err != nil {
			return err
		}
	}
	ours, err := ooxml.OpenOwn(bytes.NewReader(fresh), int64(len(fresh)))
	if err != nil {
		return err
	}
	if err := w.hand.FindDrawings(record); err != nil {
		return err
	}
	var out bytes.Buffer
	if err := ooxml.Put(&out, w.pack, ours, func(s *ooxml.Sheet) bool { return own[s.Name] }, w.hand.CellsToKeep()); err != nil {
		return err
	}
	w.out, w.summary = out.Bytes(), b.Names[results.SummarySheet]
	return w.verify(ours)
}

// Summary is the name under which the sheet Summary was written.
func (w *Workbook) Summary() string { return w.summary }

// resultSheets makes the result sheets and says which sheets of the workbook they replace.
func (w *Workbook) resultSheets(ctx context.Context, r *results.Result, notes map[string][]excelize.Comment) (fresh []byte, b *sheet.Book,
	own map[string]bool, err error) {
	if own, err = handedits.OwnSheets(w.pack); err != nil {
		return nil, nil, nil, err
	}
	overrides := w.hand.Overrides()
	taken := map[string]bool{}
	for _, s := range w.pack.Sheets {
		if overrides != nil && strings.EqualFold(s.Name, handedits.OverridesSheet) {
			own[s.Name] = true // every cell of it is carried over
		}
		taken[sheet.NameKey(s.Name)] = !own[s.Name]
	}
	fresh, b, err = results.Make(ctx, r, taken, overrides, notes)
	return fresh, b, own, err
}

// verify reads what is to be saved as a workbook again: every sheet is there, each result sheet bears our note.
func (w *Workbook) verify(ours *ooxml.Package) error {
	back, err := ooxml.Open(bytes.NewReader(w.out), int64(len(w.out)))
	if err != nil {
		return fmt.Errorf("the workbook with its results does not read back: %w; nothing was written: please report it", err)
	}
	left := map[string]bool{}
	for _, s := range ours.Sheets {
		left[s.Name] = true
	}
	for i := range back.Sheets {
		if !left[back.Sheets[i].Name] {
			continue
		}
		note, err := back.Peek(&back.Sheets[i], 2, 1)
		if err == nil && (strings.HasPrefix(note, sheet.OwnNote) || back.Sheets[i].Name == handedits.OverridesSheet) {
			delete(left, back.Sheets[i].Name)
		}
	}
	if len(left) > 0 {
		return fmt.Errorf("the sheet %s does not read back; nothing was written: please report it", slices.Min(slices.Collect(maps.Keys(left))))
	}
	return nil
}

// TakeOver finds the cells of the result sheets that were changed by hand since they were written and puts each into the
// table Overrides of the case, and so into the results; Write then writes that sheet. It returns the edits, those too
// that can't be taken over.
func (w *Workbook) TakeOver(c *table.Case, lib *costmodel.Library) ([]handedits.Edit, error) {
	return w.hand.TakeOver(c, lib)
}

// DiscardEdits leaves hand edits and earlier overrides out of the case and empties the sheet Overrides where there is one,
// but for the remarks kept in it. Remarks beside the results stay.
func (w *Workbook) DiscardEdits(c *table.Case) error { return w.hand.DiscardEdits(c) }

// Remarks are what a person typed into result sheets beside the results, as the last Write found and placed it.
func (w *Workbook) Remarks() []*handedits.Remark { return w.hand.Remarks() }

// Drawings says, a line each, on which result sheets something lies that the last run did not write: pictures and shapes,
// and more charts than it wrote. They can't be carried into the sheets written anew.
func (w *Workbook) Drawings() []string { return w.hand.Drawings() }
