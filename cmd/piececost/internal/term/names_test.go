package term

import (
	"slices"
	"testing"
	"unicode/utf8"
)

func TestShortNames(t *testing.T) {
	for _, c := range []struct{ names, want []string }{
		{[]string{"A baseline", "sixteen letters!"}, []string{"A baseline", "sixteen letters!"}},
		{[]string{"A baseline", "D today, with a thin cover"}, []string{"A baseline", "D today, with.."}},
		{[]string{"Tray with the cover, plant 1", "Tray with the cover, plant 2"}, []string{"Tray wi..plant 1", "Tray wi..plant 2"}},
		{[]string{"Tray with cover, steel, plant 1", "Tray with cover, glass, plant 1"}, []string{"Tray with cov..1", "Tray wi..plant 1"}},
		{[]string{"Görlitz, die Wanne mit Deckel", "Görlitz, die Wanne ohne Deckel"}, nil},
		{[]string{"Tray with the ..", "Tray with the cover", "Tray with the cover and a"}, nil},
	} {
		got := ShortNames(c.names, 16)
		if c.want != nil && !slices.Equal(got, c.want) {
			t.Errorf("%q: %q", c.names, got)
		}
		for i, s := range got {
			if doubled(got, i) || utf8.RuneCountInString(s) > 16 {
				t.Errorf("%q: %q", c.names, got)
			}
		}
	}
}

// FuzzShortNames: whatever the names, different ones stay different, and short ones as they are.
func FuzzShortNames(f *testing.F) {
	f.Add("a very long name one", "a very long name two", "a very long name..1", 12)
	f.Fuzz(func(t *testing.T, a, b, c string, most int) {
		names := []string{a, b, c}
		if most < 8 || most > 100 || a == b || b == c || a == c || !utf8.ValidString(a+b+c) {
			t.Skip()
		}
		got := ShortNames(names, most)
		for i, s := range got {
			n := utf8.RuneCountInString(names[i])
			if doubled(got, i) || utf8.RuneCountInString(s) > most || n <= most && s != names[i] {
				t.Errorf("%q to %d: %q", names, most, got)
			}
		}
	})
}
