package main

import (
	"bytes"
	"regexp"
	"slices"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"
)

// renamed are the words that changed in JSON, CSV and the flags, old and new, in the order in which they are exchanged.
// Figures are none of them.
var renamed = strings.NewReplacer(
	"A today", "A baseline", "B redesign 1", "B variant 1", "C redesign 2", "C variant 2",
	"--charging-rules", "--equipment-allocation", "--step", "--operation",
	"charging_rule", "equipment_allocation", "labour_rule", "labour_allocation", "pooled steps", "pooled operations", "\nstep,", "\noperation,",
	"\"steps\":", "\"operations\":", "the step's", "the operation's", ": step ", ": operation ", "\"step ", "\"operation ", "\"by\": \"step\"",
	"\"by\": \"operation\"",
	"parity_margin", "net_benefit_of_mass_saving", "\"needed\":", "\"required\":", "/Life,", "/Economic life,", "Line balance", "Line-balance efficiency",
	"times today's", "times the base value", "of a good product", "per good product",
	"\"today\":", "\"base_value\":", ",today,", ",base_value,", "share_from_today", "share_from_base_value", "today", "base value",
	"own_lines", "product_specific_lines", "own_load", "capacity_utilisation", "\"load\":", "\"capacity_utilisation\":", "\"rule\":",
	"\"equipment_allocation\":",
	"jumped", "capacity_steps", "monotone", "monotonic", "charging_rules", "equipment_allocations", "charging rule", "equipment allocation",
	"floor_area_m2", "floor_space_m2", "floor_area,Floor area", "floor_space,Floor space", "\"floor_area\"", "\"floor_space\"", "Floor area charged",
	"Floor space charged",
	"\"equipment_investment\":", "\"product_specific_equipment_investment\":", ",equipment_investment,", ",product_specific_equipment_investment,",
	"next_piece_raises", "marginal_capacity_steps", "next_piece", "marginal_cost", "saved_kilograms_paid", "mass_saving_counted",
	"value_of_a_saved_kilogram", "allowable_cost_of_mass_saving", "costs_more", "cost_difference",
	"own_equipment_investment", "product_specific_equipment_investment", "Own equipment investment", "Product-specific equipment investment",
	"own_floor_area", "product_specific_floor_space",
	"Floor area of own lines", "Floor space of product-specific lines", "Own lines, whole", "Product-specific lines, whole",
)

// TestSameFiguresAsBefore: what the commands print of the sample is what they printed before the words became the trade's, to
// the byte, but for the words.
func TestSameFiguresAsBefore(t *testing.T) {
	before, err := txtar.ParseFile("../../testdata/before/sample.txtar")
	if err != nil {
		t.Fatal(err)
	}
	t.Chdir(t.TempDir())
	wordsCommand(t, 0, "new", "--sample", "battery-tray", "tray.xlsx")
	for _, f := range before.Files {
		args := strings.Fields(renamed.Replace(f.Name))
		for i := range args {
			args[i] = strings.ReplaceAll(args[i], "~", " ")
		}
		var out, errs bytes.Buffer
		if code := run(args, strings.NewReader(""), &out, &errs); code != 0 {
			t.Fatalf("%s: exit code %d, %s", f.Name, code, errs.String())
		}
		got := out.String()
		for _, key := range keysOf(got) {
			if slices.Contains(oldKeys, key) {
				t.Errorf("%s: %q is a key or a column of before", f.Name, key)
			}
		}
		if got, want := withoutNew(got), renamed.Replace(string(f.Data)); got != want {
			t.Errorf("%s: %s", f.Name, firstDifference(got, want))
		}
	}
}

// What answers have beside what they had: an element of cost that the sample has none of, in JSON, CSV and explanations; counts of parts.
var (
	newKey     = regexp.MustCompile(`\n *"outside_processing": 0,`)
	newRow     = regexp.MustCompile(`(?s)\n *\{\n *"key": "outside_processing",[^{}]*\},`)
	newLine    = regexp.MustCompile(`(?m)^element,outside_processing,Outside processing,EUR,0,0,0,0,0\n`)
	newCount   = regexp.MustCompile(`(?s)\n *\{\n *"key": "\w+_count",[^{}]*\},?`)
	countLine  = regexp.MustCompile(`(?m)^measure,\w+_count,.*\n`)
	newElement = regexp.MustCompile(`(purchased_parts) \+ outside_processing([^\n]*\n *"numbers": "(?:\S+ EUR/yr \+ ){3})0 EUR/yr \+ `)
)

// withoutNew takes out what is new and 0: the figures that were there are compared with all that is printed beside them.
func withoutNew(text string) string {
	text = newKey.ReplaceAllString(text, "")
	text = newRow.ReplaceAllString(text, "")
	text = newLine.ReplaceAllString(text, "")
	text = countLine.ReplaceAllString(newCount.ReplaceAllString(text, ""), "")
	text = newElement.ReplaceAllString(text, "$1$2")
	head, _, _ := strings.Cut(text, "\n")
	at := slices.Index(strings.Split(head, ","), "outside_processing")
	if at < 0 {
		return text
	}
	lines := strings.Split(text, "\n")
	for i, line := range lines {
		if fields := strings.Split(line, ","); len(fields) > at && (i == 0 || fields[at] == "0") {
			lines[i] = strings.Join(slices.Delete(fields, at, at+1), ",")
		}
	}
	return strings.Join(lines, "\n")
}

// keysOf lists the keys of JSON, or the columns of CSV.
func keysOf(text string) []string {
	if !strings.HasPrefix(text, "{") {
		head, _, _ := strings.Cut(text, "\n")
		return strings.Split(head, ",")
	}
	var out []string
	for _, m := range jsonKey.FindAllStringSubmatch(text, -1) {
		out = append(out, m[1])
	}
	return out
}

var jsonKey = regexp.MustCompile(`"(\w+)":`)

// firstDifference shows the first line in which two texts differ.
func firstDifference(got, want string) string {
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	for i := range a {
		if i >= len(b) || a[i] != b[i] {
			return "got " + a[i] + "\nwant " + strings.Join(b[min(i, len(b)):min(i+1, len(b))], "")
		}
	}
	return "it ends early"
}
