package costmodel

import (
	"fmt"
	"regexp"
	"strings"
)

// How a designation is written does not matter: capitals, blanks and hyphens, the standard before or after it, the coating of a sheet
// (+Z100), EN AW before an aluminium alloy, its number (1.0338) instead of its name or beside it. What it says does: a temper or a
// state of delivery (+N, +C, T4) makes another grade.

var (
	// gradeStandard is the standard that a designation stands in: "EN 10130", "DIN EN 10025-2:2019".
	gradeStandard = regexp.MustCompile(`(^|[\s,;(])(din[\s-]*)?(en|iso)([\s-]*iso)?[\s-]*\d{3,5}(-\d+)?(:\d{4}(\+a\d)?)?([\s,;:)-]|$)`)
	// gradeCoating is what EN 10346 and EN 10152 put behind a sheet's grade: coating, its mass, surface and treatment.
	gradeCoating = regexp.MustCompile(`\+\s*(ze|zf|za|zm|zn|z|az|as)\s*\d*(/\d+)?([\s-]+[a-z]{1,2})*$`)
	// gradeAlloy is what stands before the number of an aluminium alloy: wrought AW, cast AC.
	gradeAlloy = regexp.MustCompile(`^(en[\s-]*)?a[wc][\s-]+`)
	// gradeNumber4 is a steel number; a cell that holds a number has lost the noughts at its end.
	gradeNumber4 = regexp.MustCompile(`(^|[\s(/,])([1-9]\.\d{2,4})([\s)/,]|$)`)
	notInKey     = regexp.MustCompile(`[^a-z0-9+.]`)
)

// gradeKey is by what a designation is found.
func gradeKey(text string) string {
	text = strings.ToLower(strings.TrimSpace(text))
	text = strings.TrimSpace(gradeStandard.ReplaceAllString(text, " "))
	text = gradeCoating.ReplaceAllString(text, "")
	text = gradeAlloy.ReplaceAllString(text, "")
	key := notInKey.ReplaceAllString(text, "")
	if m := gradeNumber4.FindString(key); m == key && m != "" {
		key = (key + "00")[:6]
	}
	return key
}

// gradeKeysOf finds grades by each of their names; a name of two of them is an error.
func gradeKeysOf(list []*Grade) (map[string]*Grade, error) {
	out := map[string]*Grade{}
	for _, g := range list {
		for _, name := range g.names() {
			key := gradeKey(name)
			if other := out[key]; other != nil && other != g || key == "" {
				return nil, fmt.Errorf("%s: %q is %s and %s", g.File, name, g.Name, other.nameOr("no name"))
			}
			out[key] = g
		}
	}
	return out, nil
}

// names are the designation and its other names.
func (g *Grade) names() []string { return append([]string{g.Name}, g.Aliases...) }

// GradeNames lists grades by their designations.
func GradeNames(list []*Grade) []string {
	var out []string
	for _, g := range list {
		out = append(out, g.Name)
	}
	return out
}

func (g *Grade) nameOr(none string) string {
	if g == nil {
		return none
	}
	return g.Name
}

// Grade finds a grade by its designation, its number or another of its names; nil where it is not known, or where a name and a number
// that stand beside each other are not of the same grade.
func (lib *Library) Grade(text string) *Grade {
	if g := lib.gradeKeys[gradeKey(text)]; g != nil {
		return g
	}
	m := gradeNumber4.FindStringSubmatchIndex(text)
	if m == nil {
		return nil
	}
	rest := text[:m[4]] + " " + text[m[5]:]
	byNumber, byName := lib.gradeKeys[gradeKey(text[m[4]:m[5]])], lib.gradeKeys[gradeKey(rest)]
	if byNumber != byName {
		return nil
	}
	return byName
}

// SteelNumber is the number that a grade is known by beside its name, as 1.0338; empty where it has none.
func (g *Grade) SteelNumber() string {
	for _, name := range g.names() {
		if m := gradeNumber4.FindStringSubmatchIndex(name); m != nil && m[4] == 0 {
			return name[:m[5]]
		}
	}
	return ""
}

// GradesOf lists the grades of a standard, a family or a form, all where the text is empty.
func (lib *Library) GradesOf(text string) (out []*Grade) {
	text = strings.ToLower(strings.TrimSpace(text))
	for _, g := range lib.Grades {
		for _, of := range []string{g.Standard, g.Family, g.Form} {
			if strings.Contains(strings.ToLower(of), text) {
				out = append(out, g)
				break
			}
		}
	}
	return out
}

// mostNearGrades is how many designations a message names.
const mostNearGrades = 4

// NearGrades lists designations that a text may stand for: those that begin with it (an alloy without its temper), else the nearest.
func (lib *Library) NearGrades(text string) []string {
	key := gradeKey(text)
	var begin, names []string
	byName := map[string]string{}
	for _, g := range lib.Grades {
		for i, name := range g.names() {
			if k := gradeKey(name); len(key) > 2 && strings.HasPrefix(k, key) && i == 0 && len(begin) < mostNearGrades {
				begin = append(begin, g.Name)
			} else {
				names = append(names, k)
				byName[k] = g.Name
			}
		}
	}
	if len(begin) > 0 {
		return begin
	}
	if near := nearestKey(key, names); near != "" {
		return []string{byName[near]}
	}
	return nil
}
