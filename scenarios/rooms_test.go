package scenarios

import (
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
	overridesSheet   = OverridesSheet
	writtenSheetName = WrittenSheet
)

var (
	caseOf       = reading.CaseOf
	newSheetBook = sheet.NewBook
)

type page = sheet.Page
