package term

import (
	"bytes"
	"context"
	"errors"
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

// TestWatch: a word only after a second and only to a terminal; a cancelled watch ends the work.
func TestWatch(t *testing.T) {
	var out bytes.Buffer
	ctx, cancel := context.WithCancel(context.Background())
	p, stop := StartWatch(ctx, "work", &out)
	p.start = p.start.Add(-2 * quietTime)
	if err := p.Report(0.5); err != nil || out.Len() > 0 {
		t.Errorf("no terminal: %v, %q", err, out.String())
	}
	p.w = &out
	p.start = time.Now()
	if err := p.Report(0.5); err != nil || out.Len() > 0 {
		t.Errorf("at once: %v, %q", err, out.String())
	}
	p.start = p.start.Add(-2 * quietTime)
	if err := p.Report(0.5); err != nil || !strings.Contains(out.String(), "work: 50 %") {
		t.Errorf("after two seconds: %v, %q", err, out.String())
	}
	out.Reset()
	p.shown = time.Time{}
	if err := p.Part(1, 2)(0.5); err != nil || !strings.Contains(out.String(), "work: 75 %") {
		t.Errorf("half of the second of two pieces: %v, %q", err, out.String())
	}
	cancel()
	stop()
	if !strings.HasSuffix(out.String(), "\r\x1b[K") {
		t.Errorf("the line stays: %q", out.String())
	}
	if err := p.Report(0.6); !errors.Is(err, ErrStopped) {
		t.Errorf("stopped: %v", err)
	}
}
