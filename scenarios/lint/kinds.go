package lint

// A Kind is a sort of finding. Codes are stable; words may change.
type Kind struct {
	Code  string
	About string // one line for a list
	Why   string // why it matters
	Do    string // what to do
}

// Kinds are the sorts of findings, in the order in which they are told of one cell.
var Kinds = []Kind{
	{"broken-reference", "a formula that holds #REF!",
		"what it read was deleted, so its result is an error or leaves a part out", "enter the reference again, or delete the formula"},
	{"error-value", "an error such as #DIV/0! that is no other cell's",
		"every sum that reads it is an error too", "correct the formula, or treat the case that it can't compute"},
	{"external-link", "a formula or a link that leads to another file",
		"the file may be changed, moved or missing where this workbook is read", "copy the value here as an input, with its source and date"},
	{"pattern-break", "a formula or a typed number amid copies of one formula",
		"a line of equal formulas is read as one; a single other cell is overlooked",
		"copy the neighbours' formula here, or set the exception apart with a note"},
	{"constant-in-formula", "a number inside a formula",
		"nobody sees it, and it has no unit and no source", "give it a cell of its own with unit and source, and refer to that"},
	{"volatile-function", "NOW, TODAY, RAND, RANDBETWEEN, OFFSET, INDIRECT, INFO, CELL",
		"it is computed anew at each change, so the result may not repeat or what it reads can't be traced",
		"write a date or a draw as an input; use INDEX in place of OFFSET and INDIRECT"},
	{"long-formula", "a formula of more than 300 characters",
		"it can't be checked by reading", "compute it in steps, each in a cell with a heading and a unit"},
	{"deep-nesting", "brackets more than 7 deep",
		"it can't be checked by reading", "compute it in steps, or use a table and a look-up"},
	{"mixed-units", "a column of one quantity in two units",
		"the numbers can't be added or compared", "convert the column to one unit and write it in the heading"},
	{"number-as-text", "a number that is stored as text",
		"sums pass over it without a word", "type the number again in a cell that is not formatted as text"},
	{"unused-input", "a typed number that no formula reads, while they read its neighbours",
		"a range is too short, a formula was forgotten, or a change of it has no effect", "let the formulas read it, or delete it"},
	{"hidden-rows", "hidden rows with content",
		"the reader doesn't see what is counted", "show them, or delete what is not needed"},
	{"hidden-columns", "hidden columns with content",
		"the reader doesn't see what is counted", "show them, or delete what is not needed"},
	{"hidden-sheet", "a hidden sheet with content",
		"the reader doesn't see what is counted", "show it, or delete it where nothing reads it"},
	{"similar-sheet-names", "sheets whose names differ only by case or blanks",
		"formulas and readers take one for the other", "rename one after what it holds"},
}

// rank orders kinds and finds their words.
func rank(code string) int {
	for i := range Kinds {
		if Kinds[i].Code == code {
			return i
		}
	}
	panic("lint: no kind " + code)
}
