package main

import (
	"bytes"
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
	p, stop := startWatch("work", &out)
	p.start = p.start.Add(-2 * quietTime)
	if err := p.report(0.5); err != nil || out.Len() > 0 {
		t.Errorf("no terminal: %v, %q", err, out.String())
	}
	p.w = &out
	p.start = time.Now()
	if err := p.report(0.5); err != nil || out.Len() > 0 {
		t.Errorf("at once: %v, %q", err, out.String())
	}
	p.start = p.start.Add(-2 * quietTime)
	if err := p.report(0.5); err != nil || !strings.Contains(out.String(), "work: 50 %") {
		t.Errorf("after two seconds: %v, %q", err, out.String())
	}
	stop()
	if !strings.HasSuffix(out.String(), "\r\x1b[K") {
		t.Errorf("the line stays: %q", out.String())
	}
	if err := p.report(0.6); !errors.Is(err, errStopped) {
		t.Errorf("stopped: %v", err)
	}
}

// TestPlotMarks gives letters that differ.
func TestPlotMarks(t *testing.T) {
	for want, names := range map[string][]string{
		"ABC": {"A today", "b", "C"},
		"abc": {"A", "A 2", "B"},
		"ab":  {"1", "2"},
	} {
		if got := string(plotMarks(names)); got != want {
			t.Errorf("%v: %s, want %s", names, got, want)
		}
	}
}

// TestPlot draws two curves that cross in the middle; no line is wider than 80 columns.
func TestPlot(t *testing.T) {
	volumes := plotVolumes(10, 100_000)
	var up, down []float64
	for i := range volumes {
		up, down = append(up, 10*float64(i+1)), append(down, 10*float64(len(volumes)-i))
	}
	var out bytes.Buffer
	plot(&out, "Two curves", volumes, []plotted{{'U', "up", up}, {'D', "down", down}})
	lines := strings.Split(out.String(), "\n")
	if len(lines) != plotHeight+6 {
		t.Fatalf("%d lines:\n%s", len(lines), out.String())
	}
	for _, l := range lines {
		if len(l) > 80 {
			t.Errorf("%d columns: %s", len(l), l)
		}
	}
	half := plotWidth / 2
	if want := "  cheapest  " + strings.Repeat("U", half) + strings.Repeat("D", half); lines[plotHeight+3] != want {
		t.Errorf("%q, want %q", lines[plotHeight+3], want)
	}
	if first := lines[1]; !strings.HasPrefix(first, "     640.0 |D") || !strings.HasSuffix(first, "U") {
		t.Errorf("first row %q", first)
	}
	out.Reset()
	plot(&out, "Nothing", volumes, []plotted{{'U', "up", make([]float64, plotWidth)}})
	if out.Len() > 0 {
		t.Errorf("costs of 0 are drawn:\n%s", out.String())
	}
}
