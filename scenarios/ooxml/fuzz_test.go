package ooxml

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"errors"
	"flag"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"os/exec"
	"runtime"
	"runtime/debug"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"
)

// More seeds of the three targets lie in testdata/fuzz, named by what they are about.

// FuzzSheet takes any bytes for a sheet: no panic, one line of error, cells inside the sheet, and formulas only where
// there is one.
func FuzzSheet(f *testing.F) {
	f.Add([]byte(plainSheet))
	f.Add([]byte("\xFF\xFE" + utf16Bytes(plainSheet, 0, 1)))
	f.Fuzz(func(t *testing.T, part []byte) {
		p := Package{strings: []string{"zero", "one"}}
		g, err := p.scanSheet(utf8Of(part))
		checkLine(t, "sheet", err)
		if err == nil {
			checkGrid(t, g)
		}
	})
}

func checkGrid(t *testing.T, g *Grid) {
	t.Helper()
	for _, c := range g.Cells {
		if c.Row < 1 || c.Row > maxRow || c.Col < 1 || c.Col > maxCol {
			t.Fatalf("a cell outside the sheet: %+v", c)
		}
		if !c.HasValue && (c.Formula == "" || c.Value != "") {
			t.Fatalf("an empty cell, or a value that is none: %+v", c)
		}
	}
}

// FuzzShift: a shift by nothing changes no more than case and leading zeros, two shifts are one, and the way back leads
// home where no reference has left the sheet.
func FuzzShift(f *testing.F) {
	f.Fuzz(func(t *testing.T, formula string, rows, cols int) {
		rows, cols = rows%(2*maxRow), cols%(2*maxCol)
		still := Shift(formula, 0, 0)
		if again := Shift(still, 0, 0); again != still {
			t.Errorf("%q by nothing is %q, then %q", formula, still, again)
		}
		there := Shift(formula, rows, cols)
		if strings.Count(there, lost) > strings.Count(formula, lost) {
			return
		}
		if back := Shift(there, -rows, -cols); back != still {
			t.Errorf("%q by %d, %d is %q, and back %q", formula, rows, cols, there, back)
		}
	})
}

// FuzzOpen takes any bytes for a package and reads all its sheets.
func FuzzOpen(f *testing.F) {
	f.Add(packageOf(f, plainSheet))
	f.Add(stored(f, plainSheet))
	f.Add([]byte("\xD0\xCF\x11\xE0\xA1\xB1\x1A\xE1" + utf16Bytes("EncryptedPackage", 0, 1)))
	f.Add(zipped(f, "a.xml", "", `\A.xml`, ""))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := Open(bytes.NewReader(data), int64(len(data)))
		checkLine(t, "package", err)
		if err != nil {
			return
		}
		for i := range p.Sheets {
			g, err := p.Read(&p.Sheets[i])
			checkLine(t, "sheet", err)
			if err == nil {
				checkGrid(t, g)
			}
		}
	})
}

// stored is packageOf without compression and checksums (a checksum of 0 is none), so that fuzzing meets the XML itself.
func stored(t testing.TB, sheet string) []byte {
	packed := packageOf(t, sheet)
	in, err := zip.NewReader(bytes.NewReader(packed), int64(len(packed)))
	if err != nil {
		t.Fatal(err)
	}
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	for _, f := range in.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		w, _ := z.CreateRaw(&zip.FileHeader{Name: f.Name, Method: zip.Store, CompressedSize64: f.UncompressedSize64, UncompressedSize64: f.UncompressedSize64})
		io.Copy(w, r)
	}
	z.Close()
	return out.Bytes()
}

type bomb struct {
	name, want string // want: how the error begins, "" for a workbook that is read
	make       func(testing.TB) []byte
}

// allBombs tries those too that take seconds and come near another that is tried.
var allBombs = flag.Bool("all-bombs", false, "TestBombs opens all of its packages, as in make check")

// nearAnother are bombs that only -all-bombs makes: the same bounds of memory are come to by another that is made in every test.
var nearAnother = []string{"190 MB of shared texts and a sheet of 190 MB", "190 MB in texts of entities", "3 million numbers of 17 digits",
	"a million numbers of shared formulas", "3 million cells of shared formulas without a text"}

