package costing

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"strings"

	"piececost/scenarios"
)

// Written is what became of a workbook.
type Written struct {
	File     string              // that has the results; empty after Put
	Summary  string              // name of the sheet that stands first
	Notices  []string            // what was left out, and why, in words
	Remarks  []*scenarios.Remark // what a person typed beside earlier results, and where it is now
	Drawings []string            // what lay over earlier results and can't be kept, in words
	Findings Diagnostics         // those of the Result, and what is wrong in the sheet Uncertainty, as warnings
	Results  *scenarios.Result   // what the sheets were made of, study by study
}

// Write makes the studies that have a sheet, puts the result sheets into the workbook and saves it: whole or not at all. The
// error is Diagnostics where the case can be costed and not be written, that of ctx with nothing written, or of the file; a
// workbook that is open elsewhere, or changed since it was read, is not written, nor one in place that would lose pictures
// or charts of a person's on a result sheet.
func (r *Result) Write(ctx context.Context) (*Written, error) {
	o, file := r.workbook.options, r.workbook.file
	target := cmp.Or(o.Output, file)
	if target == "" {
		return nil, errors.New("the workbook was not read from a file; name one in Output")
	}
	out, err := r.Put(ctx)
	if err != nil {
		return nil, err
	}
	if err := refuseDrawings(out.Drawings, o.Output == "" || filepath.Clean(o.Output) == filepath.Clean(file)); err != nil {
		return nil, err
	}
	if err := r.workbook.book.Save(ctx, target, o.saving()); err != nil {
		return nil, err
	}
	out.File = target
	return out, nil
}

// Put is Write without saving.
func (r *Result) Put(ctx context.Context) (*Written, error) {
	if long := scenarios.LongFormulas(r.plans); long.HasErrors() {
		return nil, long
	}
	quotes, err := r.workbook.quoteFindings(r.model)
	if err != nil {
		return nil, err
	}
	if quotes.HasErrors() {
		return nil, quotes.Sorted()
	}
	out := &Written{}
	notice := func(words string) {
		out.Notices = append(out.Notices, words)
		if told := r.workbook.options.Notice; told != nil {
			told(words)
		}
	}
	if out.Results, err = r.studies(ctx, notice); err != nil {
		return nil, err
	}
	if err := r.addQuotes(ctx, out.Results, notice); err != nil {
		return nil, err
	}
	book := r.workbook.book
	if err := book.Write(ctx, out.Results); err != nil {
		return nil, err
	}
	_, uncertain := r.model.Uncertainty()
	out.Findings = append(append(append(Diagnostics(nil), r.Findings...), uncertain.AsWarnings()...), quotes...).Sorted()
	out.Summary, out.Remarks, out.Drawings = book.Summary(), book.Remarks(), book.Drawings()
	return out, nil
}

// refuseDrawings stops a run in place that would take a person's pictures and charts away with the result sheets.
func refuseDrawings(drawings []string, inPlace bool) error {
	if len(drawings) == 0 || !inPlace {
		return nil
	}
	return fmt.Errorf("nothing was written: result sheets are written anew, and what you put over their cells would be lost (%s); "+
		"move it to a sheet of your own, or write a copy with -o", strings.Join(drawings, "; "))
}
