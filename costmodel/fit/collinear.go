package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// A condition index from 30 on is a strong near dependency: Belsley, Kuh and Welsch (1980), 3.2.
const strongIndex = 30

// A column has a part in a near dependency from this share of the greatest part on: our own bound. Variance proportions, the
// usual way to name them, also name columns that only suffer from it, such as the intercept where two others go together.
const visiblePart = 0.1

// A dependency is a direction in which the columns, each of norm 1, nearly vanish.
type dependency struct {
	index float64   // greatest singular value over this one's
	part  []float64 // n: of each column
}

// dependencies gives the near dependencies of columns of norm 1, not centred, the strongest first, and the greatest condition
// index of all.
func dependencies(f factor) ([]dependency, float64) {
	n := f.r.N
	unit := f.unitColumns()
	var svd mat.SVD
	if !svd.Factorize(unit, mat.SVDThin) {
		return nil, math.MaxFloat64
	}
	var v mat.Dense
	svd.VTo(&v)
	d := svd.Values(nil)
	var found []dependency
	for k := n - 1; k >= 0 && d[0]/d[k] >= strongIndex; k-- {
		found = append(found, dependency{d[0] / d[k], mat.Col(nil, k, &v)})
	}
	return found, d[0] / d[n-1]
}

// unitColumns is R with columns in the matrix's order, each scaled to norm 1.
func (f factor) unitColumns() *mat.Dense {
	n := f.r.N
	unit := mat.NewDense(n, n, nil)
	for j := range n {
		column := make([]float64, n)
		for i := 0; i <= j; i++ {
			column[i] = f.at(i, j)
		}
		length := norm(column)
		for i := range column {
			unit.Set(i, f.perm[j], column[i]/length)
		}
	}
	return unit
}

// nearlyDependent warns of coefficients that the data can hardly tell apart.
func (s *system) nearlyDependent(p Problem, found []dependency) (warnings []Finding) {
	said := map[string]bool{}
	for _, d := range found {
		together := s.partakers(d.part)
		key := fmt.Sprint(together)
		if said[key] {
			continue
		}
		said[key] = true
		warnings = append(warnings, Finding{Code: NearlyDependent, Coefficients: together,
			What: fmt.Sprintf("the data can hardly tell %s apart (condition index %.0f, %d and more is strong); what they give together is known "+
				"better than each", p.names(together), d.index, strongIndex),
			Do: "add rows in which they go different ways, or hold one of them at a value"})
	}
	return warnings
}

// partakers are the coefficients whose columns have a visible part.
func (s *system) partakers(part []float64) (js []int) {
	for k, x := range part {
		if math.Abs(x) >= visiblePart*largest(part) {
			js = append(js, s.index[k])
		}
	}
	slices.Sort(js)
	return js
}

// inflation is for each column by how much its variance is greater than if it had nothing in common with the others. Beside a
// column that is constant, such as an intercept's, it is centred, as the textbooks have it; the constant's own is not.
func (s *system) inflation(p Problem, f factor) []float64 {
	constant := s.constant(p)
	out := f.spread()
	for k := range out {
		column := mat.Col(nil, k, s.a)
		if constant >= 0 && constant != k {
			column = centred(column, mat.Col(nil, constant, s.a))
		}
		length := norm(column)
		out[k] *= length * length
	}
	return out
}

// constant is the column of the first coefficient that every row has to the same amount, or -1.
func (s *system) constant(p Problem) int {
	return slices.IndexFunc(s.index, func(j int) bool {
		return !slices.ContainsFunc(p.Rows, func(r Row) bool { return r.X[j] != p.Rows[0].X[j] })
	})
}

// centred is x less its multiple of the direction u.
func centred(x, u []float64) []float64 {
	up, along := mat.NewVecDense(len(u), u), mat.NewVecDense(len(x), x)
	by := mat.Dot(up, along) / mat.Dot(up, up)
	out := mat.NewVecDense(len(x), nil)
	out.AddScaledVec(along, -by, up)
	return out.RawVector().Data
}
