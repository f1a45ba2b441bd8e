package main

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"piececost/scenarios/costing/wire"
)

func newSchema() *cobra.Command {
	return &cobra.Command{
		Use:   "schema [ANSWER]",
		Short: "Print the JSON Schema of what a command answers with --json",
		Long: `schema prints the JSON Schema (draft 2020-12) of the JSON that a command answers with: every key with its meaning and unit.
Without a word it is that of any of them, else that of one:

  ` + strings.Join(wire.Names(), ", ") + `

stability is crossover --stability, table is sensitivity with --x and --y; the others are commands. Format and version of
an answer stand in its schema. The version changes when a key goes or changes its name, meaning or unit; a key may be added
without.`,
		Example: `  piececost schema run
  piececost schema crossover > crossover.schema.json`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) > 1 {
				return fmt.Errorf("schema takes one answer, got %d arguments", len(args))
			}
			return nil
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			text, err := wire.Schema(strings.Join(args, ""))
			if err != nil {
				return usageError{err}
			}
			fmt.Fprintf(cmd.OutOrStdout(), "%s\n", text)
			return nil
		},
	}
}
