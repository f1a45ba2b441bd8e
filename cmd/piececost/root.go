package main

import (
	"context"
	"fmt"
	"io"
	"runtime/debug"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
)

// runUnder is the program as a function: exit code 0 done, 1 the case or a file has errors or the output could not be written,
// 2 wrong usage; brokenPipe where nobody reads any more. When the context is done the command ends as soon as it can, with
// exitStopped and nothing written.
func runUnder(ctx context.Context, args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(stderr, "piececost has a fault of its own: %v\nNothing was written. Please report it with the workbook and these lines:\n%s", p,
				debug.Stack())
			code = 1
		}
	}()
	out := &answer{w: stdout}
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(out)
	root.SetErr(stderr)
	return out.finish(exitCode(root.ExecuteContext(ctx), stderr), stderr)
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "piececost",
		Short: "Cost manufactured parts from their process, at every annual volume, in a workbook",
		Long: `piececost costs manufactured parts from their process: material, tooling, press and station time, labour, energy,
capital and overhead at every annual volume, read from and written back into a scenario workbook (.xlsx).

` + report.Caution,
		Example: `  piececost new --sample battery-tray tray.xlsx
  piececost check tray.xlsx
  piececost run tray.xlsx
  piececost sweep tray.xlsx --from 3000 --to 300000 --points 60`,
		Version:       version,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          noSuchCommand,
		PersistentPreRunE: func(*cobra.Command, []string) error { // a library that is not whole is said at once, whatever the command
			_, err := library()
			return err
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetVersionTemplate("piececost {{.Version}}\n")
	root.AddCommand(newNew(), newImport(), newCheck(), newRun(), newSweep(), newCrossover(), newCompare(), newQuotes(), newVolumes(), newCombine(),
		newExplain(), newSolve(), newSensitivity(), newMap(), newTrial(), newFit(), newLint(), newProcesses(), newGrades(), newSchema())
	wrapUsage(root)
	return root
}

// wrapUsage marks the errors of flags and arguments as wrong usage, for the exit code.
func wrapUsage(c *cobra.Command) {
	c.SetFlagErrorFunc(flagError)
	if check := c.Args; check != nil {
		c.Args = func(cmd *cobra.Command, args []string) error {
			if err := check(cmd, args); err != nil {
				return usageError{fmt.Errorf("%w; see `%s --help`", err, cmd.CommandPath())}
			}
			return nil
		}
	}
	if body := c.RunE; body != nil && strings.HasSuffix(c.Use, " FILE") && strings.Count(c.Use, " ") == 1 {
		c.RunE = func(cmd *cobra.Command, args []string) error {
			if len(args) == 0 { // of what needs no file
				return body(cmd, args)
			}
			return ofFile(body(cmd, args), args[len(args)-1])
		}
	}
	for _, sub := range c.Commands() {
		wrapUsage(sub)
	}
}
