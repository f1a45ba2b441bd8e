package main

import (
	"bytes"
	"io/fs"
	"os"
	"regexp"
	"slices"
	"strings"
	"testing"
	"unicode"

	"github.com/xuri/excelize/v2"

	"piececost/templates"
)

// oldWords are words of our own for which the trade has one, which took their place; none is left in what a user reads. They are
// patterns between word boundaries: a word within another is another word.
var oldWords = map[string]string{
	"Bill and cumulated cost": "Costed bill of materials", "Part pages": "Part cost sheets", "Volume curve": "Cost over volume",
	"[Ss]ide by side": "scenario comparison", "Cheapest map": "Least-cost map", "Cheapest combination": "Least-cost combination",
	"[Ww]hat must be true": "break-even values", "Volumes and capacity": "Capacity and investment",
	"Inputs as run": "Input record", "As written": "Formula record", "Where the money goes": "Cost breakdown",
	"What each annual volume takes": "Capacity and investment", "Machine-hour rates": "Hourly rates",
	"dearer": "more expensive", "[Cc]ost more": "cost difference", "all checks hold": "all checks passed", "alerts?": "warning",
	`(EUR|USD|currency|money|mass|time|number|shifts?|pieces|hours?|rate|kg) a (good piece|piece|cycle|year|kilogram|day|shift)`: "per",

	"Joins at( step)?": "Joined at operation", "joins_at_step": "joined_at_operation", "bought parts?": "purchased part",
	"[Cc]harging[ _]rules?": "equipment allocation", "[Ll]abour[ _]rules?": "labour allocation", "saved kilogram": "allowable cost of mass saving",
	"mass_value": "allowable_cost_of_mass_saving", "its worth less the cost": "net benefit of mass saving", "parity_margin": "net_benefit_of_mass_saving",
	"fixed in steps": "step-fixed", "[Ww]ith what joined|Cumulated|cumulated_piece_cost": "including components",
	"Started|started_quantity|finished_quantity":                       "input quantity, good quantity",
	"[Oo]wn (lines?|equipment|investment)|own_machines|own_investment": "product-specific",
	"Load \\[%\\]|planned_load|[Pp]lanned load|Load of own lines":      "capacity utilisation", "[Pp]ower[ _]load[ _]share": "power load factor",
	"[Hh]all[ _]area|[Hh]alls?|[Aa]isle[ _]factor": "floor space, floor-space factor", "Hours used|hours_used": "machine hours required",
	"Interest( \\[|$)": "interest rate", "Life \\[yr\\]": "economic life", "[Pp]lanned[ _]stops?( per shift)?": "planned downtime",
	"[Ll]ine balance( \\[|$)": "line-balance efficiency", "[Tt]rimmed[ _]share": "trim loss share", "[Rr]eject[ _]share": "reject rate",
	"Next piece": "marginal cost", "calls for a whole count": "triggers a capacity step", "[Ww]hole counts": "integer quantities (capacity steps)",
	"[Aa]s it stands|[Aa]s the cells stand": "base value", "Needed": "required value", "[Ll]ooked from": "search range",
	"[Ww]hat a percent|percent of each input is worth": "elasticity, effect of +1 %", "not monotone": "non-monotonic",
	"slides along": "no step; the curves cross", "turns the ranking": "the ranking reverses under ...", "[Pp]rice view": "price build-up",
	"anti-flutter": "adhesive beads", "A today|[Rr]edesign [12]": "A baseline, B variant 1, C variant 2", "Hour rate|hour_rate": "work-centre hourly rate",
}

// oldKeys are keys of JSON and columns of CSV that became the trade's words.
var oldKeys = []string{"today", "own_lines", "own_load", "load", "rule", "jumped", "monotone", "step", "steps", "charging_rules", "reject_share", "hall_area"}

// oldPatterns are the patterns as they are looked for.
var oldPatterns = func() map[*regexp.Regexp]string {
	out := map[*regexp.Regexp]string{}
	for old, now := range oldWords {
		out[regexp.MustCompile(`(^|[^\w-])(`+old+`)($|\W)`)] = now
	}
	return out
}()

func sayOld(t *testing.T, where, text string) {
	t.Helper()
	text = strings.Join(strings.Fields(text), " ") // words may stand in two lines
	for old, now := range oldPatterns {
		if at := old.FindStringIndex(text); at != nil {
			t.Errorf("%s: %q, say %q: ...%s", where, text[at[0]:at[1]], now, text[max(0, at[0]-30):min(len(text), at[1]+40)])
		}
	}
}

// otherNames are aliases, which may be words of others: they are read and never printed but by the page of their scope.
var otherNames = regexp.MustCompile(`, aliases: \[[a-z_, ]*\]`)

// TestOldWords looks through templates, README, help and a written workbook.
func TestOldWords(t *testing.T) {
	err := fs.WalkDir(templates.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(templates.Files, path)
		sayOld(t, path, otherNames.ReplaceAllString(string(text), ""))
		return err
	})
	readme, errReadme := os.ReadFile("../../README.md")
	if err != nil || errReadme != nil {
		t.Fatal(err, errReadme)
	}
	sayOld(t, "README.md", string(readme))
	var help bytes.Buffer
	for _, c := range append(newRoot().Commands(), newRoot()) {
		c.SetOut(&help)
		_ = c.Help()
	}
	sayOld(t, "help", help.String())
	f, err := excelize.OpenFile(costedSample(t))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	seen := map[string]bool{} // texts of cells that were looked at
	for _, sheet := range f.GetSheetList() {
		sayOld(t, "sheet name", sheet)
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, cell := range slices.Concat(rows...) {
			if !seen[cell] && strings.ContainsFunc(cell, unicode.IsLetter) { // each old word has letters
				seen[cell] = true
				sayOld(t, sheet, cell)
			}
		}
	}
}
