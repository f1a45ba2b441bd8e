package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
)

func newGrades() *cobra.Command {
	asJSON := false
	c := &cobra.Command{
		Use:   "grades [NAME]",
		Short: "List the grades that are known by their designation, or show the values of one",
		Long: `grades lists the materials that are known by their designation: sheet, tube and bar steels, stainless steels, aluminium sheet and
extrusions, casting alloys, thermoplastics. A row of the sheet Materials whose key or column Grade is one of them needs no density,
modulus or strength: cells that are empty have the grade's values, a cell wins, and prices are always yours.

With the designation of a grade it shows each value with its unit, where it comes from (published, from memory, common practice), by
about how many percent it may be off, and what to look up first. Capitals, blanks, the standard, a coating (+Z100) and the steel's
number instead of its name make no difference; a temper or a state of delivery (T6, +N) does. Any other NAME lists the grades of a
standard, a family or a form: "EN 10346", stainless, tube.

JSON: format "piececost grades", version 1; caution; grades, each with name, aliases, family, standard, form, note, verify and values
(name, label, symbol, value, unit, kind, within_percent, note, source).`,
		Example: `  piececost grades
  piececost grades DC04
  piececost grades "EN AW-6082-T6"
  piececost grades "EN 10346" --json`,
		Args: cobra.MaximumNArgs(1),
		RunE: func(cmd *cobra.Command, args []string) error {
			return listGrades(cmd, strings.Join(args, ""), asJSON)
		},
	}
	c.Flags().BoolVar(&asJSON, "json", false, "print JSON")
	return c
}

// listGrades lists the grades that a name asks for, all where it is empty, or shows the one that it is.
func listGrades(cmd *cobra.Command, name string, asJSON bool) error {
	lib, err := library()
	if err != nil {
		return err
	}
	one := lib.Grade(name)
	list := []*costmodel.Grade{one}
	if one == nil {
		list = lib.GradesOf(name)
	}
	switch {
	case len(list) == 0:
		return usageError{unknownGrade(lib, name)}
	case asJSON:
		return report.WriteJSON(cmd.OutOrStdout(), report.GradesJSON(list))
	case one != nil:
		report.ShowGrade(cmd.OutOrStdout(), one)
	default:
		report.ListGrades(cmd.OutOrStdout(), list)
	}
	return nil
}

func unknownGrade(lib *costmodel.Library, name string) error {
	if near := lib.NearGrades(name); len(near) > 0 {
		return fmt.Errorf("there is no grade, standard, family or form %q; did you mean %s?", name, strings.Join(near, ", "))
	}
	return fmt.Errorf("there is no grade, standard, family or form %q; `piececost grades` lists them", name)
}
