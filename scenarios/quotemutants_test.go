package scenarios

import (
	"fmt"
	"maps"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"

	"piececost/costmodel"
	"piececost/costmodel/quote"
)

// A quoteKiller is a case with what is known of it from elsewhere: the reference, and where it is a case of patterns their evidence.
type quoteKiller struct {
	*quoteCase
	ref      refAnswer
	about    string // the rule that it is about, "" for the chain
	at       int    // the quote whose pattern is known
	pattern  string
	evidence string
}

// quoteKillers are all cases of the tests of quotes.
func quoteKillers(t testing.TB) (out []*quoteKiller) {
	t.Helper()
	sample := smallQuoteSheets(t)
	add := func(about string, edits ...string) *quoteKiller {
		c := newQuoteCase(t, strings.Join(edits, "; "), sample.edit(t, edits...))
		k := &quoteKiller{quoteCase: c, ref: c.reference(t), about: about}
		out = append(out, k)
		return k
	}
	add("")
	for _, c := range quoteChainCases {
		add("", c.with...)
	}
	for _, terms := range quoteTermCases {
		add("", terms...)
	}
	for _, c := range quoteRuleCases {
		rule := strings.Fields(c.rule)[0]
		add(rule, append(slices.Clone(c.with), c.breaks)...)
		add(rule, append(slices.Clone(c.with), c.inside)...)
	}
	for _, c := range quoteLacks {
		add("", c.without...)
	}
	for _, c := range quotePatterns {
		k := add("pattern", c.with...)
		k.at, k.pattern, k.evidence = c.quote, c.pattern, c.evidence
		k = add("pattern", append(slices.Clone(c.with), c.without)...)
		k.at, k.pattern, k.evidence = c.quote, c.pattern, c.withoutEvidence
	}
	return out
}

// judge tells what becomes of a changed library of quotes.
func (k *quoteKiller) judge(t testing.TB, lib *costmodel.QuoteLibrary) fate {
	q := costmodel.ReadQuotes(k.model, lib)
	a, ds, err := quote.Ask(t.Context(), q)
	for _, d := range ds.Sorted() {
		switch {
		case strings.HasSuffix(d.Place.File, ".yaml"):
			return fate{"refused by the library", d.Summary}
		case a == nil:
			return fate{"refused by a case", d.Summary}
		}
	}
	if err != nil || a == nil {
		return fate{"refused by a case", fmt.Sprint(err)}
	}
	if d := k.ref.differs(a); len(d) > 0 {
		return fate{"killed", k.name + ": " + d[0]}
	}
	if k.pattern != "" && patternOf(a.Offers[k.at], k.pattern) != k.evidence {
		return fate{"killed", k.name + ": " + k.pattern}
	}
	return fate{what: survived}
}

// A quoteMutant is a text of templates/quotes with one thing changed.
type quoteMutant struct {
	mutant
	lib *costmodel.QuoteLibrary
}

// quoteMutants lists every changed equation, otherwise, value, bound and effect of a rule, step of the chain and pattern.
func quoteMutants(t testing.TB, lib *costmodel.QuoteLibrary, k *quoteKiller) (out []quoteMutant) {
	t.Helper()
	files := &costmodel.Library{}
	named := map[string][]costmodel.Item{}
	for _, tmpl := range lib.Templates {
		named[tmpl.Scope] = tmpl.Items
		for _, file := range definedIn(tmpl) {
			part := *tmpl
			part.File = file
			files.Scopes = append(files.Scopes, &part)
		}
	}
	m := newMutator(files, k.model.Schema.Units)
	m.named = named
	for _, u := range m.all() {
		if u.file == "quotes/1-request.yaml" && u.check {
			continue // what it refuses is no possible value
		}
		changed := *lib
		for i, tmpl := range lib.Templates {
			if c := u.in(tmpl); c != nil && tmpl.Scope == u.scope {
				changed.Templates = slices.Clone(lib.Templates)
				changed.Templates[i] = c
			}
		}
		out = append(out, quoteMutant{u, &changed})
	}
	return slices.Concat(out, chainMutants(lib), patternMutants(lib))
}

