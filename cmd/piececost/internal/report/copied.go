package report

import (
	"fmt"
	"io"

	"piececost/cmd/piececost/internal/term"
	"piececost/scenarios"
)

// PrintCopied says where the copy of a process is, and how it lives beside the one of the library.
func PrintCopied(w io.Writer, c *scenarios.Copied) {
	sort, sheet, column := "process", "Operations", "Process"
	if c.Form {
		sort, sheet, column = "form", "Parts", "Form"
	}
	made := ""
	if c.NewSheet {
		made = ", which is new"
	}
	fmt.Fprintf(w, "%s is copied into the sheet Processes of %s%s, rows %d to %d\n", c.From, c.File, made, c.First, c.Last)
	for _, text := range []string{
		fmt.Sprintf("It is a %s of its own, %q: write that under %s in the sheet %s where it is to count. What has %q goes on as before.", sort, c.Name, column,
			sheet, c.From),
		fmt.Sprintf("Change its rows; a row that you delete is again as in %s, and so are ranges and limits. To rename it, change the name in "+
			"each of its rows.", c.From),
		fmt.Sprintf("To change %s itself wherever it is used, write its rows in the sheet Processes under its own name.", c.From),
	} {
		term.Wrap(w, "", "", text)
	}
}
