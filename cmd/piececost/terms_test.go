package main

import (
	"bytes"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"piececost/templates"
)

// oldWords are words of our own for which the trade has one, which took their place; none is left in what a user reads.
var oldWords = map[string]string{
	"Bill and cumulated cost": "Costed bill of materials", "Part pages": "Part cost sheets", "Volume curve": "Cost over volume",
	"Side by side": "Scenario comparison", "Cheapest map": "Least-cost map", "Cheapest combination": "Least-cost combination",
	"What must be true": "Break-even values", "what must be true": "break-even values", "Volumes and capacity": "Capacity and investment",
	"Inputs as run": "Input record", "As written": "Formula record", "Where the money goes": "Cost breakdown",
	"What each annual volume takes": "Capacity and investment", "Machine-hour rates": "Hourly rates", "dearer": "more expensive",
	"EUR per good piece": "EUR per good piece", "EUR per piece": "EUR per piece", "EUR per kilogram": "EUR per kilogram", "Cost more": "Cost difference",
	"all checks hold": "all checks passed", " alert": " warning",
}

func sayOld(t *testing.T, where, text string) {
	for old, now := range oldWords {
		if i := strings.Index(text, old); i >= 0 {
			t.Errorf("%s: %q, say %q: ...%s", where, old, now, text[max(0, i-30):min(len(text), i+40)])
		}
	}
}

// TestOldWords looks through templates, README, help and a written workbook.
func TestOldWords(t *testing.T) {
	err := fs.WalkDir(templates.Files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		text, err := fs.ReadFile(templates.Files, path)
		sayOld(t, path, string(text))
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
	path := filepath.Join(t.TempDir(), "tray.xlsx")
	wordsCommand(t, 0, "new", "--sample", "battery-tray", path)
	wordsCommand(t, 0, "run", path)
	f, err := excelize.OpenFile(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for _, sheet := range f.GetSheetList() {
		sayOld(t, "sheet name", sheet)
		rows, err := f.GetRows(sheet)
		if err != nil {
			t.Fatal(err)
		}
		for _, row := range rows {
			sayOld(t, sheet, strings.Join(row, "|"))
		}
	}
}
