package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/scenarios"
)

// mostEdits is how many edits the terminal lists; Overrides has them all.
const mostEdits = 20

// PrintEdits lists what was changed by hand; failed is the error of the run, if any.
func PrintEdits(out io.Writer, edits []scenarios.Edit, failed error) {
	if len(edits) == 0 {
		return
	}
	kept := ", kept in the sheet Overrides"
	if failed != nil {
		kept = ""
	}
	fmt.Fprintf(out, "%s changed by hand in the result sheets%s (--discard-edits leaves them out):\n", term.Plural(len(edits), "cell"), kept)
	for i, e := range edits {
		if i == mostEdits {
			fmt.Fprintf(out, "  ... and %d more\n", len(edits)-i)
			break
		}
		fmt.Fprintf(out, "  %s\n", e)
	}
	if failed != nil {
		fmt.Fprintln(out, "Nothing was written; the edits are still in the result sheets.")
	}
}

// PrintRemarks says what became of the words and figures that a person typed into result sheets beside the results.
// drawings are lines on what lies over the cells.
func PrintRemarks(out io.Writer, remarks []*scenarios.Remark, drawings []string) {
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
		fmt.Fprintf(out, "%s in the result sheets kept%s", term.Plural(n, "remark"), list)
		printListed(out, moved)
	}
	if len(carried) > 0 {
		fmt.Fprintf(out, "%s in the result sheets carried to the sheet Overrides, with the place:\n", term.Plural(len(carried), "remark"))
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
