package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"runtime/debug"
	"strings"
	"sync"

	"github.com/spf13/cobra"

	"piececost/costmodel"
	"piececost/templates"
)

// version is the program's version; results of the same version and workbook are the same.
const version = "0.1.0"

// caution stands under every result that rests on forces, pressures and cycle times.
const caution = `Forces, pressures and cycle times are for estimating cost only; they defer to the machine maker,
local safety codes and licensed engineers. Results rest on the inputs' sources.`

// errCase says that the case has errors, which are printed already.
var errCase = errors.New("the case has errors")

// usageError is a wrong use of the command line.
type usageError struct{ error }

// run is the program as a function: exit code 0 done, 1 the case or a file has errors or the output could not be written,
// 2 wrong usage; brokenPipe where nobody reads any more.
func run(args []string, stdin io.Reader, stdout, stderr io.Writer) (code int) {
	defer func() {
		if p := recover(); p != nil {
			fmt.Fprintf(stderr, "piececost has a fault of its own: %v\nNothing was written. Please report it with the workbook and these lines:\n%s", p, debug.Stack())
			code = 1
		}
	}()
	out := &answer{w: stdout}
	root := newRoot()
	root.SetArgs(args)
	root.SetIn(stdin)
	root.SetOut(out)
	root.SetErr(stderr)
	return out.finish(exitCode(root.Execute(), stderr), stderr)
}

// exitCode prints the error of a command, unless it is told already, and returns the exit code.
func exitCode(err error, stderr io.Writer) int {
	var usage usageError
	switch {
	case err == nil:
		return 0
	case errors.Is(err, errCase):
		return 1
	case errors.As(err, &usage):
		fmt.Fprintf(stderr, "piececost: %s\n", costmodel.Brief(err.Error()))
		return 2
	}
	fmt.Fprintf(stderr, "piececost: %s\n", costmodel.Brief(err.Error()))
	return 1
}

func newRoot() *cobra.Command {
	root := &cobra.Command{
		Use:   "piececost",
		Short: "Cost manufactured parts from their process, at every annual volume, in a workbook",
		Long: `piececost costs manufactured parts from their process: material, tooling, press and station time, labour, energy,
capital and overhead at every annual volume, read from and written back into a scenario workbook (.xlsx).

` + caution,
		Example: `  piececost new --sample battery-tray tray.xlsx
  piececost check tray.xlsx
  piececost run tray.xlsx
  piececost sweep tray.xlsx --from 3000 --to 300000 --points 60`,
		Version:       version,
		SilenceUsage:  true,
		SilenceErrors: true,
		Args:          cobra.NoArgs,
		PersistentPreRunE: func(*cobra.Command, []string) error { // a library that is not whole is said at once, whatever the command
			_, err := library()
			return err
		},
		RunE: func(cmd *cobra.Command, _ []string) error { return cmd.Help() },
	}
	root.CompletionOptions.DisableDefaultCmd = true
	root.SetVersionTemplate("piececost {{.Version}}\n")
	root.AddCommand(newNew(), newImport(), newCheck(), newRun(), newSweep(), newCrossover(), newCompare(), newVolumes(), newCombine(), newExplain(), newSolve(), newSensitivity(), newMap(), newLint(), newProcesses())
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
		c.RunE = func(cmd *cobra.Command, args []string) error { return ofFile(body(cmd, args), args[len(args)-1]) }
	}
	for _, sub := range c.Commands() {
		wrapUsage(sub)
	}
}

// ofFile lets a refusal name the workbook that it is about: the words may have passed through a script over many. Wrong
// usage is about none, and what was stopped is known.
func ofFile(err error, file string) error {
	var usage usageError
	if err == nil || errors.Is(err, errCase) || errors.Is(err, errStopped) || errors.As(err, &usage) || strings.Contains(err.Error(), filepath.Base(file)) {
		return err
	}
	return fmt.Errorf("%s: %w", file, err)
}

// oneFile asks for exactly one argument, a workbook.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("%s takes one workbook, got %d arguments", cmd.Name(), len(args))
	}
	return nil
}

// library reads the definitions once; a variable so that a test can break them.
var library = sync.OnceValues(func() (*costmodel.Library, error) { return costmodel.LoadLibrary(templates.Files) })
