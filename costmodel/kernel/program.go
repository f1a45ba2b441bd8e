package kernel

// Lanes is the length of a block: long enough to pay for the dispatch, short enough that the columns in use stay in the
// second-level cache.
const Lanes = 1024

// A Code says what an operation does. a, b, c are the columns A, B, C of the operation; k and s its constants.
type Code uint8

// The operations.
const (
	Linear     Code = iota // dst = k + sum of terms
	Accumulate             // dst += sum of terms
	Mul                    // a * b
	Div                    // a / b
	Ceil                   // whole number up of s*a + k
	CeilMax                // the same, at least K2
	Max                    // max(a, b)
	MaxConst               // max(a, k)
	Min                    // min(a, b)
	MinConst               // min(a, k)
	Less                   // a < b, 1 or 0; equal within Same
	LessEq                 // a <= b
	Equal                  // a == b
	Select                 // a != 0 ? b : c
	Call1                  // Fn(a)
	Call2                  // Fn(a, b)
)

// A Term is a column times a factor.
type Term struct {
	Slot   int32
	Factor float64
}

// An Op is one operation on columns.
type Op struct {
	Code         Code
	Dst, A, B, C int32
	K, K2, S     float64
	Terms        []Term
	Fn           func([]float64) float64
}

// A Const is a column that holds one value in every lane.
type Const struct {
	Slot  int32
	Value float64
}

// A Program is a list of operations over Slots columns. The first Inputs columns are filled by the caller.
type Program struct {
	Ops    []Op
	Consts []Const
	Inputs int
	Slots  int
}

// A Scratch holds the columns of one running program; it belongs to one goroutine.
type Scratch struct {
	program *Program
	columns []float64
	lanes   int
	args    [2]float64
}

// NewScratch makes the columns for blocks of at most the given lanes and fills the constant ones.
func (p *Program) NewScratch(lanes int) *Scratch {
	s := &Scratch{program: p, columns: make([]float64, p.Slots*lanes), lanes: lanes}
	for _, c := range p.Consts {
		col := s.Column(int(c.Slot))
		for i := range col {
			col[i] = c.Value
		}
	}
	return s
}

// Column returns the lanes of a column. It stays valid, and is overwritten by the next Run.
func (s *Scratch) Column(slot int) []float64 {
	return s.columns[slot*s.lanes : (slot+1)*s.lanes : (slot+1)*s.lanes]
}

// Lanes returns the longest block this scratch can run.
func (s *Scratch) Lanes() int { return s.lanes }
