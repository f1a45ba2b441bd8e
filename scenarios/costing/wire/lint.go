package wire

// Lint is the answer of lint: weak spots of any workbook.
type Lint struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// Number of sheets that were looked at.
	Sheets int `json:"sheets"`
	// What was not looked at, and why.
	Skipped []string `json:"skipped"`
	// The findings, by sheet, row and column.
	Findings []LintFinding `json:"findings"`
	// Number of findings that are left out; --all tells them too.
	More int `json:"more"`
}

// A LintFinding is something doubtful: one cell, or several of a block with the same fault.
type LintFinding struct {
	// The kind of finding, one word.
	Code string `json:"code"`
	// The first cell; without a cell where a whole sheet is meant.
	Place Place `json:"place"`
	// Name of the last cell of a block, as F12.
	Last string `json:"last,omitempty"`
	// Number of cells.
	Cells int `json:"cells"`
	// What is wrong, in words.
	Summary string `json:"summary"`
	// Why it matters, in words.
	Why string `json:"why"`
	// What to do, in words.
	Help string `json:"help"`
}
