package main

import (
	"fmt"
	"io"
	"strings"

	"piececost/scenarios"
)

// refuseDrawings stops a run in place that would take a person's pictures and charts away with the result sheets.
func refuseDrawings(drawings []string, inPlace bool) error {
	if len(drawings) == 0 || !inPlace {
		return nil
	}
	return fmt.Errorf("nothing was written: result sheets are written anew, and what you put over their cells would be lost (%s); move it to a sheet of your own, or write a copy with -o", strings.Join(drawings, "; "))
}

// printRemarks says what became of the words and figures that a person typed into result sheets beside the results.
// drawings are lines on what lies over the cells.
func printRemarks(out io.Writer, remarks []*scenarios.Remark, drawings []string) {
	if len(drawings) > 0 {
		fmt.Fprintf(out, "Pictures, shapes and charts of your own can't be kept on result sheets; the copy lacks them (%s).\n", strings.Join(drawings, "; "))
	}
	var moved, carried []*scenarios.Remark
	for _, r := range remarks {
		switch {
		case r.Now.Row == 0:
			carried = append(carried, r)
		case r.Now.Cell() != r.Place.Cell() || r.Now.Sheet != r.Place.Sheet:
			moved = append(moved, r)
		}
	}
	if n := len(remarks) - len(carried); n > 0 {
		list := "\n"
		if len(moved) > 0 {
			list = fmt.Sprintf(", %d of them moved with the tables:\n", len(moved))
		}
		fmt.Fprintf(out, "%s in the result sheets kept%s", plural(n, "remark"), list)
		printListed(out, moved)
	}
	if len(carried) > 0 {
		fmt.Fprintf(out, "%s in the result sheets carried to the sheet Overrides, with the place:\n", plural(len(carried), "remark"))
		printListed(out, carried)
	}
}

func printListed(out io.Writer, remarks []*scenarios.Remark) {
	for i, r := range remarks {
		if i == mostEdits {
			fmt.Fprintf(out, "  ... and %d more\n", len(remarks)-i)
			return
		}
		fmt.Fprintf(out, "  %s\n", r)
	}
}