func definedIn(tmpl *costmodel.Template) (files []string) {
	for _, it := range tmpl.Items {
		if !slices.Contains(files, it.DefinedIn()) {
			files = append(files, it.DefinedIn())
		}
	}
	return files
}

// chainMutants show another quantity in a step, or none.
func chainMutants(lib *costmodel.QuoteLibrary) (out []quoteMutant) {
	for i, c := range lib.Chain {
		for name, field := range map[string]func(*costmodel.ChainStep) *string{"shows": func(s *costmodel.ChainStep) *string { return &s.Shows },
			"change": func(s *costmodel.ChainStep) *string { return &s.Change }, "sum": func(s *costmodel.ChainStep) *string { return &s.Sum },
			"stated": func(s *costmodel.ChainStep) *string { return &s.Stated }} {
			if *field(&c) == "" {
				continue
			}
			for _, other := range []string{"", "levelised_factor"} {
				if name == "shows" && other == "" {
					continue // it has nothing to show then, and is refused
				}
				changed := *lib
				changed.Chain = slices.Clone(lib.Chain)
				*field(&changed.Chain[i]) = other
				out = append(out, quoteMutant{mutant{file: c.Place.File, item: fmt.Sprintf("step %d", c.Step), kind: "step", text: name + " " + other},
					&changed})
			}
		}
	}
	slices.SortFunc(out, func(a, b quoteMutant) int { return strings.Compare(a.line(), b.line()) })
	return out
}

// patternMutants leave out or turn a finding that a pattern takes, or take another number of them.
func patternMutants(lib *costmodel.QuoteLibrary) (out []quoteMutant) {
	for i, p := range lib.Patterns {
		add := func(text string, change func(*costmodel.QuotePattern)) {
			changed := *lib
			changed.Patterns = slices.Clone(lib.Patterns)
			c := &changed.Patterns[i]
			c.All, c.Any = slices.Clone(p.All), slices.Clone(p.Any)
			change(c)
			out = append(out, quoteMutant{mutant{file: "quotes/4-quote-rules.yaml", item: p.Pattern, kind: "pattern", text: text}, &changed})
		}
		add("at least one more", func(c *costmodel.QuotePattern) { c.AtLeast++ })
		add("at least one less", func(c *costmodel.QuotePattern) { c.AtLeast-- })
		if p.Where != "" {
			add("without its condition", func(c *costmodel.QuotePattern) { c.Where = "" })
		}
		for n := range p.All {
			add("all without "+p.All[n], func(c *costmodel.QuotePattern) { c.All = slices.Delete(c.All, n, n+1) })
			add("all with "+p.All[n]+" turned", func(c *costmodel.QuotePattern) { c.All[n] = turnedSide(c.All[n]) })
		}
		for n := range p.Any {
			add("any without "+p.Any[n], func(c *costmodel.QuotePattern) { c.Any = slices.Delete(c.Any, n, n+1) })
			add("any with "+p.Any[n]+" turned", func(c *costmodel.QuotePattern) { c.Any[n] = turnedSide(c.Any[n]) })
		}
	}
	return out
}

// turnedSide is a finding on the other side of its bounds; one on any side becomes one below.
func turnedSide(finding string) string {
	rule, side, _ := strings.Cut(finding, " ")
	if side == "low" {
		return rule + " high"
	}
	return rule + " low"
}

