package report

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"

	"piececost/cmd/piececost/internal/term"
	"piececost/costmodel"
)

// ListProcesses prints the processes by group, the forms and the shared equations that the library knows.
func ListProcesses(w io.Writer, lib *costmodel.Library) {
	group := ""
	for i, t := range byGroup(lib.Processes) {
		of, standard, _ := strings.Cut(t.Group, ", ")
		if of != group || i == 0 {
			fmt.Fprintf(w, "%sProcesses: %s\n", map[bool]string{true: "\n"}[i > 0], of)
			group = of
		}
		listed(w, t.Name, standard, t.What)
		if len(t.Aliases) > 0 {
			listed(w, "", "", "also called "+strings.Join(t.Aliases, ", "))
		}
	}
	for _, part := range []struct {
		title string
		list  []*costmodel.Template
	}{{"Forms of material", lib.Forms}, {"Kinds of tool", lib.Tools}, {"Sizes of machines", lib.Sizes}, {"Shared equations", lib.Shared()}} {
		fmt.Fprintf(w, "\n%s\n", part.title)
		for _, t := range part.list {
			what := t.Note
			if t.What != "" {
				what = t.What
			}
			listed(w, cmp.Or(t.Name, t.Scope), "", what+t.Title)
		}
	}
	fmt.Fprintln(w)
	term.Wrap(w, "", "", "What is not here: timed operation takes any operation whose time is known, the form given masses any part whose masses are; "+
		"a process or form of your own is written in the sheet Processes of the workbook, which says how; "+
		"--as-sheet NAME FILE puts a copy of one there, to be changed.")
	fmt.Fprintln(w, Caution)
}

// listed prints a line of the list; a long name has it to itself.
func listed(w io.Writer, name, standard, what string) {
	const room = 34
	if len(name) > room {
		fmt.Fprintf(w, "  %s\n", name)
		name = ""
	}
	fmt.Fprintln(w, strings.TrimRight(fmt.Sprintf("  %-*s %-12s %s", room, name, standard, what), " "))
}

// byGroup sorts processes by their part of DIN 8580, those of no group last, each group by name as the library has it.
func byGroup(list []*costmodel.Template) []*costmodel.Template {
	out := slices.Clone(list)
	slices.SortStableFunc(out, func(a, b *costmodel.Template) int {
		x, _, _ := strings.Cut(a.Group, ",")
		y, _, _ := strings.Cut(b.Group, ",")
		return strings.Compare(x, y)
	})
	return out
}

// ShowTemplate prints the page of one of them: what it is, when it fits, inputs, relations, limits, caution.
func ShowTemplate(w io.Writer, lib *costmodel.Library, t *costmodel.Template) {
	fmt.Fprintln(w, strings.TrimSpace(t.Name+" "+t.Title))
	for _, line := range []struct{ title, text string }{{"", t.Group}, {"also called: ", strings.Join(named(t.Aliases), ", ")}, {"what it is: ", t.What},
		{"fits: ", t.Fits}, {"fits not: ", t.FitsNot}, {"kind of tool: ", t.ToolKind()}, {"note: ", t.Note}, {"caution: ", t.Caution}} {
		if line.text != "" {
			term.Wrap(w, "  "+line.title, "    ", line.text)
		}
	}
	needs := lib.Needs()
	for _, part := range []struct {
		title string
		input bool
	}{{"Inputs", true}, {"Relations", false}} {
		title := "\n" + part.title + "\n"
		for _, it := range t.Items {
			if it.Input == part.input {
				fmt.Fprint(w, title)
				title = ""
				showItem(w, needs, t, &it)
			}
		}
	}
	for i, c := range t.Checks {
		if i == 0 {
			fmt.Fprint(w, "\nLimits\n")
		}
		fmt.Fprintf(w, "\ncheck: %s\n", c.Holds)
		term.Wrap(w, "  else: ", "    ", c.Say+map[bool]string{true: " (an error)"}[c.Error])
	}
	if t.Example != nil {
		showExample(w, t.Example)
	}
}

// showExample prints a use with numbers: what is given, and the results with where each comes from.
func showExample(w io.Writer, e *costmodel.Example) {
	fmt.Fprint(w, "\nExample\n\n")
	term.Wrap(w, "  ", "  ", e.What)
	fmt.Fprint(w, "\n  given, all else at its default:\n")
	for _, f := range e.Given {
		fmt.Fprintf(w, "    %s = %s\n", f.Name, f.Text)
	}
	for _, part := range []struct {
		title string
		list  []costmodel.Figure
	}{{"published:", e.Published}, {"reckoned by hand:", e.ByHand}} {
		for i, f := range part.list {
			if i == 0 {
				fmt.Fprintln(w, "  "+part.title)
			}
			fmt.Fprintf(w, "    %s = %s\n", f.Name, f.Text)
		}
	}
	if e.Source != "" {
		term.Wrap(w, "  source: ", "    ", e.Source)
	}
}

// named leaves out the alias of a form for an empty cell.
func named(aliases []string) (out []string) {
	for _, a := range aliases {
		if a != "" {
			out = append(out, a)
		}
	}
	return out
}

func showItem(w io.Writer, needs costmodel.Needs, t *costmodel.Template, it *costmodel.Item) {
	symbol := ""
	if it.Symbol != "" {
		symbol = ", " + it.Symbol
	}
	fmt.Fprintf(w, "\n%s [%s]%s\n", it.Name, it.Unit+strings.Join(it.Options, ", "), symbol)
	switch need(needs, t, it) {
	case "own":
		fmt.Fprintln(w, "  input, for expressions of your own; nothing of the library reads it")
	case "checks":
		fmt.Fprintln(w, "  input, for checks; without it they are not made")
	case "required":
		fmt.Fprintln(w, "  input, must be given")
	case "instead":
		fmt.Fprintf(w, "  input; %s follows from it where that is not given\n", it.InsteadOf)
	case "default":
		fmt.Fprintf(w, "  input, default %s%s\n", it.Default(), defaultKind(it))
	default:
		fmt.Fprintf(w, "  = %s\n", it.Is)
		if it.Kind != "" {
			fmt.Fprintf(w, "  %s\n", it.Kind)
		}
	}
	if also := it.OtherNames(); also != "" {
		fmt.Fprintln(w, "  also called "+also)
	}
	if it.Possible.Known() {
		fmt.Fprintf(w, "  possible %s\n", it.Possible.Bounds())
	}
	if it.Plausible != nil {
		fmt.Fprintf(w, "  plausible %v to %v\n", it.Plausible[0], it.Plausible[1])
	}
	if s := it.Sentence(); s != "" {
		term.Wrap(w, "  ", "    ", s)
	}
}

func defaultKind(it *costmodel.Item) string {
	if it.Kind == "" {
		return ""
	}
	return ", " + string(it.Kind)
}

// need says whether an input has a default, must be given, may be given instead of another, is for checks alone or for nothing of the
// library; it is empty for a relation.
func need(needs costmodel.Needs, t *costmodel.Template, it *costmodel.Item) string {
	switch {
	case !it.Input:
		return ""
	case it.Is != "":
		return "default"
	case it.InsteadOf != "":
		return "instead"
	case needs.Unread(t, it.Name):
		return "own"
	case needs.OnlyChecks(t, it.Name):
		return "checks"
	}
	return "required"
}
