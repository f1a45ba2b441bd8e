package plan

import "piececost/costmodel/kernel"

// nearLanes is the number of volumes looked at where a jump is expected: one operation costs about the same for one lane
// as for eight. Where nothing can be foreseen, farLanes are looked at together.
const (
	nearLanes = 8
	farLanes  = 64
)

// lanes holds every register at some neighbouring volumes.
type lanes struct {
	program  *kernel.Program
	inputs   []float64       // of the columns that do not vary; 0 is the volume
	scratch  *kernel.Scratch // made when first used
	columns  [][]float64     // by slot
	most     int
	from, to int // volumes at hand; to < from where there are none
}

// A lane is every register at one volume.
type lane struct {
	columns [][]float64
	i       int
}

func (v lane) at(slot int32) float64 { return v.columns[slot][v.i] }

func newLanes(p *kernel.Program, inputs []float64, most int) *lanes {
	return &lanes{program: p, inputs: inputs, most: most, to: -1}
}

func (l *lanes) holds(n int) bool { return n >= l.from && n <= l.to }

func (l *lanes) lane(n int) lane { return lane{l.columns, n - l.from} }

// run computes the volumes from one to another, at most so many as there are lanes.
func (l *lanes) run(from, to int) {
	l.open()
	l.from, l.to = from, to
	for n := from; n <= to; n++ {
		l.columns[0][n-from] = float64(n)
	}
	l.scratch.Run(to - from + 1)
}

// pair computes two volumes into the first two lanes; none are at hand by their volume then.
func (l *lanes) pair(a, b int) {
	l.open()
	l.from, l.to = 0, -1
	l.columns[0][0], l.columns[0][1] = float64(a), float64(b)
	l.scratch.Run(2)
}

// open makes the columns when they are first needed.
func (l *lanes) open() {
	if l.scratch != nil {
		return
	}
	l.scratch = l.program.NewScratch(l.most)
	for i := range l.program.Slots {
		l.columns = append(l.columns, l.scratch.Column(i))
	}
	for i := 1; i < l.program.Inputs; i++ {
		for j := range l.columns[i] {
			l.columns[i][j] = l.inputs[i]
		}
	}
}
