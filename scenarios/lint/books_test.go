package lint

import (
	"archive/zip"
	"bytes"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// built makes a workbook from lines such as
//
//	Costs!B2 12.5          a number
//	Costs!B3 =B2*2         a formula without stored value
//	Costs!B4 ~12           a text, also one that looks like a number
//	Costs!B5 {0.0" mm"} 3  a number with a number format
//
// in a workbook without other sheets, in the order of the lines.
func built(t testing.TB, lines string, more ...func(*excelize.File) error) []byte {
	t.Helper()
	f := excelize.NewFile()
	defer f.Close()
	first := true
	for _, line := range strings.Split(strings.TrimSpace(lines), "\n") {
		place, value, _ := strings.Cut(strings.TrimSpace(line), " ")
		at := strings.LastIndex(place, "!")
		sheet, cell := strings.ReplaceAll(place[:at], "_", " "), place[at+1:]
		if first {
			check(t, f.SetSheetName("Sheet1", sheet))
			first = false
		}
		if i, err := f.GetSheetIndex(sheet); err != nil || i < 0 {
			_, err := f.NewSheet(sheet)
			check(t, err)
		}
		check(t, enter(f, sheet, cell, strings.TrimSpace(value)))
	}
	for _, change := range more {
		check(t, change(f))
	}
	buf, err := f.WriteToBuffer()
	check(t, err)
	return buf.Bytes()
}

func enter(f *excelize.File, sheet, cell, value string) error {
	if format, rest, ok := strings.Cut(value, "} "); ok && value[0] == '{' {
		format = format[1:]
		style, err := f.NewStyle(&excelize.Style{CustomNumFmt: &format})
		if err != nil {
			return err
		}
		if err := f.SetCellStyle(sheet, cell, cell, style); err != nil {
			return err
		}
		value = rest
	}
	if strings.HasPrefix(value, "=") {
		return f.SetCellFormula(sheet, cell, value[1:])
	}
	if n, err := strconv.ParseFloat(value, 64); err == nil {
		return f.SetCellFloat(sheet, cell, n, -1, 64)
	}
	return f.SetCellStr(sheet, cell, strings.TrimPrefix(value, "~"))
}

// rows makes lines for built: the text once for each row, # replaced by its number and < by the number before.
func rows(from, to int, line string) string {
	var b strings.Builder
	for r := from; r <= to; r++ {
		b.WriteString(strings.NewReplacer("#", strconv.Itoa(r), "<", strconv.Itoa(r-1)).Replace(line) + "\n")
	}
	return b.String()
}

// written makes a package from parts as they stand: what no library writes. Sheets are named S1, S2, ...; a part "names" or
// "links" goes into the workbook part.
func written(t testing.TB, sheets []string, parts map[string]string) []byte {
	t.Helper()
	const head = `<?xml version="1.0" encoding="UTF-8"?>`
	all := map[string]string{"_rels/.rels": head + `<Relationships><Relationship Id="rId1" Type="x/officeDocument" Target="xl/workbook.xml"/></Relationships>`}
	list, rels := "", ""
	for i, s := range sheets {
		list += fmt.Sprintf(`<sheet name="S%d" sheetId="%d" r:id="rId%d"/>`, i+1, i+1, i+1)
		rels += fmt.Sprintf(`<Relationship Id="rId%d" Type="x/worksheet" Target="worksheets/sheet%d.xml"/>`, i+1, i+1)
		all[fmt.Sprintf("xl/worksheets/sheet%d.xml", i+1)] = head + "<worksheet>" + s + "</worksheet>"
	}
	all["xl/workbook.xml"] = head + `<workbook xmlns:r="r"><sheets>` + list + `</sheets>` + parts["links"] + parts["names"] + `</workbook>`
	all["xl/_rels/workbook.xml.rels"] = head + `<Relationships>` + rels + parts["relations"] + `</Relationships>`
	for name, text := range parts {
		if strings.Contains(name, "/") {
			all[name] = head + text
		}
	}
	return zipped(t, all)
}

func zipped(t testing.TB, parts map[string]string) []byte {
	t.Helper()
	var names []string
	for name := range parts {
		names = append(names, name)
	}
	slices.Sort(names)
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for _, name := range names {
		w, err := z.Create(name)
		check(t, err)
		_, err = w.Write([]byte(parts[name]))
		check(t, err)
	}
	check(t, z.Close())
	return buf.Bytes()
}

// told lists the findings of a workbook, a line each: place, code, summary.
func told(t testing.TB, data []byte) []string {
	t.Helper()
	r, err := Read(bytes.NewReader(data), int64(len(data)), "")
	check(t, err)
	out := []string{}
	for _, f := range r.Findings {
		out = append(out, strings.TrimSpace(fmt.Sprintf("%s %s: %s", f.Place, f.Code, f.Summary)))
	}
	return out
}

// expect compares findings with lines.
func expect(t *testing.T, data []byte, want string) {
	t.Helper()
	var lines []string
	for _, line := range strings.Split(want, "\n") {
		if line = strings.TrimSpace(line); line != "" {
			lines = append(lines, line)
		}
	}
	if got := told(t, data); !slices.Equal(got, lines) {
		t.Errorf("findings\n  %s\nwant\n  %s", strings.Join(got, "\n  "), strings.Join(lines, "\n  "))
	}
}

func check(t testing.TB, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}
