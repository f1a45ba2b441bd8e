package handedits

import "sort"

// A rowMark is what a row of a result sheet is known by from one run to the next: all its words, and its first one.
type rowMark struct{ all, first string }

// alignRows finds for each old row the new one that it has become, -1 where it is gone. Order is kept. Rows with all their
// words the same are matched first, then between those the rows that have the same label.
func alignRows(old, fresh []rowMark) []int {
	a := &aligner{to: make([]int, len(old))}
	for i := range a.to {
		a.to[i] = -1
	}
	a.same = func(i, j int) bool { return old[i].all == fresh[j].all }
	a.old, a.fresh = func(i int) string { return old[i].all }, func(j int) string { return fresh[j].all }
	a.match(0, len(old), 0, len(fresh))
	a.same = func(i, j int) bool { return old[i].first == fresh[j].first }
	a.old, a.fresh = func(i int) string { return old[i].first }, func(j int) string { return fresh[j].first }
	a.gaps(0, len(old), 0, len(fresh))
	return a.to
}

type aligner struct {
	to         []int
	same       func(i, j int) bool
	old, fresh func(int) string
}

// gaps matches what lies between rows that are matched already.
func (a *aligner) gaps(i0, i1, j0, j1 int) {
	from, at := i0, j0
	for i := i0; i <= i1; i++ {
		switch {
		case i == i1:
			a.match(from, i, at, j1)
		case a.to[i] >= 0:
			a.match(from, i, at, a.to[i])
			from, at = i+1, a.to[i]+1
		}
	}
}

// match matches the rows of two stretches: what begins and ends alike, then what each has once, then between those the
// longest common sequence.
func (a *aligner) match(i0, i1, j0, j1 int) {
	for i0 < i1 && j0 < j1 && a.same(i0, j0) {
		a.to[i0] = j0
		i0, j0 = i0+1, j0+1
	}
	for i0 < i1 && j0 < j1 && a.same(i1-1, j1-1) {
		i1, j1 = i1-1, j1-1
		a.to[i1] = j1
	}
	if i0 == i1 || j0 == j1 {
		return
	}
	pairs := a.unique(i0, i1, j0, j1)
	if len(pairs) == 0 {
		a.common(i0, i1, j0, j1)
		return
	}
	for _, p := range pairs {
		a.to[p[0]] = p[1]
	}
	a.gaps(i0, i1, j0, j1)
}

// unique pairs the rows that stand once in both stretches, as many as keep their order.
func (a *aligner) unique(i0, i1, j0, j1 int) [][2]int {
	once := func(from, to int, word func(int) string) map[string]int {
		at := map[string]int{}
		for i := from; i < to; i++ {
			if _, twice := at[word(i)]; twice {
				at[word(i)] = -1
			} else {
				at[word(i)] = i
			}
		}
		return at
	}
	there := once(j0, j1, a.fresh)
	var pairs [][2]int
	for word, i := range once(i0, i1, a.old) {
		if j, ok := there[word]; ok && i >= 0 && j >= 0 {
			pairs = append(pairs, [2]int{i, j})
		}
	}
	sort.Slice(pairs, func(x, y int) bool { return pairs[x][0] < pairs[y][0] })
	return inOrder(pairs)
}

// inOrder keeps the longest run of pairs whose second numbers ascend.
func inOrder(pairs [][2]int) [][2]int {
	var ends []int // of the best run of each length: its last pair
	before := make([]int, len(pairs))
	for i, p := range pairs {
		n := sort.Search(len(ends), func(k int) bool { return pairs[ends[k]][1] >= p[1] })
		if before[i] = -1; n > 0 {
			before[i] = ends[n-1]
		}
		if n == len(ends) {
			ends = append(ends, i)
		} else {
			ends[n] = i
		}
	}
	out := make([][2]int, len(ends))
	for k := len(ends) - 1; k >= 0; k-- {
		i := ends[len(ends)-1]
		if k < len(ends)-1 {
			i = before[indexOfPair(pairs, out[k+1])]
		}
		out[k] = pairs[i]
	}
	return out
}

func indexOfPair(pairs [][2]int, p [2]int) int {
	return sort.Search(len(pairs), func(i int) bool { return pairs[i][0] >= p[0] })
}

// mostCommon bounds the table of a longest common sequence; beyond it rows that stand several times are not told apart.
const mostCommon = 4 << 20

// common matches the longest common sequence.
func (a *aligner) common(i0, i1, j0, j1 int) {
	n, m := i1-i0, j1-j0
	if n*m > mostCommon {
		return
	}
	best := make([][]int, n+1)
	for i := range best {
		best[i] = make([]int, m+1)
	}
	for i := n - 1; i >= 0; i-- {
		for j := m - 1; j >= 0; j-- {
			if best[i][j] = max(best[i+1][j], best[i][j+1]); a.same(i0+i, j0+j) {
				best[i][j] = max(best[i][j], best[i+1][j+1]+1)
			}
		}
	}
	for i, j := 0, 0; i < n && j < m; {
		switch {
		case a.same(i0+i, j0+j) && best[i][j] == best[i+1][j+1]+1:
			a.to[i0+i] = j0 + j
			i, j = i+1, j+1
		case best[i][j] == best[i+1][j]:
			i++
		default:
			j++
		}
	}
}
