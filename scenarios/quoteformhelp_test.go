package scenarios

import (
	"archive/zip"
	"encoding/csv"
	"fmt"
	"io"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"
)

// unpacked is the text of all parts of a workbook, with their names.
func unpacked(t *testing.T, path string) string {
	t.Helper()
	z, err := zip.OpenReader(path)
	if err != nil {
		t.Fatal(err)
	}
	defer z.Close()
	var b strings.Builder
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		fmt.Fprintf(&b, "\n%s\n%s", f.Name, data)
	}
	return b.String()
}

// plantedFiles are the sample's tables with a word or a number of its own in every cell that a supplier is not told: words in all other cells of
// words, numbers in a column of the user's own and in those that may be anything. It returns what was planted.
func plantedFiles(t *testing.T) (fstest.MapFS, []string) {
	t.Helper()
	files := sampleFiles(t)
	var planted []string
	word := func() string {
		w := fmt.Sprintf("zqmark%03d", len(planted))
		planted = append(planted, w)
		return w
	}
	number := func() string {
		n := fmt.Sprintf("7%04d.31", len(planted)+1000)
		planted = append(planted, n, strings.TrimSuffix(n, "1"))
		return n
	}
	changes := map[string]func(rows [][]string){
		"materials.csv": func(rows [][]string) {
			for i, r := range rows[1:] {
				if r[0] != "M07" {
					rows[i+1][1] = word()
				}
				rows[i+1][4], rows[i+1][5], rows[i+1][8] = number(), number(), word()
			}
		},
		"machines.csv": func(rows [][]string) {
			for i := range rows[1:] {
				rows[i+1][1], rows[i+1][3] = word(), number()
			}
		},
		"case.csv": func(rows [][]string) {
			rows[1][2], rows[2][2], rows[3][2] = word(), word(), word()
		},
		"quotes.csv": func(rows [][]string) {
			for i, r := range rows[1:] {
				switch r[0] {
				case "Price", "Tools paid", "Freight", "Packaging", "Loading and export":
					for c := 2; c < len(r); c++ {
						if rows[i+1][c] != "" || r[0] != "Price" {
							rows[i+1][c] = number()
						}
					}
				case "Supplier":
					rows[i+1][3], rows[i+1][4], rows[i+1][5] = word(), word(), word()
				case "Peak factor":
					rows[i+1][2] = "1.0931"
					planted = append(planted, "1.0931")
				}
			}
		},
		"quote_lines.csv": func(rows [][]string) {
			for i := range rows[1:] {
				rows[i+1][5], rows[i+1][20] = word(), number()
			}
		},
	}
	for _, name := range slices.Sorted(maps.Keys(changes)) {
		rows, err := csv.NewReader(strings.NewReader(string(files[name].Data))).ReadAll()
		if err != nil {
			t.Fatal(err)
		}
		changes[name](rows)
		var b strings.Builder
		if err := csv.NewWriter(&b).WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		files[name] = &fstest.MapFile{Data: []byte(b.String())}
	}
	target := "Quantity,Part,Unit,Direction,Target,Note\nPiece cost,B05,EUR,at most," + number() + "," + word() + "\n"
	files["targets.csv"] = &fstest.MapFile{Data: []byte(target)}
	return files, planted
}
