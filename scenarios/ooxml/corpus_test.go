package ooxml

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"github.com/xuri/excelize/v2"
)

func TestSurvey(t *testing.T) {
	files, _ := filepath.Glob("../../../shared/corpus/*.xls*")
	n := 0
	for _, f := range files {
		data, _ := os.ReadFile(f)
		p, err := Open(bytes.NewReader(data), int64(len(data)))
		lib, lerr := excelize.OpenFile(f, excelize.Options{RawCellValue: true})
		if err != nil || lerr != nil {
			fmt.Println("OPEN", filepath.Base(f), "|", err, "|", lerr)
			continue
		}
		diff := 0
		for i := range p.Sheets {
			s := &p.Sheets[i]
			g, err := p.Read(s)
			if err != nil {
				fmt.Println("READ", filepath.Base(f), s.Name, err)
				continue
			}
			if s.Kind != "worksheet" {
				fmt.Println("KIND", filepath.Base(f), s.Name, s.Kind, s.part)
				continue
			}
			for _, c := range g.Cells {
				n++
				ref, _ := excelize.CoordinatesToCellName(c.Col, c.Row)
				v, e1 := lib.GetCellValue(s.Name, ref)
				fx, e2 := lib.GetCellFormula(s.Name, ref)
				if v != c.Value || fx != c.Formula || e1 != nil || e2 != nil {
					if diff++; diff <= 8 {
						fmt.Printf("DIFF %s %s!%s %c %q %q | %q %q %v %v\n", filepath.Base(f), s.Name, ref, c.Type, c.Value, c.Formula, v, fx, e1, e2)
					}
				}
			}
			rows, err := lib.Rows(s.Name)
			if err != nil {
				fmt.Println("ROWS", filepath.Base(f), s.Name, err)
				continue
			}
			have := map[[2]int]string{}
			for _, c := range g.Cells {
				have[[2]int{c.Row, c.Col}] = c.Value
			}
			for r := 1; rows.Next(); r++ {
				cols, err := rows.Columns()
				if err != nil {
					fmt.Println("COLS", filepath.Base(f), s.Name, err)
				}
				for c, v := range cols {
					if v != have[[2]int{r, c + 1}] {
						if diff++; diff <= 8 {
							fmt.Printf("ROWS %s %s!%d,%d %q | %q\n", filepath.Base(f), s.Name, r, c+1, have[[2]int{r, c + 1}], v)
						}
					}
				}
			}
		}
		if diff > 8 {
			fmt.Println("   ...", diff)
		}
		lib.Close()
	}
	fmt.Println(len(files), n)
}
