package scenarios

import (
	"fmt"
	"os"
	"strconv"
	"testing"
	"time"
)

func TestScratch(t *testing.T) {
	from, _ := strconv.Atoi(os.Getenv("FROM"))
	to, _ := strconv.Atoi(os.Getenv("TO"))
	for seed := from; seed < to; seed++ {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			path := fmt.Sprintf("/tmp/gen/case%03d.xlsx", seed)
			t0 := time.Now()
			g := drawCase(uint64(seed), 0)
			if os.Getenv("DUMP") != "" {
				for k, v := range g.s.files(t) {
					fmt.Printf("-- %s --\n%s", k, v.Data)
				}
			}
			writeDrawn(t, uint64(seed), path)
			t1 := time.Now()
			n := len(calculatedCells(t, path))
			t2 := time.Now()
			checkFormulas(t, path)
			t.Log(n, t1.Sub(t0), t2.Sub(t1), time.Since(t2))
		})
	}
}
