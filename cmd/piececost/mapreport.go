package main

import (
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"piececost/costmodel"
	"piececost/costmodel/study"
)

// mapReport is a map to be printed; xs and ys are in the unit of the cells.
type mapReport struct {
	*study.Map
	model  *costmodel.Model
	volume float64
	xs, ys []float64
}

func (r *mapReport) print(w io.Writer) {
	names := r.Letters()
	fmt.Fprintf(w, "Cheapest scenario%s\nup: %s\n\n", r.volumeWords(), inputLabel(r.model, &r.Y))
	g := grid{xs: axisLabels(r.xs), ys: axisLabels(r.ys)}
	for j := range r.ys {
		row := make([]string, len(r.xs))
		for i := range r.xs {
			row[i] = r.Letter(names, j, i)
		}
		g.cells = append(g.cells, row)
	}
	g.print(w)
	fmt.Fprintf(w, "across: %s\n%s\n", inputLabel(r.model, &r.X), innerPoints(r.Xs, r.Ys))
	for s, name := range names {
		printWrapped(w, "", "  ", name+" "+r.Scenarios[s].Name)
	}
	fmt.Fprintf(w, "a small letter: the second best costs less than %s %% more\n", figure(study.CloseShare*100))
	for _, cheapest := range slices.Concat(r.Cheapest...) {
		if cheapest < 0 {
			fmt.Fprintln(w, "-: no scenario can be costed there")
			break
		}
	}
	for _, note := range r.Notes() {
		printWrapped(w, "", "  ", note)
	}
}

func (r *mapReport) volumeWords() string {
	switch {
	case r.X.IsVolume() || r.Y.IsVolume():
		return ""
	case r.volume > 0:
		return " at " + shownVolume(r.volume) + " a year"
	}
	return " at each one's own annual volume"
}

func axisLabels(values []float64) []string {
	out := make([]string, len(values))
	for i, v := range values {
		out[i] = figure(v)
	}
	return out
}

// grid prints short cells over two axes, the last row on top. Labels across stand under every so manyth column, as their
// length allows.
type grid struct {
	xs, ys []string
	cells  [][]string
}

func (g grid) print(w io.Writer) {
	left := 0
	for _, y := range g.ys {
		left = max(left, utf8.RuneCountInString(y))
	}
	width := 2
	for width < 8 && left+1+(width+1)*len(g.xs) <= 79 {
		width++
	}
	for j := len(g.ys) - 1; j >= 0; j-- {
		var b strings.Builder
		fmt.Fprintf(&b, "%*s |", left, g.ys[j])
		for _, c := range g.cells[j] {
			fmt.Fprintf(&b, "%*s", width, c)
		}
		fmt.Fprintln(w, b.String())
	}
	fmt.Fprintf(w, "%s +%s\n", strings.Repeat(" ", left), strings.Repeat("-", width*len(g.xs)))
	longest := 0
	for _, x := range g.xs {
		longest = max(longest, utf8.RuneCountInString(x))
	}
	every := (longest + width) / width
	line := []rune(strings.Repeat(" ", left+2+width*len(g.xs)))
	for i := len(g.xs) - 1; i >= 0; i -= every { // labels end under their column
		end := left + 2 + width*(i+1)
		if from := end - len(g.xs[i]); from >= 0 {
			copy(line[from:end], []rune(g.xs[i]))
		}
	}
	fmt.Fprintln(w, strings.TrimRight(string(line), " "))
}

func (r *mapReport) csv(w io.Writer) {
	head := []string{"x", "y", "cheapest", "margin"}
	for _, s := range r.Scenarios {
		head = append(head, csvText(s.Name))
	}
	fmt.Fprintln(w, strings.Join(head, ","))
	for j, y := range r.ys {
		for i, x := range r.xs {
			row := []string{csvNumber(x), csvNumber(y), csvText(r.cheapestName(j, i)), csvNumber(r.Margin[j][i])}
			for s := range r.Scenarios {
				row = append(row, csvNumber(r.Costs[s][j][i]))
			}
			fmt.Fprintln(w, strings.Join(row, ","))
		}
	}
}

func (r *mapReport) cheapestName(j, i int) string {
	if best := r.Cheapest[j][i]; best >= 0 {
		return r.Scenarios[best].Name
	}
	return ""
}

type mapJSON struct {
	Format   string         `json:"format"`
	Version  int            `json:"version"`
	File     string         `json:"file"`
	Currency string         `json:"currency"`
	X        axisJSON       `json:"x"`
	Y        axisJSON       `json:"y"`
	Volume   *float64       `json:"annual_volume,omitempty"`
	Cheapest [][]string     `json:"cheapest"` // by y, then x; empty where nothing can be costed
	Margin   [][]*float64   `json:"margin"`
	Costs    []mapCostsJSON `json:"costs"`
	Caution  string         `json:"caution"`
}

