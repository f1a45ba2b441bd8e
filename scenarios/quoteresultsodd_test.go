package scenarios

import (
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"

	"piececost/scenarios/ooxml"
)

// oddQuotes are sheets of quotes that are hardly filled, or filled with what is no number and no name of ours.
var oddQuotes = []struct{ name, quotes, lines string }{
	{"a price and nothing else", "Quantity,Unit,Request,Q1\nCurrency,,,EUR\nPrice,,,14.2\nAnnual volume,1/yr,60000,60000\n", ""},
	{"two totals alike", "Quantity,Unit,Request,A,B\nCurrency,,,EUR,EUR\nPart,,B05,,\nPrice,,,14.2,14.2\nAnnual volume,1/yr,60000,60000,60000\n" +
		"Quote date,,,2025-03-01,\n", ""},
	{"a part that nothing makes", "Quantity,Unit,Request,Q1,Q2\nCurrency,,,EUR,CZK\nPart,,NONE,,\nPrice,,,14.2,313\nAnnual volume,1/yr,60000,60000,50000\n",
		"Quote,Line,Element,Amount\nQ1,1,material,9\nQ1,2,profit,5.2\nQ2,1,material,313\n"},
	{"names like formulas", "Quantity,Unit,Request,=1+1,@SUM(A1),+A1,'Q4\nCurrency,,,EUR,EUR,EUR,EUR\nPart,,B05,,,,\nPrice,,,14.2,13,12,11\n" +
		"Annual volume,1/yr,60000,60000,50000,70000,60000\nSupplier,,,=HYPERLINK(A1),-2+3,{=1},LONG\n",
		"Quote,Line,Element,Text,Amount\n=1+1,1,material,=cmd|' /C calc'!A0,9\n=1+1,2,process,LONG,5.2\n@SUM(A1),a/b,material,\x07bell,13\n" +
			"+A1,01,other,\"two\nlines\",12\n"},
	{"cents, one line twice for a part", "Quantity,Unit,Request,Q1,Q2\nCurrency,,,EUR,EUR\nPart,,B05,,\nPrice,,,0.0142,0.0139\n" +
		"Annual volume,1/yr,60000,60000,50000\n",
		"Quote,Line,Element,Part,Operation,Amount\nQ1,1,process,B05,10,0.004\nQ1,2,process,,10,0.003\nQ1,3,process,NONE,,0.0072\n" +
			"Q2,1,tool,,,50000\nQ2,2,scrap credit,,,-0.001\nQ2,3,material,,,0.0149\n"},
}

// TestOddQuoteSheets: such quotes come through, independent programs compute the same, and no text of a supplier is a formula.
func TestOddQuoteSheets(t *testing.T) {
	dir := t.TempDir()
	long := strings.Repeat("long ", 32000/5)
	for _, x := range oddQuotes {
		t.Run(x.name, func(t *testing.T) {
			files := quoteTablesOfOne(t)
			for _, name := range []string{"price_months.csv", "freight_lanes.csv", "quote_lines.csv"} {
				delete(files, name)
			}
			files["quotes.csv"] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(x.quotes, "LONG", long))}
			if x.lines != "" {
				files["quote_lines.csv"] = &fstest.MapFile{Data: []byte(strings.ReplaceAll(x.lines, "LONG", long))}
			}
			path := filepath.Join(dir, strings.ReplaceAll(x.name, " ", "-")+".xlsx")
			r := writeQuotes(t, files, path)
			checkFormulas(t, path)
			cells := allCells(t, path, equalTermsSheet)
			for i, o := range r.Quotes.Offers {
				if at := fmt.Sprintf("B%d", 9+i); !strings.HasPrefix(cells[at], o.Quote.Key) || o.Quote.Key == "" {
					t.Errorf("%s is %.30q, the quote is called %q", at, cells[at], o.Quote.Key)
				}
			}
			eachFormula(t, path, func(sheet string, c *ooxml.Cell) {
				for _, words := range []string{"cmd|", "{=1", "long long"} {
					if strings.Contains(c.Formula, words) {
						t.Errorf("%s: words of a supplier in the formula %.80s", sheet, c.Formula)
					}
				}
			})
			poison(t, path, poisonedOf(path))
			comparePoisoned(t, path, poisonedOf(path))
		})
	}
}
