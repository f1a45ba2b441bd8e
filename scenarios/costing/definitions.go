package costing

import (
	"cmp"
	"context"
	"fmt"

	"piececost/costmodel"
	"piececost/scenarios"
)

// Copied is a process or form of the library as it was put into a workbook.
type Copied = scenarios.Copied

// CopyDefinition puts a copy of a process or form of the library into the sheet Processes, under a name of its own ("own" and the
// library's where it is empty), and saves the workbook: whole or not at all. Nothing else in the workbook changes.
func (w *Workbook) CopyDefinition(ctx context.Context, process, name string) (*Copied, error) {
	t := w.lib.Find(process)
	if t == nil {
		return nil, fmt.Errorf("there is no process or form %q; `piececost processes` lists them", process)
	}
	sheet := w.data.Table("Processes")
	rows, err := w.lib.OwnCopy(t, name, sheet)
	if err != nil {
		return nil, err
	}
	out := &Copied{From: t.Name, Form: t.Scope == "part", NewSheet: sheet == nil, File: cmp.Or(w.options.Output, w.file)}
	out.Name = costmodel.OwnName(rows[0].Process)
	if out.First, out.Last, err = w.book.AddDefinitions(rows, w.lib); err != nil {
		return nil, err
	}
	return out, w.book.Save(ctx, out.File, w.options.saving())
}
