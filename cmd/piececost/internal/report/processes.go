package report

import (
	"fmt"
	"io"
	"strings"

	"piececost/costmodel"
)

// ListProcesses prints the processes, forms and shared equations that the library knows.
func ListProcesses(w io.Writer, lib *costmodel.Library) {
	print := func(title string, list []*costmodel.Template) {
		fmt.Fprintln(w, title)
		for _, t := range list {
			name := t.Name
			if name == "" {
				name = t.Scope
			}
			fmt.Fprintf(w, "  %-24s %-24s %s\n", name, t.Group, t.Note+t.Title)
		}
		fmt.Fprintln(w)
	}
	print("Processes", lib.Processes)
	print("Forms of material", lib.Forms)
	print("Shared equations", lib.Shared())
	fmt.Fprintln(w, Caution)
}

// ShowTemplate prints one of them with its inputs, equations and checks.
func ShowTemplate(w io.Writer, lib *costmodel.Library, t *costmodel.Template) {
	fmt.Fprintln(w, strings.TrimSpace(t.Name+" "+t.Title))
	for _, line := range []string{t.Group, t.Note, t.Caution} {
		if line != "" {
			fmt.Fprintln(w, "  "+line)
		}
	}
	for _, it := range t.Items {
		fmt.Fprintf(w, "\n%s [%s]\n", it.Name, it.Unit+strings.Join(it.Options, ", "))
		switch {
		case it.Input && it.Is == "" && lib.ForChecks(t, it.Name):
			fmt.Fprintln(w, "  input, for checks; without it they are not made")
		case it.Input && it.Is == "":
			fmt.Fprintln(w, "  input, must be given")
		case it.Input:
			fmt.Fprintf(w, "  input, default %s\n", it.Is)
		default:
			fmt.Fprintf(w, "  = %s\n", it.Is)
		}
		if also := it.OtherNames(); also != "" {
			fmt.Fprintln(w, "  also called "+also)
		}
		if it.Possible.Known() {
			fmt.Fprintf(w, "  possible %s\n", it.Possible.Bounds())
		}
		if it.Plausible != nil {
			fmt.Fprintf(w, "  plausible %v to %v\n", it.Plausible[0], it.Plausible[1])
		}
		if s := it.Sentence(); s != "" {
			fmt.Fprintln(w, "  "+s)
		}
	}
	for _, c := range t.Checks {
		fmt.Fprintf(w, "\ncheck: %s\n  else: %s\n", c.Holds, c.Say)
	}
}