// bombs are packages that are small and unfold to much. Each is opened in a process of its own.
var bombs = []bomb{
	{"a sheet of 300 MB that says so", "the part xl/worksheets/sheet1.xml unpacks to 300 MB, more than 192 MB", func(t testing.TB) []byte {
		return zeros(t, 300<<20, 300<<20)
	}},
	{"a sheet of 300 MB that says 1 kB", "the part xl/worksheets/sheet1.xml is broken", func(t testing.TB) []byte { return zeros(t, 300<<20, 1000) }},
	{"a sheet of 1 kB that says 190 MB", "the part xl/worksheets/sheet1.xml is broken", func(t testing.TB) []byte { return zeros(t, 1000, 190<<20) }},
	{"a cell of 120 MB", "the sheet Plan is broken: a text of it is longer than 16 MB", func(t testing.TB) []byte {
		return ofSheet(t, `<worksheet><row><c t="str"><v>`, "x", 120<<20, "</v></c></row></worksheet>")
	}},
	{"a cell of 15 MB", "", func(t testing.TB) []byte {
		return ofSheet(t, `<worksheet><row><c t="str"><v>`, "x", 15<<20, "</v></c></row></worksheet>")
	}},
	{"a million cells in a row", "the sheet Plan is broken: a cell at row 1, column 16385", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet><row>", "<c><v>1</v></c>", 1_000_000, "</row></worksheet>")
	}},
	{"more cells than allowed", "the sheet Plan is broken: it has more than 3000000 filled cells", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>", "<row><c><v>1</v></c><c><v>2</v></c><c><v>3</v></c><c><v>4</v></c></row>", MaxCells/4+1, "</worksheet>")
	}},
	{"a shared formula of 8 kB in 50,000 cells", "the sheet Plan is broken: its shared formulas unfold to more than 64 MB", func(t testing.TB) []byte {
		return ofSheet(t, `<worksheet><row><c><f t="shared" ref="A1:A9" si="0">`+strings.Repeat("A1+", 2700)+`1</f></c></row>`,
			`<row><c><f t="shared" si="0"/></c></row>`, 50_000, "</worksheet>")
	}},
	{"a sheet nested a million deep", "", func(t testing.TB) []byte {
		return ofSheet(t, "<worksheet>"+strings.Repeat("<a>", 1_000_000), "</a>", 1_000_000, "</worksheet>")
	}},
	{"an entity bomb", "the sheet Plan is broken: it holds a document type", func(t testing.TB) []byte {
		return ofSheet(t, `<!DOCTYPE w [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]><worksheet><c t="str"><v>`, "&b;", 100,
			"</v></c></worksheet>")
	}},
	{"more shared texts than allowed", "the part xl/sharedStrings.xml has more than 3000000 texts", func(t testing.TB) []byte {
		return ofPart(t, "xl/sharedStrings.xml", "<sst>", "<si/>", MaxCells+1, "</sst>")
	}},
	{"a hundred thousand sheets", "it lists more than 20000 sheets", func(t testing.TB) []byte {
		return ofPart(t, "xl/workbook.xml", "<workbook>", `<sheet name="a" r:id="rId1"/>`, 100_000, "</workbook>")
	}},
	{"a million relations", "the part xl/_rels/workbook.xml.rels has more than 100000 relations", func(t testing.TB) []byte {
		return ofPart(t, "xl/_rels/workbook.xml.rels", "<R>", `<Relationship/>`, 1_000_000, "</R>")
	}},
	{"more number formats than allowed", "the part xl/styles.xml has more than 1048576 styles", func(t testing.TB) []byte {
		var b strings.Builder
		for i := range maxStyles + 1 {
			fmt.Fprintf(&b, `<numFmt formatCode="" numFmtId="%d"/>`, i)
		}
		return ofPart(t, "xl/styles.xml", "<styleSheet>", b.String(), 1, "</styleSheet>")
	}},
	{"thirty thousand parts", "it has 30000 parts, more than 20000", func(t testing.TB) []byte {
		more := make([]string, 0, 60_000)
		for i := range 30_000 {
			more = append(more, strconv.Itoa(i), "")
		}
		return zipped(t, more...)
	}},
}