type axisJSON struct {
	Input  string    `json:"input"`
	Unit   string    `json:"unit,omitempty"`
	Values []float64 `json:"values"`
}

type mapCostsJSON struct {
	Scenario string       `json:"scenario"`
	Costs    [][]*float64 `json:"costs"`
}

func axisOfInput(m *costmodel.Model, v *costmodel.Varied, values []float64) axisJSON {
	return axisJSON{Input: v.Input.String(), Unit: unitOf(m, v), Values: values}
}

func finiteRows(rows [][]float64) [][]*float64 {
	out := make([][]*float64, len(rows))
	for j, row := range rows {
		for _, v := range row {
			out[j] = append(out[j], finite(v))
		}
	}
	return out
}

func (r *mapReport) json() mapJSON {
	out := mapJSON{Format: "piececost map", Version: 1, File: r.model.Case.File, Currency: r.model.Schema.Units.ModelCurrency(),
		X: axisOfInput(r.model, &r.X, r.xs), Y: axisOfInput(r.model, &r.Y, r.ys), Margin: finiteRows(r.Margin), Caution: caution}
	if r.volume > 0 {
		out.Volume = &r.volume
	}
	for j := range r.ys {
		row := make([]string, len(r.xs))
		for i := range r.xs {
			row[i] = r.cheapestName(j, i)
		}
		out.Cheapest = append(out.Cheapest, row)
	}
	for s, sc := range r.Scenarios {
		out.Costs = append(out.Costs, mapCostsJSON{sc.Name, finiteRows(r.Costs[s])})
	}
	return out
}

// twoWayReport is a table over two inputs to be printed.
type twoWayReport struct {
	*study.TwoWay
	measure  study.Measure
	response *study.Response
	xs, ys   []float64
}

func (r *twoWayReport) print(w io.Writer) {
	m := r.measure.Model
	currency := m.Schema.Units.ModelCurrency()
	digits := int(costmodel.MoneyDigits(currency, r.response.Magnitude()))
	printWrapped(w, "", "  ", fmt.Sprintf("%s [%s]", sentence(r.measure.Name()), currency))
	if !r.X.IsVolume() && !r.Y.IsVolume() {
		printWrapped(w, "", "  ", sentence(volumeWords(r.measure)))
	}
	fmt.Fprintf(w, "down:   %s, today %s\nacross: %s, today %s\n\n", inputLabel(m, &r.Y), figure(r.Y.Shown(r.Y.Today)), inputLabel(m, &r.X), figure(r.X.Shown(r.X.Today)))
	if said := innerPoints(r.Xs, r.Ys); said != "" {
		fmt.Fprintln(w, said)
	}
	t := &table{}
	t.add(append([]string{""}, axisLabels(r.xs)...)...)
	t.line()
	for j, y := range r.ys {
		row := []string{figure(y)}
		for _, v := range r.Cells[j] {
			text := "-"
			if v == v {
				text = grouped(v, digits)
			}
			row = append(row, text)
		}
		t.add(row...)
	}
	t.print(w)
	for _, note := range r.Notes() {
		printWrapped(w, "", "  ", note)
	}
}

func (r *twoWayReport) csv(w io.Writer) {
	fmt.Fprintln(w, "x,y,value")
	for j, y := range r.ys {
		for i, x := range r.xs {
			fmt.Fprintf(w, "%s,%s,%s\n", csvNumber(x), csvNumber(y), csvNumber(r.Cells[j][i]))
		}
	}
}

type twoWayJSON struct {
	Format   string       `json:"format"`
	Version  int          `json:"version"`
	File     string       `json:"file"`
	Currency string       `json:"currency"`
	Measure  string       `json:"measure"`
	X        axisJSON     `json:"x"`
	Y        axisJSON     `json:"y"`
	Values   [][]*float64 `json:"values"` // by y, then x
	Caution  string       `json:"caution"`
}

func (r *twoWayReport) json() twoWayJSON {
	m := r.measure.Model
	return twoWayJSON{Format: "piececost sensitivity table", Version: 1, File: m.Case.File, Currency: m.Schema.Units.ModelCurrency(), Measure: r.measure.Name(),
		X: axisOfInput(m, &r.X, r.xs), Y: axisOfInput(m, &r.Y, r.ys), Values: finiteRows(r.Cells), Caution: caution}
}
