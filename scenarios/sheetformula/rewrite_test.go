package sheetformula

import "testing"

// TestRewrite: references written anew are as they were, letter for letter; others are changed, and nothing beside them.
func TestRewrite(t *testing.T) {
	same := func(written string, r Ref) (string, bool) {
		if r.Sheet != "" {
			return written, true
		}
		return r.Cells(), true
	}
	for _, f := range []string{
		"B7*2", " $B7 + B$7 ", "SUM($A$1:AB12)", "SUM(A:A)/SUM($3:$4)", `"B7"&B7`, "Case!C7*'My sheet'!$A$1", "IF(XFD1048576>0,1,0)", "A1:INDEX(B:B,3)", "",
	} {
		if got, ok := Rewrite(f, same); !ok || got != f {
			t.Errorf("%q becomes %q, %v", f, got, ok)
		}
	}
	down := func(_ string, r Ref) (string, bool) {
		r.Row1, r.Row2 = r.Row1+1, r.Row2+1
		return r.Cells(), r.Row1 < 100
	}
	if got, ok := Rewrite(`"B7"&B7 + SUM($A$1:C3)`, down); !ok || got != `"B7"&B8 + SUM($A$2:C4)` {
		t.Errorf("%q, %v", got, ok)
	}
	for _, f := range []string{"B7+A100", "B7+#REF!"} {
		if got, ok := Rewrite(f, down); ok {
			t.Errorf("%s becomes %s", f, got)
		}
	}
}
