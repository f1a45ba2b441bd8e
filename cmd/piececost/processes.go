package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
)

func newProcesses() *cobra.Command {
	asJSON, functions := false, false
	c := &cobra.Command{
		Use:   "processes [NAME]",
		Short: "List the processes and forms, or show one with its inputs and equations",
		Long: `processes lists the processes, by group of DIN 8580, and the forms of material that the library knows. With a name it shows
what it is and when it fits, its inputs with units, defaults and plausible ranges, its equations with notes and sources, and its
checks, and an example with numbers that were published or reckoned by hand. Each default and coefficient says where it comes from:
published, derived, from memory, common practice or placeholder.

With --functions it lists the language of equations: how they are written, every function with an example, every unit.

JSON: format "piececost processes", version 1; caution; pages, each with name, sort (process, form or shared), aliases, group, what,
fits, fits_not, note, caution, inputs, relations, limits and example (what, given, results with their origin, published or by hand,
and source); with a name the one page.`,
		Example: `  piececost processes
  piececost processes "tube hydroforming"
  piececost processes operation
  piececost processes --functions`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			if functions {
				if len(args) > 0 {
					return usageError{fmt.Errorf("--functions lists the language and takes no name, got %q", args[0])}
				}
				report.ShowLanguage(cmd.OutOrStdout())
				return nil
			}
			lib, err := library()
			if err != nil {
				return err
			}
			if len(args) == 0 && asJSON {
				return report.WriteJSON(cmd.OutOrStdout(), report.ProcessesJSON(lib, nil))
			}
			if len(args) == 0 {
				report.ListProcesses(cmd.OutOrStdout(), lib)
				return nil
			}
			t := lib.Find(args[0])
			if t == nil {
				return usageError{fmt.Errorf("there is no process, form or scope %q; `piececost processes` lists them", args[0])}
			}
			if asJSON {
				return report.WriteJSON(cmd.OutOrStdout(), report.ProcessesJSON(lib, t))
			}
			report.ShowTemplate(cmd.OutOrStdout(), lib, t)
			return nil
		},
	}
	c.Flags().BoolVar(&functions, "functions", false, "list the language of equations: functions with examples, units")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}
