package scenarios

import (
	"fmt"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"
)

// alternatives puts an mc:AlternateContent with items in its branches at the end of every list of a styles part. Programs
// count the three of the Choice, the one of the Fallback, both or none.
func alternatives(t *testing.T, path, requires string) {
	t.Helper()
	parts := unzip(t, path)
	styles := string(parts["xl/styles.xml"])
	for list, item := range map[string]string{
		"numFmts":      `<numFmt numFmtId="%d" formatCode="0.0%%&quot; x&quot;"/>`,
		"fonts":        `<font><b/><sz val="%d"/><name val="Arial"/></font>`,
		"fills":        `<fill><patternFill patternType="solid"><fgColor rgb="FF0000%d"/></patternFill></fill>`,
		"cellStyleXfs": `<xf numFmtId="10" fontId="%[1]d" fillId="0" borderId="0"/>`,
		"cellXfs":      `<xf numFmtId="10" fontId="0" fillId="0" borderId="%[1]d" applyNumberFormat="1"/>`,
		"dxfs":         `<dxf><font><sz val="%d"/></font></dxf>`,
	} {
		items := ""
		for n := range 3 {
			items += fmt.Sprintf(item, map[string]int{"numFmts": 900, "fonts": 11, "fills": 10}[list]+n)
		}
		if list == "cellXfs" || list == "cellStyleXfs" {
			items = strings.Repeat(fmt.Sprintf(item, 0), 3)
		}
		one := items[:strings.Index(items[1:], "<"+strings.TrimSuffix(list, "s")[:2])+1]
		alternate := `<mc:AlternateContent xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" ` +
			`xmlns:x14ac="http://schemas.microsoft.com/office/spreadsheetml/2009/9/ac" xmlns:zz="urn:not-known"><mc:Choice Requires="` + requires + `">` +
			items + `</mc:Choice><mc:Fallback>` + one + `</mc:Fallback></mc:AlternateContent>`
		end := regexp.MustCompile("</" + list + ">")
		if !end.MatchString(styles) {
			styles = strings.Replace(styles, "<"+list+` count="0">`, "<"+list+">", 1)
		}
		if !end.MatchString(styles) {
			t.Fatalf("no list %s in %s", list, styles)
		}
		styles = end.ReplaceAllLiteralString(styles, alternate+"</"+list+">")
	}
	parts["xl/styles.xml"] = []byte(styles)
	rezip(t, path, parts)
}

// shownCells is what every cell of the result sheets shows and the code of its number format, as the library sees it.
func shownCells(t *testing.T, path string) map[string]string {
	t.Helper()
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	out, formats := map[string]string{}, map[int]string{}
	for _, sheet := range []string{"Summary", "Cost breakdown", "Hourly rates", "Investment", "Cost over volume"} {
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for r, row := range rows {
			for c, text := range row {
				at, _ := excelize.CoordinatesToCellName(c+1, r+1)
				id, err := f.GetCellStyle(sheet, at)
				if err != nil {
					t.Fatal(err)
				}
				if _, known := formats[id]; !known {
					formats[id] = numberFormat(t, f, id)
				}
				if text != "" {
					out[sheet+"!"+at] = text + " as " + formats[id]
				}
			}
		}
	}
	return out
}

// numberFormat is the number or the code of a style's format.
func numberFormat(t *testing.T, f *excelize.File, id int) string {
	t.Helper()
	style, err := f.GetStyle(id)
	if err != nil {
		t.Fatal(err)
	}
	if style.CustomNumFmt != nil {
		return *style.CustomNumFmt
	}
	return fmt.Sprint(style.NumFmt)
}

// TestAlternativesOfStyles: the result sheets show the same in a workbook whose styles hold alternatives, whichever of them
// a program counts.
func TestAlternativesOfStyles(t *testing.T) {
	dir := t.TempDir()
	plain := filepath.Join(dir, "plain.xlsx")
	alone := sampleOf(t, []string{"A"}) // one scenario has the formats of three
	saveTables(t, alone, plain)
	paths := []string{plain}
	for _, requires := range []string{"x14ac", "zz"} {
		path := filepath.Join(dir, requires+".xlsx")
		saveTables(t, alone, path)
		alternatives(t, path, requires)
		paths = append(paths, path)
	}
	for _, path := range paths {
		writeLive(t, path)
	}
	want := shownCells(t, plain)
	if want["Summary!B7"] == "" || len(want) < 500 {
		t.Fatalf("%d cells, %q", len(want), want["Summary!B7"])
	}
	for _, path := range paths[1:] {
		compareShown(t, "the library, "+filepath.Base(path), want, shownCells(t, path))
	}
	t.Run("gnumeric", func(t *testing.T) {
		if _, err := exec.LookPath("ssconvert"); err != nil {
			t.Skip("gnumeric is not installed (Debian: gnumeric); the formats are NOT read by it")
		}
		shown := func(path string) map[string]string {
			out := filepath.Join(t.TempDir(), "out.xlsx")
			if said, err := exec.Command("ssconvert", path, out).CombinedOutput(); err != nil {
				t.Fatalf("ssconvert: %v: %s", err, said)
			}
			return shownCells(t, out)
		}
		plainly := shown(plain)
		for _, path := range paths[1:] {
			compareShown(t, "gnumeric, "+filepath.Base(path), plainly, shown(path))
		}
	})
	t.Run("LibreOffice", func(t *testing.T) {
		if !*officeFiles {
			t.Skip("LibreOffice takes long to write two workbooks again; it does so with -office-files, as in make check")
		}
		out := convert(t, "xlsx", paths...)
		shown := shownCells(t, filepath.Join(out, "plain.xlsx"))
		for _, path := range paths[1:] {
			compareShown(t, "LibreOffice, "+filepath.Base(path), shown, shownCells(t, filepath.Join(out, filepath.Base(path))))
		}
	})
}

func compareShown(t *testing.T, who string, want, got map[string]string) {
	t.Helper()
	differ := 0
	for _, at := range sortedKeys(want) {
		if got[at] != want[at] {
			if differ++; differ < 5 {
				t.Errorf("%s: %s shows %q, want %q", who, at, got[at], want[at])
			}
		}
	}
	if differ > 0 || len(got) != len(want) {
		t.Errorf("%s: %d of %d cells differ; %d are there", who, differ, len(want), len(got))
	}
}
