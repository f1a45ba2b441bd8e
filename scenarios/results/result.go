package results

import (
	"piececost/costmodel"
	"piececost/costmodel/quote"
	"piececost/costmodel/study"
)

// A Result is what a run writes into a workbook: every scenario at its own volume, and over the volumes.
type Result struct {
	Program string // name and version, for the statement
	Details []*costmodel.Detail
	Sweeps  []*costmodel.Sweep // over the same volumes, in the same order

	// Studies; nil or empty for none. Each kind has a sheet, tables stand below what is sensitive.
	Compare      *CompareStudy
	Crossover    *CrossoverStudy
	Stability    []*StabilityStudy
	Maps         []*MapStudy
	Solves       []*study.SolveAnswer
	Combinations []*CombinationStudy
	Sensitivity  []*Sensitivity
	Tables       []*TableStudy
	Volumes      *VolumeStudy
	Trials       []*study.Trial
	ToolFits     []*study.ToolFit // of the sheet Past tools

	Quotes *quote.Answer // nil where the case has no quotes
}

// A CompareStudy puts the scenarios of the details side by side, each at its own volume.
type CompareStudy struct {
	*study.Comparison
	Rules     []study.RuleCosting
	Reversals []study.Reversal
}

// A CrossoverStudy is the order of the scenarios over annual volume; its indexes are those of the details.
type CrossoverStudy struct {
	*study.Crossover
	Tolerance float64            // of its bands, a share of the cheaper cost
	Curves    []*costmodel.Sweep // for the chart, over the same volumes, in the order of the details
}

// A StabilityStudy is how far cross-overs move when one input is at its low or high. Its indexes are those of the details.
type StabilityStudy struct {
	*study.Stability
	Share float64 // by which the inputs are moved either way; 0 where the sheet Uncertainty gives the ranges
}

// A MapStudy says which scenario is cheapest over two inputs.
type MapStudy struct {
	*study.Map
	Volume float64 // 1/yr where it is given and no axis; 0 for each scenario's own
}

// A CombinationStudy is what the alternatives of a scenario, freely combined, cost at a volume.
type CombinationStudy struct {
	*study.Combinations
	Scenario     *costmodel.Scenario
	Alternatives int      // that were free
	Volume       float64  // 1/yr
	MaxMass      float64  // kg of a good piece; +Inf for no limit
	Cost, Mass   float64  // of the scenario as it stands, at the volume
	Notes        []string // what is left out or tried once
}

// A Sensitivity is what moves the piece cost of a scenario, or the difference of two.
type Sensitivity struct {
	Measure      study.Measure
	BaseValue    float64     // the measure as the case stands, model currency per good piece
	Bars         []study.Bar // widest swing first
	Share        float64     // by which the inputs are moved either way; 0 where the sheet Uncertainty gives the ranges
	Dropped      int         // inputs that could not be moved with the others
	Elasticities []study.Elasticity
}

// A TableStudy is a measure over two inputs.
type TableStudy struct {
	*study.TwoWay
	Measure study.Measure
}

// A VolumeStudy is what each scenario takes and costs at each of some volumes, in the order of the details.
type VolumeStudy struct {
	Views []*study.VolumeView
	Share float64 // of the volume, by which it falls and rises on the installed capacity
}
