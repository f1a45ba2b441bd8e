package costmodel

import (
	"regexp"
	"strings"

	"piececost/costmodel/table"
	"piececost/costmodel/units"
)

var (
	oneNumber = regexp.MustCompile(`\d+(?:\.\d+)?`)
	// hedges are the words and signs that a person puts beside a number that is not certain (common practice, no source).
	hedges = regexp.MustCompile(
		`(?i)^[\s~≈±<>≤≥?!]*(?:\b(?:about|approx|approximately|appr|ca|circa|c|around|roughly|nearly|almost|some|say|est|estimated|guess|at least|at ` +
			`most|up to|max|min|over|under|below|above|more than|less than|or so|tbc|tbd)\b[\s~≈±<>≤≥?!.]*)*$`)
	unitWord = regexp.MustCompile(`^\s*[A-Za-z%][A-Za-z0-9%/*]*\s*$`)
	twoEnds  = regexp.MustCompile(`^\s*(\d+(?:\.\d+)?)\s*(?:–|—|\.\.+|…|to|bis|or|/-|\+/-|±)\s*(\d+(?:\.\d+)?)\s*([a-zA-Z%/]*)\s*$`)
)

// hedgedHelp says what to write instead of a number with words of doubt, "about 14", or of two numbers, "12 to 16"; empty
// where a text is neither.
func hedgedHelp(text string) string {
	const rest = "; how far it may be off goes into the sheet Uncertainty, as Low and High"
	if len(text) > table.MostEchoed || units.TwoReadings(oneNumber.FindString(text)) != nil {
		return ""
	}
	if m := twoEnds.FindStringSubmatch(text); m != nil {
		return "write one number" + rest + " (" + m[1] + " and " + m[2] + ")"
	}
	at := oneNumber.FindAllStringIndex(text, 2)
	if len(at) != 1 {
		return ""
	}
	before, number, after := text[:at[0][0]], text[at[0][0]:at[0][1]], text[at[0][1]:]
	if strings.TrimSpace(before+after) == "" || !hedges.MatchString(before) {
		return ""
	}
	if !hedges.MatchString(after) {
		if strings.TrimSpace(before) == "" || !unitWord.MatchString(after) {
			return ""
		}
		number += " " + strings.TrimSpace(after)
	}
	return "write " + number + " alone" + rest
}
