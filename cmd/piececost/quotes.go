package main

import (
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"piececost/cmd/piececost/internal/report"
	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/scenarios/costing"
)

type quotesFlags struct {
	quote, month, questions, output, of, form string
	volume                                    float64
	rules                                     bool
	seriesFlags
	outputFlags
}

func newQuotes() *cobra.Command {
	var f quotesFlags
	c := &cobra.Command{
		Use:   "quotes FILE",
		Short: "Put suppliers' quotes on equal terms, check each against the should-cost and prepare questions",
		Long: `quotes reads the sheets Quotes and Quote lines. It brings every quote to the terms of the column Request, step by step: currency at
the one rate of the sheet Currencies, tools out of the price, material to the request's month (Price months), annual volume, delivery
term, packaging, payment term, stock; then tools, yearly reductions and one-off costs over the programme. It ranks the quotes before
and after. Nothing is guessed silently: what a supplier did not state is marked as assumed, or is an open point.

Each quote is held against the should-cost of the part at the quote's own annual volume (and in its Plant, where it names one), element
by element, and checked by some forty rules; a finding has its numbers, its effect a piece and a year and a question. Findings speak of
numbers, never of intentions. For each difference it says which single assumption of the should-cost would explain it.

--rules lists the rules with their bounds; the sheet Quote rules (Rule, Low, High, Use) gives others, and rows of the sheet Processes for
all quotes or all quote lines add checks. --questions NAME writes what to ask that supplier, as a page of Markdown or, with -o FILE.xlsx, as
a workbook with room for answers: the list that every supplier gets, then questions with his own numbers alone; it holds no number of
the model, of another quote or of a target. Nothing is written into the workbook.

--form OUT.xlsx writes the request as a workbook for a supplier to fill in, with empty lines, drop-downs and a short guide, and no figure of
the model; what comes back is taken up by import --quote.

--split shares annual volumes between two suppliers at least levelised delivered cost, within their capacities. --clause NAME follows the index
clause of a quote through the months of Price months; with --notice it holds an announced price against the clause, and says when the
tools in the price are paid. --change prices a change request from the lines of --quote: so much more of a line's quantity or time at the line's
own rates, and the surcharges taken on it; with --asked it holds the price that the supplier asks for the change against that.

The CSV has one table, in the model currency: --of chain (without --of), elements, findings or explanations. JSON has all.

` + report.Caution,
		Example: `  piececost quotes tray.xlsx
  piececost quotes tray.xlsx --quote Q2
  piececost quotes tray.xlsx --volume 150000 --month 2025-06
  piececost quotes tray.xlsx --csv --of findings > findings.csv
  piececost quotes tray.xlsx --questions Q2 -o questions.md
  piececost quotes tray.xlsx --form request.xlsx
  piececost quotes tray.xlsx --split
  piececost quotes tray.xlsx --clause Q3 --notice 12.40
  piececost quotes tray.xlsx --quote Q1 --change 1=0.2 --change 3=2s --asked 0.60
  piececost quotes --rules`,
		Args: func(cmd *cobra.Command, args []string) error {
			if f.rules && len(args) == 0 {
				return nil
			}
			return oneFile(cmd, args)
		},
		RunE: func(cmd *cobra.Command, args []string) error {
			if f.rules {
				return printRules(cmd)
			}
			return quotesWorkbook(cmd, args[0], f)
		},
	}
	f.add(c)
	return c
}

func (f *quotesFlags) add(c *cobra.Command) {
	c.Flags().StringVar(&f.quote, "quote", "", "name of a quote, or how it begins; all where none is given")
	c.Flags().StringVar(&f.month, "month", "", "price month of the request, 2025-03 or 2025-Q1; that of the sheet where none is given")
	c.Flags().Float64Var(&f.volume, "volume", 0, "annual volume of the request; that of the sheet where none is given")
	c.Flags().StringVar(&f.questions, "questions", "", "write the questions to this supplier")
	c.Flags().StringVarP(&f.output, "output", "o", "", "with --questions: the file; - or none for standard output")
	c.Flags().StringVar(&f.of, "of", "chain", "with --csv: the table to print, chain, elements, findings or explanations")
	c.Flags().StringVar(&f.form, "form", "", "write the request as a workbook that a supplier fills in; import --quote takes it back")
	c.Flags().BoolVar(&f.rules, "rules", false, "list the rules")
	f.seriesFlags.add(c)
	f.outputFlags.add(c)
}

