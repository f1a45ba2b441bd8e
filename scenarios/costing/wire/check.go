package wire

// Check is the answer of check: everything that is wrong or doubtful in a case.
type Check struct {
	Answer
	// Name of the workbook, without its folder.
	File string `json:"file"`
	// The findings, by place; with an error among them the case can't be costed.
	Findings []Finding `json:"findings"`
}

// A Finding is something that is wrong or doubtful.
type Finding struct {
	// The kind of finding, one word: unit, key, sheet, unread, ...
	Code string `json:"code"`
	// error (nothing is computed), warning (stands beside results) or note (says what nobody could look at).
	Severity string `json:"severity"`
	// What is wrong, in words.
	Summary string `json:"summary"`
	// What to do, in words.
	Help string `json:"help,omitempty"`
	// The scenario in which it is found, where it is not so in all.
	Scenario string `json:"scenario,omitempty"`
	// Where it is.
	Place Place `json:"place"`
	// Other places that help to understand it.
	Related []Related `json:"related,omitempty"`
}

// A Place is a cell, a sheet or a file.
type Place struct {
	// Name of the workbook, without its folder.
	File string `json:"file,omitempty"`
	// Name of the sheet; left out where the whole file is meant.
	Sheet string `json:"sheet,omitempty"`
	// Name of the cell, as F12; left out where the whole sheet is meant.
	Cell string `json:"cell,omitempty"`
	// Character in the cell's text, from 1; left out where the whole cell is meant.
	Character int `json:"character,omitempty"`
}

// A Related place helps to understand a finding.
type Related struct {
	// What is there, in words.
	Note string `json:"note"`
	// Where it is.
	Place Place `json:"place"`
}
