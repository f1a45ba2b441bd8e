package quote

import (
	"fmt"
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"
	"time"

	"piececost/costmodel"
	"piececost/costmodel/table"
)

// A month counts from the year 0: 12 x year + month - 1.
type month int

// parseMonths reads 2025-03, 2025-03-14 or 2025-Q1 as the months that it means: three of a quarter.
func parseMonths(text string) (list []month, ok bool) {
	text = strings.TrimSpace(text)
	year, rest, cut := strings.Cut(text, "-")
	y, err := strconv.Atoi(year)
	if !cut || err != nil || y < 1900 || y > 2200 {
		return nil, false
	}
	if q, quarter := strings.CutPrefix(strings.ToUpper(rest), "Q"); quarter {
		n, err := strconv.Atoi(q)
		if err != nil || n < 1 || n > 4 {
			return nil, false
		}
		first := month(12*y + 3*(n-1))
		return []month{first, first + 1, first + 2}, true
	}
	m, day, _ := strings.Cut(rest, "-")
	n, err := strconv.Atoi(m)
	if err != nil || n < 1 || n > 12 {
		return nil, false
	}
	if day != "" {
		if _, err := time.Parse("2006-01-02", text[:min(len(text), 10)]); err != nil {
			return nil, false
		}
	}
	return []month{month(12*y + n - 1)}, true
}

// parseDate reads 2025-03-14.
func parseDate(text string) (time.Time, bool) {
	text = strings.TrimSpace(text)
	t, err := time.Parse("2006-01-02", text[:min(len(text), 10)])
	return t, err == nil
}

// monthPrices are the prices of the sheet Price months, by grade and month.
type monthPrices map[string][]monthPrice

type monthPrice struct {
	month       month
	base, scrap figure // model currency per kg
}

// readMonths reads the sheet Price months; what can't be read is reported at its cell.
func readMonths(q *costmodel.Quotes, ds *table.Diagnostics) monthPrices {
	out := monthPrices{}
	t := q.Model.Case.Table("Price months")
	if t == nil {
		return out
	}
	for _, row := range t.Rows {
		grade := t.TextAt(row, "material")
		if grade == "" {
			continue
		}
		at := t.ValueAt(row, "month")
		months, ok := parseMonths(at.Text)
		if !ok || len(months) != 1 {
			ds.Add("month", at.Place, fmt.Sprintf("%q is no month", table.Shortened(at.Text)), "write it as 2025-03")
			continue
		}
		base, ok1 := moneyPerKg(q, t, row, "base_price", ds)
		scrap, ok2 := moneyPerKg(q, t, row, "scrap_price", ds)
		if ok1 && ok2 {
			out[grade] = append(out[grade], monthPrice{months[0], base, scrap})
		}
	}
	for _, grade := range slices.Sorted(maps.Keys(out)) {
		list := out[grade]
		sort.SliceStable(list, func(i, j int) bool { return list[i].month < list[j].month })
	}
	return out
}

// at is the price in a month, or in the last earlier one that the sheet has; ok is false where there is none. Of a quarter it is the mean
// of its months.
func (p monthPrices) at(grade string, months []month) (base, scrap figure, ok bool) {
	if len(months) == 0 {
		return base, scrap, false
	}
	for _, m := range months {
		list := p[grade]
		i := sort.Search(len(list), func(i int) bool { return list[i].month > m })
		if i == 0 {
			return base, scrap, false
		}
		base.add(list[i-1].base, 1/float64(len(months)))
		scrap.add(list[i-1].scrap, 1/float64(len(months)))
	}
	return base, scrap, true
}
