package scenarios

import (
	"regexp"

	"piececost/scenarios/handedits"
	"piececost/scenarios/reading"
	"piececost/scenarios/results"
	"piececost/scenarios/sheet"
	"piececost/scenarios/starter"
)

// The words of the rooms below that tests of whole workbooks go by.
const (
	checksSheet = sheet.ChecksSheet

	summarySheet     = results.SummarySheet
	statementSheet   = results.StatementSheet
	breakdownSheet   = results.BreakdownSheet
	billSheet        = results.BillSheet
	partSheet        = results.PartSheet
	ratesSheet       = results.RatesSheet
	investmentSheet  = results.InvestmentSheet
	curveSheet       = results.CurveSheet
	compareSheet     = results.CompareSheet
	crossoverSheet   = results.CrossoverSheet
	mapSheet         = results.MapSheet
	trialSheet       = results.TrialSheet
	solveSheet       = results.SolveSheet
	sensitivitySheet = results.SensitivitySheet
	volumeSheet      = results.VolumeSheet
	inputsSheet      = results.InputsSheet
	methodSheet      = results.MethodSheet
	overridesSheet   = handedits.OverridesSheet
	writtenSheetName = handedits.WrittenSheet
)

var (
	caseOf  = reading.CaseOf
	readCSV = starter.ReadCSV
)

// How much the program lists at most: cells that can't be taken over, inputs of Sensitivity and of Break-even values.
const (
	listedEdits  = 100
	listedBars   = 15
	listedLevers = 12

	offeredKeys = 5000 // in drop-downs
)

// titleNumber is what stands before the title of a block of a calculation.
var titleNumber = regexp.MustCompile(`^\d+  `)
