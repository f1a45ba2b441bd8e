package main

import (
	"fmt"
	"io"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel"
)

func newProcesses() *cobra.Command {
	return &cobra.Command{
		Use:   "processes [NAME]",
		Short: "List the processes and forms, or show one with its inputs and equations",
		Long: `processes lists the processes and the forms of material that the library knows. With a name it shows its inputs with units,
defaults and plausible ranges, its equations with notes and sources, and its checks.`,
		Example: `  piececost processes
  piececost processes "tube hydroforming"
  piececost processes operation`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			lib, err := library()
			if err != nil {
				return err
			}
			if len(args) == 0 {
				listProcesses(cmd.OutOrStdout(), lib)
				return nil
			}
			t := lib.Find(args[0])
			if t == nil {
				return usageError{fmt.Errorf("there is no process, form or scope %q; `piececost processes` lists them", args[0])}
			}
			showTemplate(cmd.OutOrStdout(), lib, t)
			return nil
		},
	}
}

func listProcesses(w io.Writer, lib *costmodel.Library) {
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
	fmt.Fprintln(w, caution)
}

func showTemplate(w io.Writer, lib *costmodel.Library, t *costmodel.Template) {
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
