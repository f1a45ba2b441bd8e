package scenarios

import (
	"regexp"

	"piececost/scenarios/handedits"
	"piececost/scenarios/reading"
	"piececost/scenarios/sheet"
)

// The words of the rooms below that tests of whole workbooks go by.
const (
	checksSheet = sheet.ChecksSheet
	massFormat  = sheet.MassFormat
	moneyFormat = sheet.MoneyFormat
	wholeFormat = sheet.WholeFormat

	summarySheet     = SummarySheet
	overridesSheet   = handedits.OverridesSheet
	writtenSheetName = handedits.WrittenSheet
)

var caseOf = reading.CaseOf

// How much the program lists at most: cells that can't be taken over, inputs of Sensitivity and of What must be true.
const (
	listedEdits  = 100
	listedBars   = 15
	listedLevers = 12
)

// titleNumber is what stands before the title of a block of a calculation.
var titleNumber = regexp.MustCompile(`^\d+  `)
