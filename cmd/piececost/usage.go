package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"piececost/costmodel/table"
)

// errCase says that the case has errors, which are printed already.
var errCase = errors.New("the case has errors")

// usageError is a wrong use of the command line.
type usageError struct{ error }

// exitCode prints the error of a command, unless it is told already, and returns the exit code.
func exitCode(err error, stderr io.Writer) int {
	var usage usageError
	switch {
	case err == nil:
		return 0
	case errors.Is(err, errCase):
		return 1
	case stopped(err):
		fmt.Fprintln(stderr, wordsStopped)
		return exitStopped
	case errors.As(err, &usage):
		fmt.Fprintf(stderr, "piececost: %s\n", table.Brief(err.Error()))
		return 2
	}
	fmt.Fprintf(stderr, "piececost: %s\n", table.Brief(err.Error()))
	return 1
}

// oneFile asks for exactly one argument, a workbook.
func oneFile(cmd *cobra.Command, args []string) error {
	if len(args) != 1 {
		return fmt.Errorf("%s takes one workbook, got %d arguments", cmd.Name(), len(args))
	}
	return nil
}

// noSuchCommand refuses what stands where a command should: one that is misspelt, or a workbook without a command before it.
func noSuchCommand(root *cobra.Command, args []string) error {
	if len(args) == 0 {
		return nil
	}
	text := fmt.Sprintf("unknown command %q", table.Shortened(args[0]))
	root.SuggestionsMinimumDistance = 2
	switch near := root.SuggestionsFor(args[0]); {
	case strings.EqualFold(filepath.Ext(args[0]), ".xlsx"), strings.EqualFold(filepath.Ext(args[0]), ".xlsm"):
		text += fmt.Sprintf("; the command stands before the workbook, as in `piececost check %s`", args[0])
	case len(near) > 0:
		text += "; did you mean " + strings.Join(near, " or ") + "?"
	}
	return errors.New(text)
}

// flagError says what is wrong with a flag in words for a person.
func flagError(cmd *cobra.Command, err error) error {
	if name, value, ok := badValue(err); ok && cmd.Flag(name) != nil {
		err = fmt.Errorf("--%s is %q, %s", name, value, wantedValue(cmd.Flag(name).Value.Type(), value, errors.Is(err, strconv.ErrRange)))
	}
	return usageError{fmt.Errorf("%w; see `%s --help`", err, cmd.CommandPath())}
}

// badValue takes the flag and its wrong value from an error of the flag library: invalid argument "x" for "-v, --volume"
// flag: cause. Its name stands only in the text for a package that does not import that library.
func badValue(err error) (name, value string, ok bool) {
	var bad interface {
		error
		GetValue() string
	}
	if !errors.As(err, &bad) {
		return "", "", false
	}
	value = bad.GetValue()
	rest, ok := strings.CutPrefix(bad.Error(), fmt.Sprintf("invalid argument %q for \"", value))
	if !ok {
		return "", "", false
	}
	flags, _, _ := strings.Cut(rest, `" flag:`)
	_, name, ok = strings.Cut(flags, "--")
	return name, value, ok
}

// wantedValue says which value a kind of flag takes.
func wantedValue(kind, value string, tooLarge bool) string {
	if tooLarge {
		return "which is beyond any number that can be used"
	}
	wanted := map[string]string{
		"int": "a whole number", "float64": "a number", "float64Slice": "one number or several with commas", "bool": "true or false",
	}[kind]
	switch {
	case wanted == "":
		wanted = "a " + kind
	case (kind == "int" || kind == "float64") && strings.Contains(value, ","):
		wanted += " without commas"
	}
	return "wanted is " + wanted
}

// ofFile lets a refusal name the workbook that it is about: the words may have passed through a script over many. Wrong
// usage is about none, and what was stopped is known.
func ofFile(err error, file string) error {
	var usage usageError
	told := errors.Is(err, errCase) || stopped(err) || errors.As(err, &usage)
	if err == nil || told || strings.Contains(err.Error(), filepath.Base(file)) {
		return err
	}
	return fmt.Errorf("%s: %w", file, err)
}
