package main

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel/quote"
	"piececost/scenarios"
)

// writeQuestions writes the questions to a supplier: to a file that is not there yet, or to standard output.
func writeQuestions(cmd *cobra.Command, a *quote.Answer, f quotesFlags) error {
	o, err := offerNamed(a, f.questions)
	if err != nil {
		return usageError{err}
	}
	var page bytes.Buffer
	report.Questions(&page, a.Questions(o))
	if f.output == "" || f.output == "-" {
		_, err := cmd.OutOrStdout().Write(page.Bytes())
		return err
	}
	data := page.Bytes()
	if strings.EqualFold(filepath.Ext(f.output), ".xlsx") {
		if data, err = scenarios.QuestionsWorkbook(a.Questions(o)); err != nil {
			return err
		}
	}
	if err := scenarios.WriteNew(f.output, data); err != nil {
		return err
	}
	fmt.Fprintln(cmd.OutOrStdout(), "Made "+f.output)
	return nil
}
