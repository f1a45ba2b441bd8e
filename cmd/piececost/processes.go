package main

import (
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
)

func newProcesses() *cobra.Command {
	asJSON, functions := false, false
	var sheet sheetFlags
	c := &cobra.Command{
		Use:   "processes [NAME [FILE]]",
		Short: "List the processes and forms, or show one with its inputs and equations",
		Long: `processes lists the processes, by group of DIN 8580, and the forms of material that the library knows. With a name it shows
what it is and when it fits, its inputs with units, defaults and plausible ranges, its equations with notes and sources, and its
checks, and an example with numbers that were published or reckoned by hand. Each default and coefficient says where it comes from:
published, derived, from memory, common practice or placeholder.

With --functions it lists the language of equations: how they are written, every function with an example, the rows that an
expression may see, every unit.

With --as-sheet NAME FILE it puts a copy of a process, or of a form of material, into the sheet Processes of a workbook, under a name
of its own, to be changed; nothing else in the workbook changes. The copy counts where its name stands under Process in Operations (of a
form, under Form in Parts); the process of the library stays as it is for whatever has it. A process of your own, an own form of material
(form: NAME) and a change of a process wherever it is used are rows of the same sheet, in any workbook; those of piececost new say how.

JSON: format "piececost processes", version 1; caution; pages, each with name, sort (process, form or shared), aliases, group, what,
fits, fits_not, note, caution, inputs, relations, limits and example (what, given, results with their origin, published or by hand,
and source); with a name the one page. With --functions: format "piececost processes functions", version 1; writings, functions,
relations and units.`,
		Example: `  piececost processes
  piececost processes "tube hydroforming"
  piececost processes operation
  piececost processes --functions
  piececost processes --as-sheet "tube sawing" my.xlsx --called "sawing with loader"`,
		Args: cobra.MaximumNArgs(2),
		RunE: func(cmd *cobra.Command, args []string) error {
			if sheet.asSheet {
				if functions || asJSON {
					return usageError{fmt.Errorf("--as-sheet writes a workbook and lists nothing; leave --functions and --json out")}
				}
				return copyProcess(cmd, args, &sheet)
			}
			if err := sheet.refuseAlone(cmd); err != nil {
				return err
			}
			if len(args) > 1 {
				return usageError{fmt.Errorf("processes takes one name, got %d arguments; a name of several words stands in quotation marks", len(args))}
			}
			if functions {
				return listLanguage(cmd, args, asJSON)
			}
			return listProcesses(cmd, args, asJSON)
		},
	}
	sheet.add(c)
	c.Flags().BoolVar(&functions, "functions", false, "list the language of equations: functions with examples, units")
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// listProcesses lists the library, or shows the one process or form that is named.
func listProcesses(cmd *cobra.Command, args []string, asJSON bool) error {
	lib, err := library()
	if err != nil {
		return err
	}
	var t *costmodel.Template
	if len(args) > 0 {
		if err := knownProcess(args[0]); err != nil {
			return err
		}
		t = lib.Find(args[0])
	}
	switch {
	case asJSON:
		return report.WriteJSON(cmd.OutOrStdout(), report.ProcessesJSON(lib, t))
	case t == nil:
		report.ListProcesses(cmd.OutOrStdout(), lib)
	default:
		report.ShowTemplate(cmd.OutOrStdout(), lib, t)
	}
	return nil
}

// knownProcess refuses a name that the library has not.
func knownProcess(name string) error {
	lib, err := library()
	if err == nil && lib.Find(name) == nil {
		return usageError{fmt.Errorf("there is no process, form or scope %q; `piececost processes` lists them", name)}
	}
	return err
}

// listLanguage answers --functions.
func listLanguage(cmd *cobra.Command, args []string, asJSON bool) error {
	if len(args) > 0 {
		return usageError{fmt.Errorf("--functions lists the language and takes no name, got %q", args[0])}
	}
	if asJSON {
		return report.WriteJSON(cmd.OutOrStdout(), report.LanguageJSON())
	}
	report.ShowLanguage(cmd.OutOrStdout())
	return nil
}