// zeros is a workbook whose sheet is so many zero bytes and is said to be so long.
func zeros(t testing.TB, size int, declared uint64) []byte {
	sum := crc32.NewIEEE()
	var packed bytes.Buffer
	deflate, _ := flate.NewWriter(&packed, flate.BestSpeed)
	block := make([]byte, 1<<20)
	for left := size; left > 0; left -= len(block) {
		block = block[:min(left, len(block))]
		deflate.Write(block)
		sum.Write(block)
	}
	deflate.Close()
	var out bytes.Buffer
	z := zip.NewWriter(&out)
	plain := packageOf(t, absent)
	in, _ := zip.NewReader(bytes.NewReader(plain), int64(len(plain)))
	for _, f := range in.File {
		z.Copy(f)
	}
	w, _ := z.CreateRaw(&zip.FileHeader{Name: "xl/worksheets/sheet1.xml", Method: zip.Deflate, CRC32: sum.Sum32(), CompressedSize64: uint64(packed.Len()),
		UncompressedSize64: declared})
	w.Write(packed.Bytes())
	z.Close()
	return out.Bytes()
}

func ofSheet(t testing.TB, before, repeated string, times int, after string) []byte {
	return ofPart(t, "xl/worksheets/sheet1.xml", before, repeated, times, after)
}

func ofPart(t testing.TB, name, before, repeated string, times int, after string) []byte {
	return packageOf(t, plainSheet, name, before+strings.Repeat(repeated, times)+after)
}

// most is what reading a bomb may take of the machine's memory.
const most = 512 << 20

// TestBombs opens each bomb in a child process, whose peak memory is measured; the package itself is in a file, for
// making it takes more memory than reading it should.
func TestBombs(t *testing.T) {
	if path := os.Getenv("BOMB"); path != "" {
		readBomb(path)
		return
	}
	if raceDetector() {
		t.Skip("NOT run: the race detector multiplies the memory that this test measures")
	}
	for _, b := range slices.Concat(bombs, together) {
		if !*allBombs && slices.Contains(nearAnother, b.name) {
			continue
		}
		t.Run(b.name, func(t *testing.T) {
			path := t.TempDir() + "/bomb.xlsx"
			if err := os.WriteFile(path, b.make(t), 0o600); err != nil {
				t.Fatal(err)
			}
			child := exec.Command(os.Args[0], "-test.run=^TestBombs$")
			child.Env = append(os.Environ(), "BOMB="+path)
			began := time.Now()
			out, err := child.Output()
			if err != nil {
				t.Fatalf("the child failed: %v\n%.500s", err, out)
			}
			peak, said, _ := strings.Cut(strings.SplitN(string(out), "\n", 2)[0], " ")
			bytes, err := strconv.Atoi(peak)
			if err != nil || bytes > most {
				t.Errorf("it took %d MB, more than %d MB (%v)", bytes>>20, most>>20, err)
			}
			if !strings.HasPrefix(said, b.want) || (b.want == "") != (said == "") {
				t.Errorf("it says %q, want %q", said, b.want)
			}
			t.Logf("%d MB, %v", bytes>>20, time.Since(began).Round(time.Millisecond))
		})
	}
}

// TestLyingSize: no memory is set aside for a size that the packed bytes can't unpack to.
func TestLyingSize(t *testing.T) {
	data := zeros(t, 1000, 190<<20)
	p, err := Open(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		t.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	_, err = p.Read(&p.Sheets[0])
	runtime.ReadMemStats(&after)
	checkError(t, "a lying size", err, "the part xl/worksheets/sheet1.xml is broken")
	if taken := after.TotalAlloc - before.TotalAlloc; taken > 4<<20 {
		t.Errorf("%d MB set aside for %d bytes", taken>>20, len(data))
	}
}

// readBomb prints the peak memory in bytes and the error, on one line.
func readBomb(path string) {
	f, err := os.Open(path)
	if err == nil {
		defer f.Close()
		info, _ := f.Stat()
		var p *Package
		if p, err = Open(f, info.Size()); err == nil {
			_, err = p.Read(&p.Sheets[0])
		}
	}
	if err == nil {
		err = errNone
	}
	fmt.Println(peakMemory(), err)
}

var errNone = errors.New("")

// peakMemory is the most that the process has held, where the system tells; else what the Go runtime has taken from it.
func peakMemory() int {
	status, _ := os.ReadFile("/proc/self/status")
	for _, line := range strings.Split(string(status), "\n") {
		if kb, ok := strings.CutPrefix(line, "VmHWM:"); ok {
			if n, err := strconv.Atoi(strings.Fields(kb)[0]); err == nil {
				return n << 10
			}
		}
	}
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return int(m.Sys)
}

func raceDetector() bool {
	info, ok := debug.ReadBuildInfo()
	return ok && slices.Contains(info.Settings, debug.BuildSetting{Key: "-race", Value: "true"})
}
