package costmodel

import (
	"fmt"
	"strings"
)

// A selector picks rows of a sheet by key: "A01", "A01/20", "A01, B01", "A01/*", "*", "* except A01, B01".
type selector struct {
	include, exclude []string
	rank             int // the more specific wins: one key 4, a list 3, a pattern 2, all 1
}

func parseSelector(text string) (selector, error) {
	var s selector
	rest := text
	if i := strings.Index(strings.ToLower(rest), " except "); i >= 0 {
		s.exclude = splitList(rest[i+len(" except "):])
		rest = rest[:i]
	}
	s.include = splitList(rest)
	if len(s.include) == 0 {
		return s, fmt.Errorf("the column Row is empty; write a key, a list, or * for all rows")
	}
	s.rank = 4
	if len(s.include) > 1 {
		s.rank = 3
	}
	for _, p := range s.include {
		switch {
		case strings.Trim(p, "*/") == "":
			s.rank = min(s.rank, 1)
		case strings.Contains(p, "*"):
			s.rank = min(s.rank, 2)
		}
	}
	return s, nil
}

func splitList(text string) []string {
	var out []string
	for _, p := range strings.Split(text, ",") {
		if p = strings.TrimSpace(p); p != "" {
			out = append(out, p)
		}
	}
	return out
}

func (s selector) matches(key string) bool {
	return matchesAny(s.include, key) && !matchesAny(s.exclude, key)
}

func matchesAny(patterns []string, key string) bool {
	for _, p := range patterns {
		if matchesKey(p, key) {
			return true
		}
	}
	return false
}

// matchesKey compares part by part; a pattern with fewer parts matches every longer key, so A01 means all steps of A01.
func matchesKey(pattern, key string) bool {
	if pattern == "*" {
		return true
	}
	ps, ks := strings.Split(pattern, "/"), strings.Split(key, "/")
	if len(ps) > len(ks) {
		return false
	}
	for i, p := range ps {
		if p != "*" && p != ks[i] {
			return false
		}
	}
	return true
}
