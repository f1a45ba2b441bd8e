package costmodel

import (
	"bytes"
	"strings"
	"testing"
)

// TestAliasClashes: an alias that means something else already is an error when the library is loaded, with its place.
func TestAliasClashes(t *testing.T) {
	files := templatesInMemory(t)
	for alias, want := range map[string]string{
		"nesting_utilisation": "a quantity is called so",
		"gauge":               "a quantity is called so", // of forms
		"material":            "the language has that word",
		"pi":                  "the language has that word",
		"base":                "the language has that word",
		"part":                "it is a column of the sheet Parts",
		"form":                "it is a column of the sheet Parts",
		"has_route":           "it follows from the structure",
		"Trimmed share":       "it is no name; write small letters and underscores",
		"a.b":                 "it is no name; write small letters and underscores",
	} {
		err := loadWith(files, func(path string, text []byte) []byte {
			if path != "equations/5-part.yaml" {
				return text
			}
			out := bytes.Replace(text, []byte("aliases: [trimmed_share]"), []byte("aliases: [trimmed_share, "+alias+"]"), 1)
			if bytes.Equal(out, text) {
				t.Fatal("nothing is changed")
			}
			return out
		})
		if err == nil || !strings.Contains(err.Error(), "equations/5-part.yaml:6: "+alias+" can't be another name of trim_loss_share: "+want) {
			t.Errorf("%s: %v", alias, err)
		}
	}
	err := loadWith(files, func(path string, text []byte) []byte {
		return bytes.Replace(text, []byte("nesting_utilisation: {"), []byte("nesting_utilisation: {aliases: [trimmed_share], "), 1)
	})
	if err == nil || !strings.Contains(err.Error(), "trimmed_share can't be another name of nesting_utilisation: it is another name of trim_loss_share") {
		t.Errorf("one alias for two: %v", err)
	}
	if _, err := libraryOfTests(); err != nil {
		t.Errorf("as it stands: %v", err)
	}
}
