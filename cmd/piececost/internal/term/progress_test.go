package term

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// TestProgressLine words shares and times.
func TestProgressLine(t *testing.T) {
	for _, c := range []struct {
		done  float64
		spent time.Duration
		want  string
	}{
		{0, time.Second, "work"},
		{0.25, time.Second, "work: 25 %, 3 s left"},
		{0.999, 2 * time.Second, "work: 99 %, 1 s left"},
		{1, 2 * time.Second, "work: 100 %, 0 s left"},
		{0.01, 2 * time.Second, "work: 1 %, 3 min 18 s left"},
	} {
		if got := progressLine("work", c.done, c.spent); got != c.want {
			t.Errorf("%v after %v: %q, want %q", c.done, c.spent, got, c.want)
		}
	}
}

// TestWatch: a word only after a second and only to a terminal; the line goes at the end.
func TestWatch(t *testing.T) {
	var out bytes.Buffer
	p, stop := StartWatch("work", &out)
	p.start = p.start.Add(-2 * quietTime)
	if p.Report(0.5); out.Len() > 0 {
		t.Errorf("no terminal: %q", out.String())
	}
	p.w = &out
	p.start = time.Now()
	if p.Report(0.5); out.Len() > 0 {
		t.Errorf("at once: %q", out.String())
	}
	p.start = p.start.Add(-2 * quietTime)
	if p.Report(0.5); !strings.Contains(out.String(), "work: 50 %") {
		t.Errorf("after two seconds: %q", out.String())
	}
	out.Reset()
	p.shown = time.Time{}
	if p.Part(1, 2)(0.5); !strings.Contains(out.String(), "work: 75 %") {
		t.Errorf("half of the second of two pieces: %q", out.String())
	}
	stop()
	if !strings.HasSuffix(out.String(), "\r\x1b[K") {
		t.Errorf("the line stays: %q", out.String())
	}
}
