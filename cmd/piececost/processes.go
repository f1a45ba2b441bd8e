package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
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
}
