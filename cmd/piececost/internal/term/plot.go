package term

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode"
	"unicode/utf8"
)

// A Curve curve is drawn by its mark, a letter.
type Curve struct {
	Mark rune
	Name string
	Y    []float64 // above 0
}

// The size of a plot in characters, without its axis: with the axis it stays below 80 columns.
const (
	plotWidth  = 64
	plotHeight = 16
)

// PlotVolumes returns the volumes of the columns of a plot, evenly spaced by ratio, one a column.
func PlotVolumes(from, to float64) []float64 {
	out := make([]float64, plotWidth)
	for i := range out {
		out[i] = math.Round(from * math.Pow(to/from, float64(i)/float64(plotWidth-1)))
	}
	return out
}

// Plot draws curves over the volumes of plotVolumes, both axes by ratio, and under them which curve is the lowest.
func Plot(w io.Writer, title string, volumes []float64, curves []Curve) {
	lo, hi := math.Inf(1), 0.0
	for _, c := range curves {
		for _, v := range c.Y {
			lo, hi = min(lo, v), max(hi, v)
		}
	}
	if !(lo > 0) || math.IsInf(hi, 0) || math.IsNaN(hi) || lo == hi {
		return
	}
	fmt.Fprintln(w, title)
	rows := make([][]rune, plotHeight)
	for r := range rows {
		rows[r] = []rune(strings.Repeat(" ", plotWidth))
	}
	lowest := make([]rune, plotWidth)
	for x := range plotWidth {
		best := 0
		for i, c := range curves {
			r := int(math.Round(float64(plotHeight-1) * math.Log(hi/c.Y[x]) / math.Log(hi/lo)))
			if rows[r][x] == ' ' {
				rows[r][x] = c.Mark
			} else {
				rows[r][x] = '*'
			}
			if c.Y[x] < curves[best].Y[x] {
				best = i
			}
		}
		lowest[x] = curves[best].Mark
	}
	for r, row := range rows {
		label := ""
		if r%5 == 0 {
			label = plotNumber(hi * math.Pow(lo/hi, float64(r)/float64(plotHeight-1)))
		}
		fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("%10s |%s", label, string(row)), " "))
	}
	fmt.Fprintf(w, "%10s +%s\n", "", strings.Repeat("-", plotWidth))
	left, right := Grouped(volumes[0], 0), Grouped(volumes[plotWidth-1], 0)
	middle := Grouped(volumes[plotWidth/2], 0)
	gap := plotWidth/2 - len(left) - len(middle)/2
	fmt.Fprintf(w, "%10s  %s%s%s%s%s\n", "a year", left, strings.Repeat(" ", gap), middle,
		strings.Repeat(" ", plotWidth-len(left)-gap-len(middle)-len(right)), right)
	fmt.Fprintf(w, "%10s  %s\n", "cheapest", string(lowest))
	var names []string
	for _, c := range curves {
		names = append(names, fmt.Sprintf("%c %s", c.Mark, c.Name))
	}
	printLegend(w, append(names, "* several"))
}

// printLegend prints what marks stand for: on one line where they fit, else one a line.
func printLegend(w io.Writer, names []string) {
	if line := strings.Join(names, ", "); utf8.RuneCountInString(line) <= Columns(w) {
		fmt.Fprintln(w, line)
		return
	}
	for _, n := range names {
		Wrap(w, "", "  ", n)
	}
}

// plotNumber writes an axis label with four digits or all those before the point.
func plotNumber(v float64) string {
	return Grouped(v, max(0, 3-int(math.Floor(math.Log10(v)))))
}

// PlotMarks gives each name a letter: its first one where the letters differ, else a, b, c.
func PlotMarks(names []string) []rune {
	out := make([]rune, len(names))
	seen := map[rune]bool{}
	for i, n := range names {
		for _, r := range n {
			out[i] = unicode.ToUpper(r)
			break
		}
		if seen[out[i]] || out[i] < 'A' || out[i] > 'Z' {
			for j := range out {
				out[j] = rune('a' + j%26)
			}
			return out
		}
		seen[out[i]] = true
	}
	return out
}
