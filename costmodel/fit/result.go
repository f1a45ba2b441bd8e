package fit

// A State says what became of a coefficient.
type State int

// What a coefficient can be in a Result.
const (
	Found   State = iota // by the data
	AtBound              // it must not be negative, would be, and so is 0
	Held                 // by the caller
)

// String gives the state in a word or two.
func (s State) String() string { return [...]string{"found", "at its bound", "held"}[s] }

// An Estimate is a coefficient with how sure it is. Its unit is that of what is observed per unit of its column.
type Estimate struct {
	Name       string
	Value      float64
	State      State
	Error      float64 // standard error; 0 unless Found
	Low, High  float64 // confidence interval by Student's t, not cut at 0; Value itself unless Found
	Inflation  float64 // variance inflation factor, 1 and more; 0 for a held one. Centred beside a constant column
	Unreliable bool    // it stands in a warning of NearlyDependent or RowAlone
}

// A RowFit is how a row and the fit stand to each other, in the unit of what is observed unless a share.
type RowFit struct {
	Label      string
	Observed   float64
	Fitted     float64
	Residual   float64 // observed less fitted
	Share      float64 // residual over the magnitude of observed; 0 where that is 0
	Leverage   float64 // 0 to 1: how much of the row's fitted value is its own observed one
	Cook       float64 // Cook's distance; 0 where the fit is exact or the leverage 1
	HasLeftOut bool    // false where the others can't find every coefficient
	LeftOut    float64 // what the others alone predict for the row
	Miss       float64 // observed less LeftOut
}

// A Result is a fit. All its numbers are finite.
type Result struct {
	Of           string
	Weighting    Weighting
	Confidence   float64
	Coefficients []Estimate // in the order of the problem's
	Rows         []RowFit   // in the order of the problem's

	Freedom     int     // rows less coefficients found: degrees of freedom
	ResidualSD  float64 // residual standard deviation of the weighted errors: a share where Relative, else as observed
	LeftOutRows int     // how many rows have a prediction by the others
	LeftOutRMS  float64 // root mean square of their weighted misses, a share where Relative, else as observed

	HasR2     bool    // false where what is observed does not vary
	R2        float64 // of the weighted values; below 0 where bounds or held values make the fit worse than none
	AboutMean bool    // R2 compares with the mean, since the found coefficients can make up a constant; else with 0
	Condition float64 // greatest condition index of the columns, each scaled to norm 1

	Warnings []Finding
}

// Bounds lists the coefficients at their bound.
func (r *Result) Bounds() (js []int) {
	for j, c := range r.Coefficients {
		if c.State == AtBound {
			js = append(js, j)
		}
	}
	return js
}
