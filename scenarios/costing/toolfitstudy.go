package costing

import "piececost/costmodel/study"

// toolFits fits the usual coefficients of each kind of the sheet Past tools, where there is one.
func (s *run) toolFits() error {
	if len(s.m.PastTools()) == 0 {
		return nil
	}
	fits, err := study.FitTools(s.ctx, s.m, study.ToolFitOptions{})
	s.r.ToolFits = fits
	return err
}
