package main

import (
	"errors"
	"fmt"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
	"piececost/costmodel/table"
	"piececost/scenarios/costing"
)

// library is what the commands know; a variable so that a test can break it.
var library = costing.Library

// options are what all commands that read a case ask for: words on standard error, and nothing of result sheets.
func options(cmd *cobra.Command) costing.Options {
	lib, _ := library() // that it is whole was seen before the command began
	return costing.Options{Program: "piececost " + version, Edits: costing.LeaveEdits, Library: lib, Progress: term.Follow(cmd.ErrOrStderr()),
		Notice: func(words string) { fmt.Fprintln(cmd.ErrOrStderr(), words) }}
}

// costed reads a workbook and costs its scenarios; errors of the case are printed and errCase is returned. Notes are left to
// check.
func costed(cmd *cobra.Command, file string) (*costing.Result, error) {
	w, err := costing.Open(cmd.Context(), file, options(cmd))
	if err != nil {
		return nil, err
	}
	r, err := w.Cost(cmd.Context())
	return r, caseError(cmd, err)
}

// costedModel is costed for the studies that have no short way in package costing.
func costedModel(cmd *cobra.Command, file string) (*costmodel.Model, []*costmodel.Plan, table.Diagnostics, error) {
	r, err := costed(cmd, file)
	if err != nil {
		return nil, nil, nil, err
	}
	return r.Model(), r.Plans(), r.Findings, nil
}

// caseError prints the findings that an error is made of and returns errCase for them.
func caseError(cmd *cobra.Command, err error) error {
	var ds table.Diagnostics
	if !errors.As(err, &ds) {
		return err
	}
	report.PrintDiagnostics(cmd.ErrOrStderr(), ds)
	return errCase
}
