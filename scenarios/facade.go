package scenarios

import (
	"piececost/costmodel"
	"piececost/costmodel/study"
	"piececost/costmodel/table"
	"piececost/scenarios/handedits"
	"piececost/scenarios/results"
	"piececost/scenarios/starter"
)

// What a run writes, study by study.
type (
	Result           = results.Result
	CompareStudy     = results.CompareStudy
	CrossoverStudy   = results.CrossoverStudy
	StabilityStudy   = results.StabilityStudy
	MapStudy         = results.MapStudy
	CombinationStudy = results.CombinationStudy
	Sensitivity      = results.Sensitivity
	TableStudy       = results.TableStudy
	VolumeStudy      = results.VolumeStudy
)

// What a person did in the result sheets.
type (
	Edit   = handedits.Edit
	Remark = handedits.Remark
)

// How tables are imported, and what went where.
type (
	ImportOptions = starter.ImportOptions
	ImportReport  = starter.ImportReport
)

// Verdict judges cost and mass of a scenario against the first one.
func Verdict(ds []*costmodel.Detail, i int) study.MassVerdict { return results.Verdict(ds, i) }

// LongFormulas finds the quantities whose live formula would be longer than spreadsheet programs take.
func LongFormulas(plans []*costmodel.Plan) table.Diagnostics { return results.LongFormulas(plans) }
