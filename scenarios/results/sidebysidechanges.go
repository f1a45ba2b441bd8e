package results

import (
	"fmt"
	"math"
	"strings"

	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/scenarios/sheet"
)

// changes writes what each other scenario has more than the base, as formulas; NaN is a row that a scenario does not have.
func (s *sideBySide) changes(row int, kind, format string, nums []float64) {
	base := fmt.Sprintf("%s%d", costmodel.ColumnName(3+s.c.Base), row)
	k, digits := sheet.Look{Kind: kind, Format: signedFormat(format)}, decimalsOf(format)
	for n, i := range s.others() {
		if math.IsNaN(nums[i]) && math.IsNaN(nums[s.c.Base]) {
			s.p.Set(row, 3+s.n+n, nil, k)
			continue
		}
		f := fmt.Sprintf("%s%d-%s", costmodel.ColumnName(3+i), row, base)
		s.p.Formula(row, 3+s.n+n, fmt.Sprintf("IF(ROUND(%s,%d)=0,0,%s)", f, digits, f), shownChange(study.Row{Values: nums}.Change(i, s.c.Base), digits), k)
	}
}

// shownChange is a change, or 0 where it is nothing at the decimals shown: the format then shows a dash and not -0.00.
func shownChange(v float64, digits int) float64 {
	if p := math.Pow10(digits); math.Round(v*p) == 0 {
		return 0
	}
	return v
}

// decimalsOf is the number of decimals that a number format shows.
func decimalsOf(format string) int {
	first, _, _ := strings.Cut(format, ";")
	_, decimals, _ := strings.Cut(first, ".")
	return strings.Count(decimals, "0") + strings.Count(decimals, "#")
}

// signedFormat shows the sign of a change.
func signedFormat(format string) string {
	positive, _, _ := strings.Cut(format, ";")
	return "+" + positive + ";-" + positive + `;"–"`
}
