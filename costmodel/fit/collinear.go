package fit

import (
	"fmt"
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
)

// The bounds of Belsley, Kuh and Welsch (1980), 3.2: a condition index from 30 on is a strong near dependency, and coefficients
// take part in it that have at least half of their variance from it.
const (
	strongIndex     = 30
	shareOfVariance = 0.5
)

// A dependency is a direction in which the columns nearly vanish.
type dependency struct {
	index float64   // greatest singular value over this one
	share []float64 // n: which part of each coefficient's variance comes from it
}

// dependencies gives the near dependencies of columns of norm 1, not centred, the strongest first, and the greatest condition
// index of all.
func dependencies(f factor) ([]dependency, float64) {
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
	var svd mat.SVD
	if !svd.Factorize(unit, mat.SVDThin) {
		return nil, math.MaxFloat64
	}
	var v mat.Dense
	svd.VTo(&v)
	return sharesOf(svd.Values(nil), &v)
}

// sharesOf takes the variance of each coefficient apart by singular values d; v has the right singular vectors as columns.
func sharesOf(d []float64, v *mat.Dense) (found []dependency, condition float64) {
	n := len(d)
	part := func(j, k int) float64 { x := v.At(j, k) / d[k]; return x * x }
	for k := n - 1; k >= 0; k-- {
		dep := dependency{index: d[0] / d[k], share: make([]float64, n)}
		for j := range n {
			total := 0.0
			for l := range n {
				total += part(j, l)
			}
			dep.share[j] = part(j, k) / total
		}
		condition = max(condition, dep.index)
		if dep.index >= strongIndex {
			found = append(found, dep)
		}
	}
	return found, condition
}

// nearlyDependent warns of coefficients that the data can hardly tell apart. Where near dependencies share a coefficient, their
// shares are taken together, as Belsley, Kuh and Welsch do.
func (s *system) nearlyDependent(p Problem, found []dependency) (warnings []Finding) {
	said := map[string]bool{}
	all := make([]float64, len(s.index))
	for _, d := range found {
		for j, x := range d.share {
			all[j] += x
		}
	}
	for _, d := range found {
		together := s.partakers(d.share)
		if len(together) < 2 {
			together = s.partakers(all)
		}
		key := fmt.Sprint(together)
		if len(together) < 2 || said[key] {
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

// partakers are the coefficients with at least half of their variance.
func (s *system) partakers(share []float64) (js []int) {
	for k, x := range share {
		if x >= shareOfVariance {
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