// check refuses flags that do not go together.
func (f quotesFlags) check(cmd *cobra.Command) error {
	switch {
	case !contains([]string{"chain", "elements", "findings", "explanations"}, f.of):
		return errors.New("--of must be chain, elements, findings or explanations")
	case cmd.Flags().Changed("of") && !f.csv:
		return errors.New("--of goes with --csv; the other forms have all tables")
	case f.output != "" && f.questions == "":
		return errors.New("-o goes with --questions")
	case f.form != "" && (f.csv || f.json || f.questions != ""):
		return errors.New("--form writes a workbook of its own, without --questions, --csv and --json")
	case f.questions != "" && (f.csv || f.json):
		return errors.New("--questions is a page of its own, without --csv and --json")
	case cmd.Flags().Changed("volume") && !(f.volume > 0 && costmodel.PossibleNumber(f.volume)):
		return errors.New("--volume must be an annual volume above 0")
	}
	return f.seriesFlags.check(cmd, f.quote)
}

func contains(list []string, word string) bool {
	for _, w := range list {
		if w == word {
			return true
		}
	}
	return false
}

func printRules(cmd *cobra.Command) error {
	lib, err := costing.QuoteLibrary()
	if err != nil {
		return err
	}
	report.Rules(cmd.OutOrStdout(), lib)
	return nil
}

func quotesWorkbook(cmd *cobra.Command, file string, f quotesFlags) error {
	if err := f.check(cmd); err != nil {
		return usageError{err}
	}
	w, err := costing.Open(cmd.Context(), file, options(cmd))
	if err != nil {
		return err
	}
	if f.form != "" {
		ds, err := w.QuoteForm(cmd.Context(), f.form)
		if err == nil && ds.HasErrors() {
			err = ds
		}
		if err != nil {
			return caseError(cmd, err)
		}
		fmt.Fprintln(cmd.OutOrStdout(), "Made "+f.form)
		return nil
	}
	a, ds, err := w.Quotes(cmd.Context(), costing.QuotesAsked{Month: f.month, Volume: f.volume})
	if err != nil {
		return err
	}
	if ds.HasErrors() {
		return caseError(cmd, ds)
	}
	if a == nil {
		return fmt.Errorf("%s has no quotes; give each a column of the sheet Quotes, beside Request", file)
	}
	r := report.Quotes{Answer: a, Currency: a.Quotes.Model.Schema.Units.ModelCurrency()}
	if done, err := f.seriesFlags.answer(cmd, a, file, f, ds); done {
		return err
	}
	if f.questions != "" {
		return writeQuestions(cmd, a, f)
	}
	if f.quote != "" {
		if r.Only, err = offerNamed(a, f.quote); err != nil {
			return usageError{err}
		}
	}
	return f.outputFlags.write(cmd, file, ds, forms{csv: func(out io.Writer) { r.CSV(out, f.of) },
		json: func() any { return r.JSON(filepath.Base(file)) }, print: r.Print})
}

// offerNamed finds a quote by its name or how it begins.
func offerNamed(a *quote.Answer, name string) (*quote.Offer, error) {
	var names []string
	q := a.Quotes.Named(name)
	for _, o := range a.Offers {
		if o.Quote == q && q != nil {
			return o, nil
		}
		names = append(names, o.Quote.Key)
	}
	return nil, fmt.Errorf("there is no one quote %q; the quotes are %s", name, strings.Join(names, ", "))
}
