package report

import (
	"cmp"

	"piececost/costmodel"
	"piececost/scenarios/costing/wire"
)

// ProcessesJSON is the library's pages, or the one of a template.
func ProcessesJSON(lib *costmodel.Library, one *costmodel.Template) wire.Processes {
	out := wire.Processes{Answer: wire.Begin[wire.Processes](), Caution: Caution, Pages: []wire.Page{}}
	needs := lib.Needs()
	for _, part := range []struct {
		sort string
		list []*costmodel.Template
	}{{"process", byGroup(lib.Processes)}, {"form", lib.Forms}, {"tool", lib.Tools}, {"size", lib.Sizes}, {"shared", lib.Shared()}} {
		for _, t := range part.list {
			if one == nil || t == one {
				out.Pages = append(out.Pages, pageOf(needs, part.sort, t))
			}
		}
	}
	return out
}

func pageOf(needs costmodel.Needs, sort string, t *costmodel.Template) wire.Page {
	p := wire.Page{Name: cmp.Or(t.Name, t.Scope), Sort: sort, Aliases: named(t.Aliases), Group: t.Group, What: t.What, Fits: t.Fits, FitsNot: t.FitsNot,
		ToolKind: t.ToolKind(), Note: t.Note, Caution: t.Caution, Inputs: []wire.PageInput{}, Relations: []wire.PageRelation{}, Limits: []wire.PageLimit{}}
	for i := range t.Items {
		it := &t.Items[i]
		possible := ""
		if it.Possible.Known() {
			possible = it.Possible.Bounds()
		}
		if it.Input {
			p.Inputs = append(p.Inputs, wire.PageInput{Name: it.Name, Label: it.Label, Symbol: it.Symbol, Unit: it.Unit, Options: it.Options, Default: it.Is,
				Otherwise: it.Otherwise, Need: need(needs, t, it), InsteadOf: it.InsteadOf, Possible: possible, Plausible: it.Plausible,
				Kind: string(it.Kind), Note: it.Note, Source: it.Source})
		} else {
			p.Relations = append(p.Relations, wire.PageRelation{Name: it.Name, Label: it.Label, Symbol: it.Symbol, Unit: it.Unit, Is: it.Is,
				Possible: possible, Kind: string(it.Kind), Note: it.Note, Source: it.Source})
		}
	}
	for _, c := range t.Checks {
		severity := "warning"
		if c.Error {
			severity = "error"
		}
		p.Limits = append(p.Limits, wire.PageLimit{Holds: c.Holds, Say: c.Say, Severity: severity})
	}
	if t.Example != nil {
		p.Example = exampleOf(t.Example)
	}
	return p
}

func exampleOf(e *costmodel.Example) *wire.PageExample {
	out := &wire.PageExample{What: e.What, Source: e.Source, Given: []wire.PageFigure{}, Results: []wire.PageResult{}}
	for _, f := range e.Given {
		out.Given = append(out.Given, wire.PageFigure{Name: f.Name, Value: f.Number, Unit: f.Unit})
	}
	for _, part := range []struct {
		origin string
		list   []costmodel.Figure
	}{{"published", e.Published}, {"by hand", e.ByHand}} {
		for _, f := range part.list {
			out.Results = append(out.Results, wire.PageResult{Name: f.Name, Value: f.Number, Unit: f.Unit, Origin: part.origin})
		}
	}
	return out
}
