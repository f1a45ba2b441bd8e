package scenarios

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime/debug"
	"strconv"
	"strings"
	"testing"
	"unicode/utf16"

	"piececost/costmodel"
)

const hostileEnv = "PIECECOST_HOSTILE_FILE"

// TestMain reads one file where it is asked to: the process whose memory TestHostileFiles measures.
func TestMain(m *testing.M) {
	path := os.Getenv(hostileEnv)
	if path == "" {
		debug.SetMemoryLimit(3 << 30)
		debug.SetGCPercent(1200) // memory is there for tests, and a collection less is time; TestLarge, which shows memory, sets it back
		os.Exit(m.Run())
	}
	if c, err := Read(path); err != nil {
		fmt.Println(err)
	} else {
		fmt.Println(costmodel.New(c, &costmodel.Library{}).Diagnostics.Sorted()[0])
	}
	status, _ := os.ReadFile("/proc/self/status")
	os.Stderr.Write(status)
	os.Exit(0)
}

// sheetOf wraps rows into a sheet.
func sheetOf(rows string) string {
	return `<worksheet xmlns="http://schemas.openxmlformats.org/spreadsheetml/2006/main"><sheetData>` + rows + `</sheetData></worksheet>`
}

// hostileBook is a workbook whose sheet Parts has the given XML, and other parts beside it.
func hostileBook(t testing.TB, sheet string, more map[string]string) []byte {
	t.Helper()
	parts := map[string]string{
		"[Content_Types].xml": `<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>`,
		"_rels/.rels": `<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Id="r" ` +
			`Type="http://schemas.openxmlformats.org/officeDocument/2006/relationships/officeDocument" Target="xl/workbook.xml"/></Relationships>`,
		"xl/workbook.xml": `<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet ` +
			`name="Parts" sheetId="1" r:id="a"/></sheets></workbook>`,
		"xl/_rels/workbook.xml.rels": `<Relationships><Relationship Id="a" Type="x/worksheet" Target="worksheets/s.xml"/><Relationship Id="b" ` +
			`Type="x/sharedStrings" Target="strings.xml"/></Relationships>`,
		"xl/worksheets/s.xml": sheet,
		"xl/strings.xml":      `<sst/>`,
	}
	for name, text := range more {
		parts[name] = text
	}
	var buf bytes.Buffer
	z := zipAt(&buf, flate.BestSpeed)
	for name, text := range parts {
		w, err := z.Create(name)
		if err == nil {
			_, err = io.WriteString(w, text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// compoundOf is the head of a compound file with a stream of a name.
func compoundOf(stream string) []byte {
	out := append([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1"), make([]byte, 1024)...)
	for _, u := range utf16.Encode([]rune(stream)) {
		out = append(out, byte(u), byte(u>>8))
	}
	return append(out, make([]byte, 4096)...)
}

const heading = `<row r="1"><c r="A1" t="str"><v>Part</v></c><c r="B1" t="str"><v>Gauge [mm]</v></c></row>`

// manyRows repeats a row with its number in place of #.
func manyRows(n int, row string) string {
	var b strings.Builder
	for i := 2; i < n+2; i++ {
		b.WriteString(strings.ReplaceAll(row, "#", fmt.Sprint(i)))
	}
	return b.String()
}

// manyParts is a zip of many empty entries, or of the same ones again.
func manyParts(t testing.TB, n int, name string) []byte {
	t.Helper()
	var buf bytes.Buffer
	z := zip.NewWriter(&buf)
	for i := range n {
		if _, err := z.Create(strings.ReplaceAll(name, "#", fmt.Sprint(i))); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return buf.Bytes()
}

// TestHostileFiles reads each file in a process of its own: one clear line, no panic, less than 512 MB.
func TestHostileFiles(t *testing.T) {
	nested := strings.Repeat("(", 1e6) + "1" + strings.Repeat(")", 1e6)
	for _, c := range []struct {
		name string
		data []byte
		want string
	}{
		{"a renamed PDF", []byte("%PDF-1.7\n%..."), "is a PDF, not an .xlsx workbook"},
		{"an old workbook", compoundOf("Workbook"), "old binary kind (.xls)"},
		{"a password", compoundOf("EncryptedPackage"), "is protected by a password"},
		{"words", []byte("Part,Gauge\n"), "is no zip package"},
		{"a broken zip", []byte("PK\x03\x04 and no more"), "it is no zip package, or a broken one"},
		{"60,000 parts", manyParts(t, 60000, "x/#.xml"), "parts, more than"},
		{"a part twice", manyParts(t, 2, "xl/workbook.xml"), "twice"},
		{"names that lead out", manyParts(t, 3, "../../../etc/#"), "it has no workbook part"},
		{"a sheet of 2 GB", hostileBook(t, sheetOf(heading+strings.Repeat(" ", 300<<20)), nil), "unpacks to"},
		{"shared texts of 300 MB", hostileBook(t, sheetOf(heading), map[string]string{"xl/strings.xml": "<sst>" + strings.Repeat(" ", 300<<20) + "</sst>"}),
			"unpacks to"},
		{"an image of 300 MB", hostileBook(t, sheetOf(heading), map[string]string{"xl/media/image1.png": strings.Repeat("\x00", 300<<20)}), ""},
		{"an entity bomb", hostileBook(t, `<!DOCTYPE x [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;">]>`+sheetOf(heading), nil), "it holds a document type"},
		{"deep nesting", hostileBook(t, strings.Repeat("<a>", 1e6), nil), "Parts"},
		{"a column beyond the last", hostileBook(t, sheetOf(heading+`<row r="2"><c r="XFE2"><v>1</v></c></row>`), nil), "a cell at row 2, column 16385"},
		{"a million columns", hostileBook(t, sheetOf(heading+`<row r="2">`+strings.Repeat(`<c><v>1</v></c>`, 1e6)+`</row>`), nil),
			"a cell at row 2, column 16385"},
		{"the last cell", hostileBook(t, sheetOf(heading+`<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>`), nil), ""},
		{"a formula of 10^6 brackets", hostileBook(t, sheetOf(heading+`<row r="2"><c r="A2" t="str"><v>P</v></c><c r="B2"><f>`+nested+`</f></c></row>`),
			nil), ""},
		{"a text of 10^6 brackets", hostileBook(t, sheetOf(heading+`<row r="2"><c r="A2" t="str"><v>P</v></c><c r="B2" t="str"><v>=`+nested+
			`</v></c></row>`), nil), ""},
		{"formulas in a circle", hostileBook(t, sheetOf(heading+manyRows(5000, `<row r="#"><c r="A#" t="str"><v>P#</v></c><c `+
			`r="B#"><f>B#+B2+B5001</f></c></row>`)), nil), ""},
		{"two sheets but for case", hostileBook(t, sheetOf(heading),
			map[string]string{
				"xl/workbook.xml": `<workbook xmlns:r="http://schemas.openxmlformats.org/officeDocument/2006/relationships"><sheets><sheet ` +
					`name="Parts" sheetId="1" r:id="a"/><sheet name="PARTS" sheetId="2" r:id="a"/></sheets></workbook>`}),
			`it has two sheets "Parts" and "PARTS"`},
		{"texts and cells without end", hostileBook(t, sheetOf(heading+manyRows(400000, `<row r="#"><c r="A#" t="s"><v>7</v></c><c r="B#" `+
			`t="str"><v>text # of no use</v></c></row>`)), map[string]string{"xl/strings.xml": "<sst>" + strings.Repeat("<si><t>"+strings.Repeat("x", 100)+
			"</t></si>", 1e6) + "</sst>"}), "more than can be read; split the case"},
		{"as many texts and cells as are read",
			hostileBook(t, sheetOf(heading+manyRows(120000, `<row r="#"><c r="A#" t="s"><v>7</v></c><c r="B#" t="str"><v>text # of no use</v></c></row>`)),
				map[string]string{"xl/strings.xml": "<sst>" + strings.Repeat("<si><t>"+strings.Repeat("x", 100)+"</t></si>", 1e6) + "</sst>"}), ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			path := filepath.Join(t.TempDir(), "hostile.xlsx")
			if err := os.WriteFile(path, c.data, 0o644); err != nil {
				t.Fatal(err)
			}
			line, most := readApart(t, path)
			if strings.Count(line, "\n") != 1 || !strings.Contains(line, c.want) || strings.Contains(line, "goroutine") || len(line) > 1000 {
				t.Errorf("it says %.600q, want %q", line, c.want)
			}
			if most > 512<<20 {
				t.Errorf("reading took %d MB", most>>20)
			}
		})
	}
	t.Run("a folder", func(t *testing.T) {
		if _, err := Read(t.TempDir()); err == nil || !strings.Contains(err.Error(), "is a folder, not a workbook") {
			t.Error(err)
		}
	})
}

var peakMemory = regexp.MustCompile(`VmHWM:\s+(\d+) kB`)

// readApart reads a file in another process and returns what it says and the most memory it held (0 where the system does
// not tell).
func readApart(t *testing.T, path string) (line string, most int) {
	t.Helper()
	cmd := exec.Command(os.Args[0])
	cmd.Env = append(os.Environ(), hostileEnv+"="+path, "GOGC=100") // the collector as in the program: what reading takes is measured
	var out, status bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &status
	if err := cmd.Run(); err != nil {
		t.Errorf("%v: %.2000s", err, status.String())
	}
	if m := peakMemory.FindStringSubmatch(status.String()); m != nil {
		most, _ = strconv.Atoi(m[1])
	}
	return out.String(), most << 10
}
