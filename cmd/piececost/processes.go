package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
)

func newProcesses() *cobra.Command {
	var functions bool
	cmd := &cobra.Command{
		Use:   "processes [NAME]",
		Short: "List the processes and forms, or show one with its inputs and equations",
		Long: `processes lists the processes and the forms of material that the library knows. With a name it shows its inputs with units,
defaults and plausible ranges, its equations with notes and sources, and its checks.

With --functions it lists the language of equations: how they are written, every function with an example, every unit.`,
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
			if len(args) == 0 {
				report.ListProcesses(cmd.OutOrStdout(), lib)
				return nil
			}
			t := lib.Find(args[0])
			if t == nil {
				return usageError{fmt.Errorf("there is no process, form or scope %q; `piececost processes` lists them", args[0])}
			}
			report.ShowTemplate(cmd.OutOrStdout(), lib, t)
			return nil
		},
	}
	cmd.Flags().BoolVar(&functions, "functions", false, "list the language of equations: functions with examples, units")
	return cmd
}
