package scenarios

import (
	"bytes"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/scenarios/ooxml"
)

// corpusOffice is how many of the public workbooks are skipped between two that LibreOffice computes.
var corpusOffice = flag.Int("corpus-office", 25, "every n-th public workbook is computed by LibreOffice with a result sheet in it; 1: all")

const probeSheet = "piececost probe"

// probe is a package with one result sheet of formulas, their stored values poisoned.
func probe(t *testing.T) *ooxml.Package {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	if err := f.SetSheetName("Sheet1", probeSheet); err != nil {
		t.Fatal(err)
	}
	sw, err := f.NewStreamWriter(probeSheet)
	if err != nil {
		t.Fatal(err)
	}
	for i, row := range [][]any{{40, 2}, {excelize.Cell{Formula: "A1+B1", Value: 99}}, {excelize.Cell{Formula: "IF(A2=42,ROUND(A1/3,2),0)", Value: 99}},
		{excelize.Cell{Formula: "SUMPRODUCT((A1:B1>1)*A1:B1)", Value: 99}}} {
		if err := sw.SetRow(fmt.Sprintf("A%d", i+1), row); err != nil {
			t.Fatal(err)
		}
	}
	if err := sw.Flush(); err != nil {
		t.Fatal(err)
	}
	buf, err := f.WriteToBuffer()
	if err != nil {
		t.Fatal(err)
	}
	p, err := ooxml.OpenOwn(bytes.NewReader(buf.Bytes()), int64(buf.Len()))
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// TestCorpusRecalculated puts a result sheet into public workbooks and has LibreOffice compute it anew: it is right in
// every workbook that LibreOffice opens without the sheet, too.
func TestCorpusRecalculated(t *testing.T) {
	files, _ := filepath.Glob(filepath.Join("..", "..", "shared", "corpus", "*.xls*"))
	if len(files) == 0 {
		t.Skip("the corpus of public workbooks is not beside the checkout; the result sheets in them are NOT computed")
	}
	dir := t.TempDir()
	var with, without []string
	for i := 0; i < len(files); i += *corpusOffice {
		data, err := os.ReadFile(files[i])
		if err != nil {
			t.Fatal(err)
		}
		p, err := ooxml.Open(bytes.NewReader(data), int64(len(data)))
		if err != nil {
			continue
		}
		var out bytes.Buffer
		if err := ooxml.Put(&out, p, probe(t), func(*ooxml.Sheet) bool { return false }, nil); err != nil {
			continue // refused with a line; ooxml's own tests hold which
		}
		for name, content := range map[string][]byte{"with": out.Bytes(), "without": data} {
			path := filepath.Join(dir, fmt.Sprintf("%s%03d%s", name, i, filepath.Ext(files[i])))
			if err := os.WriteFile(path, content, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		with = append(with, filepath.Join(dir, fmt.Sprintf("with%03d%s", i, filepath.Ext(files[i]))))
		without = append(without, filepath.Join(dir, fmt.Sprintf("without%03d%s", i, filepath.Ext(files[i]))))
	}
	withOut, withoutOut := convertEach(t, with), convertEach(t, without)
	right := 0
	for i := range with {
		if withoutOut[i] == "" {
			t.Logf("%s: LibreOffice does not open the original", filepath.Base(without[i]))
			continue
		}
		if got := probed(withOut[i]); got != "42 13.33 42" {
			t.Errorf("%s: the result sheet shows %q", filepath.Base(with[i]), got)
			continue
		}
		right++
	}
	t.Logf("%d of %d workbooks: the result sheet is right after recalculation", right, len(with))
	if right == 0 {
		t.Error("none was computed")
	}
}

// convertEach converts workbooks and returns the path of each result, "" where there is none. A file at which the program
// falls over ends its run; the rest is converted in another.
func convertEach(t *testing.T, paths []string) []string {
	t.Helper()
	out := make([]string, len(paths))
	for from := 0; from < len(paths); {
		folder := convert(t, "xlsx", paths[from:]...)
		last := from
		for i := from; i < len(paths); i++ {
			made := filepath.Join(folder, strings.TrimSuffix(filepath.Base(paths[i]), filepath.Ext(paths[i]))+".xlsx")
			if _, err := os.Stat(made); err == nil {
				out[i], last = made, i+1
			}
		}
		if last == len(paths) {
			break
		}
		from = last + 1 // the one after the last result was too much for it
	}
	return out
}

// probed is what the result sheet of a workbook shows.
func probed(path string) string {
	f, err := excelize.OpenFile(path)
	if err != nil {
		return err.Error()
	}
	defer f.Close()
	var out []string
	for _, cell := range []string{"A2", "A3", "A4"} {
		v, err := f.GetCellValue(probeSheet, cell, excelize.Options{RawCellValue: true})
		if err != nil {
			return err.Error()
		}
		out = append(out, v)
	}
	return strings.Join(out, " ")
}
