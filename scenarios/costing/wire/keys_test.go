package wire

import (
	"flag"
	"fmt"
	"os"
	"reflect"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "rewrite testdata/keys.txt")

// TestKeysStay: the keys of every form and their types are those of testdata/keys.txt. Programs of others read them: a key that
// goes or changes raises the version of the forms that have it (forms.go); one that is added does not.
func TestKeysStay(t *testing.T) {
	var got strings.Builder
	seen := map[reflect.Type]bool{}
	var list func(reflect.Type)
	list = func(of reflect.Type) {
		for of.Kind() == reflect.Pointer || of.Kind() == reflect.Slice || of.Kind() == reflect.Array || of.Kind() == reflect.Map {
			of = of.Elem()
		}
		if of.Kind() != reflect.Struct || seen[of] {
			return
		}
		seen[of] = true
		for i := range of.NumField() {
			f := of.Field(i)
			key := f.Tag.Get("json")
			if f.Anonymous {
				key = "(in place)"
			}
			fmt.Fprintf(&got, "%s: %s %s\n", of.Name(), key, strings.ReplaceAll(f.Type.String(), "wire.", ""))
		}
		for i := range of.NumField() {
			list(of.Field(i).Type)
		}
	}
	for _, f := range forms {
		fmt.Fprintf(&got, "\n%s, version %d\n", f.format, f.version)
		list(f.of)
	}
	const file = "testdata/keys.txt"
	if *update {
		if err := os.WriteFile(file, []byte(got.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got.String() == string(want) {
		return
	}
	before, now := strings.Split(string(want), "\n"), strings.Split(got.String(), "\n")
	for i := range min(len(before), len(now)) {
		if before[i] != now[i] {
			t.Fatalf("line %d was\n%s\nand is\n%s\nA key that goes or changes needs a new version in forms.go; then -update", i+1, before[i], now[i])
		}
	}
	t.Fatal("keys came or went at the end; -update where none that others read has gone")
}
