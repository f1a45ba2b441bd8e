package costing

import (
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// volumes views every scenario at each of the volumes, with the shares and shifts of the command volumes.
func (s *run) volumes(volumes []float64) error {
	if len(volumes)*s.steps > mostVolumeWork {
		return errTooMuch
	}
	told, end := s.progress.begin("volumes")
	defer end()
	out := &scenarios.VolumeStudy{Share: 0.2}
	for i, p := range s.plans {
		v, err := study.ViewVolumes(s.ctx, p, volumes, study.VolumeOptions{Share: out.Share, Shifts: []float64{1, 2, 3}}, part(told, i, len(s.plans)))
		if err != nil {
			return err
		}
		out.Views = append(out.Views, v)
	}
	s.r.Volumes = out
	return nil
}
