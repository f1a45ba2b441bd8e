package costmodel

import (
	"sync"

	"piececost/costmodel/formula"
	"piececost/costmodel/units"
)

// parsedFormulas keeps the formulas of a library as they were parsed, before they are checked against a case: a program that costs
// many cases, or one case many times, parses each once. They are those of one system of units, the last that asked, since the
// currencies of a case are among its units. Its zero value is ready; a Library made by hand may have none.
type parsedFormulas struct {
	mu    sync.Mutex
	units string // of the formulas held
	exprs map[string]*formula.Expr
}

// parse is formula.Parse; the expression is the caller's own and may be checked.
func (p *parsedFormulas) parse(text string, sys *units.System) (*formula.Expr, error) {
	if p == nil {
		return formula.Parse(text, sys)
	}
	if held := p.held(text, sys); held != nil {
		return held.Clone(), nil
	}
	expr, err := formula.Parse(text, sys)
	if err == nil {
		p.hold(text, sys, expr.Clone())
	}
	return expr, err
}

func (p *parsedFormulas) held(text string, sys *units.System) *formula.Expr {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.units != sys.Currencies() {
		return nil
	}
	return p.exprs[text]
}

func (p *parsedFormulas) hold(text string, sys *units.System, expr *formula.Expr) {
	p.mu.Lock()
	defer p.mu.Unlock()
	if p.exprs == nil || p.units != sys.Currencies() {
		p.units, p.exprs = sys.Currencies(), map[string]*formula.Expr{}
	}
	p.exprs[text] = expr
}
