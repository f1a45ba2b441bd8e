package studies

import (
	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel/study"
	"piececost/scenarios"
)

// volumes views every scenario at each of the volumes, with the shares and shifts of the command volumes.
func (s *run) volumes(volumes []float64) error {
	if len(volumes)*s.steps > mostVolumeWork {
		return errTooMuch
	}
	w, stop := term.StartWatch(s.ctx, "volumes", s.stderr)
	defer stop()
	out := &scenarios.VolumeStudy{Share: 0.2}
	for i, p := range s.plans {
		v, err := study.ViewVolumes(p, volumes, study.VolumeOptions{Share: out.Share, Shifts: []float64{1, 2, 3}}, w.Part(i, len(s.plans)))
		if err != nil {
			return err
		}
		out.Views = append(out.Views, v)
	}
	s.r.Volumes = out
	return nil
}
