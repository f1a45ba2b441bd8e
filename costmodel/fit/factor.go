package fit

import (
	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
	"gonum.org/v1/gonum/mat"
)

// A factor is a matrix of m rows and n ≤ m columns as Q times R, its columns permuted so that the diagonal of R falls in
// magnitude (Householder reflections with column pivoting: Golub and Van Loan, Matrix Computations, 5.4).
type factor struct {
	q    *mat.Dense        // m×n, orthonormal columns
	r    blas64.Triangular // n×n, upper
	perm []int             // column k of QR is column perm[k] of the matrix
}

// factorize leaves a as it is.
func factorize(a mat.Matrix) factor {
	f := factor{q: mat.DenseCopyOf(a)}
	raw := f.q.RawMatrix()
	n := raw.Cols
	f.perm = make([]int, n)
	for k := range f.perm {
		f.perm[k] = -1 // free to be moved
	}
	tau := make([]float64, n)
	size := make([]float64, 1)
	lapack64.Geqp3(raw, f.perm, tau, size, -1)
	work := make([]float64, max(int(size[0]), 3*n+1))
	lapack64.Geqp3(raw, f.perm, tau, work, len(work))
	f.r = upper(raw)
	lapack64.Orgqr(raw, tau, work, len(work))
	return f
}

// upper copies the upper triangle of the first rows.
func upper(g blas64.General) blas64.Triangular {
	n := g.Cols
	t := blas64.Triangular{Uplo: blas.Upper, Diag: blas.NonUnit, N: n, Stride: n, Data: make([]float64, n*n)}
	for i := range n {
		copy(t.Data[i*n+i:(i+1)*n], g.Data[i*g.Stride+i:i*g.Stride+n])
	}
	return t
}

// at is an element of R.
func (f factor) at(i, j int) float64 { return f.r.Data[i*f.r.Stride+j] }

// project is Qᵀ times x, one value for each column of Q.
func (f factor) project(x []float64) []float64 {
	_, n := f.q.Dims()
	out := mat.NewVecDense(n, nil)
	out.MulVec(f.q.T(), mat.NewVecDense(len(x), x))
	return out.RawVector().Data
}

// solve finds z with R z = b, in the order of the matrix's columns. R has full rank.
func (f factor) solve(b []float64) []float64 {
	x := append([]float64(nil), b...)
	blas64.Trsv(blas.NoTrans, f.r, blas64.Vector{N: len(x), Inc: 1, Data: x})
	z := make([]float64, len(x))
	for k, j := range f.perm {
		z[j] = x[k]
	}
	return z
}

// spread is the diagonal of the inverse of AᵀA, in the order of the matrix's columns: the variance of each coefficient over
// that of an error.
func (f factor) spread() []float64 {
	out := make([]float64, f.r.N)
	for k := range out {
		unit := make([]float64, f.r.N)
		unit[k] = 1
		for j, z := range f.solve(unit) { // column k of R⁻¹
			out[j] += z * z
		}
	}
	return out
}

// leverages is the diagonal of the hat matrix: 0 to 1 for each row, together the number of columns.
func (f factor) leverages() []float64 {
	m, _ := f.q.Dims()
	h := make([]float64, m)
	for i := range h {
		for _, x := range f.q.RawRowView(i) {
			h[i] += x * x
		}
		h[i] = min(h[i], 1)
	}
	return h
}

// residuals is what of y is not in the span of the columns.
func (f factor) residuals(y []float64) []float64 {
	inside := mat.NewVecDense(len(y), nil)
	inside.MulVec(f.q, mat.NewVecDense(f.r.N, f.project(y)))
	out := make([]float64, len(y))
	for i := range out {
		out[i] = y[i] - inside.AtVec(i)
	}
	return out
}
