package main

import (
	"errors"
	"fmt"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
	"github.com/spf13/pflag"
)

// flagError says what is wrong with a flag in words for a person.
func flagError(cmd *cobra.Command, err error) error {
	var bad *pflag.InvalidValueError
	if !errors.As(err, &bad) {
		return usageError{fmt.Errorf("%w; see `%s --help`", err, cmd.CommandPath())}
	}
	return usageError{fmt.Errorf("--%s is %q, %s; see `%s --help`", bad.GetFlag().Name, bad.GetValue(), wantedValue(bad), cmd.CommandPath())}
}

// wantedValue says which value a flag takes.
func wantedValue(bad *pflag.InvalidValueError) string {
	if errors.Is(bad, strconv.ErrRange) {
		return "which is beyond any number that can be used"
	}
	kind := bad.GetFlag().Value.Type()
	wanted := map[string]string{
		"int": "a whole number", "float64": "a number", "float64Slice": "one number or several with commas", "bool": "true or false",
	}[kind]
	switch {
	case wanted == "":
		wanted = "a " + kind
	case kind != "float64Slice" && kind != "bool" && strings.Contains(bad.GetValue(), ","):
		wanted += " without commas"
	}
	return "wanted is " + wanted
}
