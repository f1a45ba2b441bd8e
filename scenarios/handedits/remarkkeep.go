package handedits

import (
	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/sheet"
)

// Remarks are what a person typed into result sheets beside the results, as the last Write found and placed it.
func (w *Handwork) Remarks() []*Remark { return w.remarks }

// FindRemarks reads the remarks of the workbook; labels typed over are left out where edits are discarded.
func (w *Handwork) FindRemarks(m *costmodel.Model) (*Record, error) {
	if w.finder == nil {
		if _, err := w.Find(m); err != nil || w.finder == nil {
			return nil, err
		}
	}
	w.remarks = nil
	for _, r := range w.finder.remarks {
		if !r.Label || !w.discarded {
			w.remarks = append(w.remarks, r)
		}
	}
	return w.finder.record, nil
}

// KeepRemarks places the remarks in the sheets made, but for those that are in Overrides already; it returns those that are
// to go there too.
func (w *Handwork) KeepRemarks(r *Record, b *sheet.Book) (more []*Remark) {
	var open []*Remark
	for _, m := range w.remarks {
		if m.Why == "" {
			m.Now = table.Place{}
			open = append(open, m)
		}
	}
	if len(open) == 0 {
		return nil
	}
	newRelayout(r, b.Sealed).place(open)
	for _, m := range open {
		if m.Why != "" {
			m.Was = b.WordsOf[m.fingerprint]
			more = append(more, m)
		}
	}
	return more
}

// CarryRemarks puts remarks into the sheet Overrides, and that into the case, so that the list of inputs is as the next
// run reads it.
func (w *Handwork) CarryRemarks(c *table.Case, remarks []*Remark) (err error) {
	if len(remarks) == 0 {
		return nil
	}
	if w.overrides == nil {
		if w.overrides, err = w.overrideSheet(c); err != nil {
			return err
		}
	}
	for _, r := range remarks {
		w.overrides.keep(r)
	}
	c.Tables = replaceTable(c.Tables, w.overrides.table)
	return nil
}