// TestQuoteMutants changes each text of templates/quotes in turn; the reference, in one of the cases of the other tests, has to notice.
// testdata/quotes/survivors.txt says why the others can't be noticed. How many are tried is as with TestMutants.
func TestQuoteMutants(t *testing.T) {
	lib, killers := quoteLibrary(t), quoteKillers(t)
	all := quoteMutants(t, lib, killers[0])
	sampled := raceDetector || testing.Short() || *mutantsOf != "" || !*allMutants
	switch {
	case *mutantsOf != "":
		all = slices.DeleteFunc(all, func(u quoteMutant) bool { return !strings.Contains(u.line(), *mutantsOf) })
	case sampled: // they take longer than those of the equations: each is tried on some 250 cases
		all = everyOf(all, 100)
	}
	reasons := readReasons(t, "../testdata/quotes/survivors.txt")
	if sampled { // whether they still survive is asked where all are tried
		all = slices.DeleteFunc(all, func(u quoteMutant) bool { _, known := reasons[u.line()]; return known })
	}
	fates := judgeQuoteMutants(t, all, killers)
	counts := map[string]int{}
	for i, u := range all {
		counts[fates[i].what]++
		line := u.line()
		if *showMutants != "" && strings.Contains(line, *showMutants) {
			t.Logf("%s\n\t%s: %s", line, fates[i].what, fates[i].by)
		}
		if fates[i].what != survived {
			continue
		}
		if _, ok := reasons[line]; !ok {
			t.Errorf("nothing notices:\n%s", line)
		}
		delete(reasons, line)
	}
	for _, line := range slices.Sorted(maps.Keys(reasons)) {
		if !sampled {
			t.Errorf("no longer survives, or is no mutant; delete it from survivors.txt:\n%s", line)
		}
	}
	t.Logf("%d mutants, %d cases: %v", len(all), len(killers), counts)
}

// A quoteJudge tries what may notice a mutant: first the case that noticed another one of the same text, then those about its rule.
type quoteJudge struct {
	killers []*quoteKiller
	mu      sync.Mutex
	last    map[string]*quoteKiller // by file and item
}

// judgeQuoteMutants judges on all processors.
func judgeQuoteMutants(t testing.TB, all []quoteMutant, killers []*quoteKiller) []fate {
	j := &quoteJudge{killers: killers, last: map[string]*quoteKiller{}}
	fates := make([]fate, len(all))
	next := make(chan int)
	var wg sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		wg.Go(func() {
			for i := range next {
				fates[i] = j.judge(t, all[i])
			}
		})
	}
	for i := range all {
		next <- i
	}
	close(next)
	wg.Wait()
	return fates
}

func (j *quoteJudge) judge(t testing.TB, u quoteMutant) fate {
	key := u.file + u.item
	j.mu.Lock()
	last := j.last[key]
	j.mu.Unlock()
	if last != nil {
		if f := last.judge(t, u.lib); f.what != survived {
			return f
		}
	}
	about, _, _ := strings.Cut(u.item, "_")
	if u.kind == "pattern" || strings.HasPrefix(u.item, "pattern_") {
		about = "pattern"
	}
	for _, first := range []bool{true, false} {
		for _, k := range j.killers {
			if (k.about == about) != first || k == last {
				continue
			}
			if f := k.judge(t, u.lib); f.what != survived {
				j.mu.Lock()
				j.last[key] = k
				j.mu.Unlock()
				return f
			}
		}
	}
	if seriesItem.MatchString(u.item) {
		for _, name := range slices.Sorted(maps.Keys(seriesChecks)) {
			if faults := seriesChecks[name](t, u.lib); len(faults) > 0 {
				return fate{"killed", name + ": " + faults[0]}
			}
		}
	}
	return fate{what: survived}
}

// seriesItem are the quantities that only the series figures rest on.
var seriesItem = regexp.MustCompile("^(index_|clause_|contract_price|notice_|price_once_paid|passed_on|change_amount|reject_factor|" +
	"labour_hour|r34_|volume_change|material_change)")

// TestQuoteMutantsUnchanged: with nothing changed nothing notices.
func TestQuoteMutantsUnchanged(t *testing.T) {
	if !*allMutants {
		t.Skip("the cases are tests of their own; that they notice nothing together is tried where all mutants are, in make check")
	}
	lib := quoteLibrary(t)
	for _, k := range quoteKillers(t) {
		if f := k.judge(t, lib); f.what != survived {
			t.Errorf("%s: %s", f.what, f.by)
		}
	}
}
