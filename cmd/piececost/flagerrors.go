package main

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"github.com/spf13/cobra"
)

// badValue is how the flag library words a value that it can't read.
var badValue = regexp.MustCompile(`(?s)^invalid argument (".*") for "(?:-., )?--([a-z-]+)" flag: (.*)$`)

// flagError says what is wrong with a flag in words for a person.
func flagError(cmd *cobra.Command, err error) error {
	m := badValue.FindStringSubmatch(err.Error())
	if m == nil || cmd.Flags().Lookup(m[2]) == nil {
		return usageError{fmt.Errorf("%w; see `%s --help`", err, cmd.CommandPath())}
	}
	value, unquoted := strconv.Unquote(m[1])
	if unquoted != nil {
		value = m[1]
	}
	wanted := "which is beyond any number that can be used"
	if !strings.Contains(m[3], strconv.ErrRange.Error()) {
		wanted = "wanted is " + wantedValue(cmd.Flags().Lookup(m[2]).Value.Type(), value)
	}
	return usageError{fmt.Errorf("--%s is %q, %s; see `%s --help`", m[2], value, wanted, cmd.CommandPath())}
}

// wantedValue says which value a flag of a kind takes.
func wantedValue(kind, value string) string {
	wanted := map[string]string{
		"int": "a whole number", "float64": "a number", "float64Slice": "one number or several with commas", "bool": "true or false",
	}[kind]
	switch {
	case wanted == "":
		return "a " + kind
	case kind != "float64Slice" && kind != "bool" && strings.Contains(value, ","):
		return wanted + " without commas"
	}
	return wanted
}
