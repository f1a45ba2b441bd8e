package study_test

import (
	"fmt"
	"strings"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// largeVolumeTables are the sample's tables with invented parts added to all three trays, two steps each in small batches,
// so that some set-up comes on top at almost every volume.
func largeVolumeTables(t testing.TB, parts int) volumeTables {
	t.Helper()
	tables := sampleVolumeTables(t)
	var list, bill, steps strings.Builder
	for i := range parts {
		key := fmt.Sprintf("N%04d", i)
		fmt.Fprintf(&list, "%s,added bracket,,sheet,M%02d,%.2f,%d,%d,,90,%d,,,invented\n", key, 1+i%6, 0.8+float64(i%10)/10, 60+i%50, 40+i%30, 5+i%20)
		for _, tray := range []string{"TRAY_A", "TRAY_B", "TRAY_C"} {
			fmt.Fprintf(&bill, "%s,%s,1,10,,invented\n", tray, key)
		}
		fmt.Fprintf(&steps, "%s,10,form,progressive die forming,E%02d,,,%.1f,,,,,,%.1f,%d,%d,%d,%d,,,0.01,invented,\n",
			key, 2+i%4, 0.5+float64(i%7)/10, float64(i%5)/2, 10+i%30, 60+35*(i%40), 20_000+1000*(i%50), 400_000+10_000*(i%90))
		fmt.Fprintf(&steps, "%s,20,join,timed operation,E%02d,,,%.1f,,,,,,%.1f,%d,%d,%d,%d,,,0.01,invented,\n",
			key, 11+i%4, 2+float64(i%9)/2, float64(i%3)/2, 5+i%20, 90+47*(i%30), 5000+100*(i%60), 300_000+7000*(i%80))
	}
	tables["Parts"] += list.String()
	tables["Bill of materials"] += bill.String()
	tables["Operations"] += steps.String()
	return tables
}

// TestCrossoversOfManySteps: the two ways agree where jumps are so many that the search by pieces gives up at most places,
// and where as many jumps fall together so that it does not.
func TestCrossoversOfManySteps(t *testing.T) {
	apart := largeVolumeTables(t, 60)
	together := largeVolumeTables(t, 60)
	// batches of as good as 1,000 pieces each, next to no reject: hundreds of counts that are registers of their own and
	// jump at the same volumes
	rows := ""
	for _, change := range []string{"Batch size,1000 + base * 0.000000001", "Reject rate,base * 0.000000001"} {
		column, value, _ := strings.Cut(change, ",")
		rows += "Operations,*," + column + strings.Repeat(","+value, 3) + ",\n"
	}
	together["Scenarios"] = strings.Replace(together["Scenarios"], ",,Description", rows+",,Description", 1)
	for _, c := range []struct {
		name        string
		tables      volumeTables
		least, most int // volumes looked at, of 30,000
	}{{"apart", apart, 25_000, 30_000}, {"together", together, 100, 6_000}} {
		found, looked := bothWays(t, c.name, c.tables.plans(t, costmodel.CompileOptions{}), study.CrossoverAsk{From: 20_001, To: 50_000, Tolerance: 0.005})
		changes, bands := 0, 0
		for _, p := range found.Pairs {
			changes, bands = changes+len(p.Changes), bands+len(p.Bands)
		}
		t.Logf("%s: looked at %d volumes; %d changes, %d bands", c.name, looked, changes, bands)
		if looked < c.least || looked > c.most || changes < 3 || bands < 2 {
			t.Errorf("%s: looked at %d volumes, want %d to %d; %d changes, %d bands", c.name, looked, c.least, c.most, changes, bands)
		}
	}
}
