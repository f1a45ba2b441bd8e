package fit

import (
	"math"
	"slices"
)

const epsilon = 0x1p-52

// A share below which a column takes no part in what makes up another; rounding leaves far less.
const noPart = 1e-6

// dependent refuses columns that others make up, each with those others: the data give only their joint effect.
func (s *system) dependent(p Problem, f factor) (r Refused) {
	m, n := s.a.Dims()
	rank := 0
	for rank < n && math.Abs(f.at(rank, rank)) > float64(max(m, n))*epsilon*math.Abs(f.at(0, 0)) {
		rank++
	}
	for k := rank; k < n; k++ {
		together := []int{s.index[f.perm[k]]}
		for l, share := range f.madeUp(k, rank) {
			if math.Abs(share) > noPart {
				together = append(together, s.index[f.perm[l]])
			}
		}
		r = append(r, cannotTell(p, together))
	}
	return r
}

// madeUp gives by how much of each of the first rank columns column k is made up.
func (f factor) madeUp(k, rank int) []float64 {
	share := make([]float64, rank)
	for i := rank - 1; i >= 0; i-- {
		rest := f.at(i, k)
		for j := i + 1; j < rank; j++ {
			rest -= f.at(i, j) * share[j]
		}
		share[i] = rest / f.at(i, i)
	}
	return share
}

func cannotTell(p Problem, together []int) Finding {
	slices.Sort(together)
	return Finding{Code: Dependent, Coefficients: together,
		What: "the data can't tell " + p.names(together) + " apart; in every row one is the same multiple or sum of the others",
		Do:   "add rows in which they go different ways, hold one of them at a value, or leave one out"}
}
