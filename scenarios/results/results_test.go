package results

import (
	"strings"
	"testing"
)

// TestOneScenarioHasNoCrossover: a sheet that needs two is absent, the others are there.
func TestOneScenarioHasNoCrossover(t *testing.T) {
	b := &writer{result: &Result{Sensitivity: []*Sensitivity{{}}, Volumes: &VolumeStudy{}}}
	if got := strings.Join(b.studySheets(), ", "); got != "Sensitivity, Capacity and investment" {
		t.Errorf("sheets %s", got)
	}
	if err := b.crossover(); err != nil {
		t.Error(err)
	}
}
