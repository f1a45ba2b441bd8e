package ooxml

import "testing"

func TestParseCell(t *testing.T) {
	for _, c := range []struct {
		ref      string
		row, col int
		ok       bool
	}{
		{"A1", 1, 1, true},
		{"Z9", 9, 26, true},
		{"AA10", 10, 27, true},
		{"az3", 3, 52, true},
		{"XFD1048576", 1 << 20, 1 << 14, true},
		{"ZZZ9999999", 9999999, 18278, true}, // beyond the sheet: the caller's to refuse
		{"A01", 1, 1, true},
		{"", 0, 0, false},
		{"A", 0, 0, false},
		{"1", 0, 0, false},
		{"A0", 0, 0, false},
		{"A+1", 0, 0, false},
		{"A-1", 0, 0, false},
		{"A 1", 0, 0, false},
		{"$A$1", 0, 0, false},
		{"ABCD1", 0, 0, false},
		{"A1B", 0, 0, false},
		{"A99999999999999999999", 0, 0, false},
	} {
		row, col, ok := parseCell(c.ref)
		if ok != c.ok || ok && (row != c.row || col != c.col) {
			t.Errorf("%q: row %d, column %d, %v", c.ref, row, col, ok)
		}
	}
}

func TestColumnNamesRunBack(t *testing.T) {
	for col := 1; col <= maxCol; col++ {
		if _, got, ok := parseCell(columnName(col) + "7"); !ok || got != col {
			t.Fatalf("column %d is called %s, which reads %d", col, columnName(col), got)
		}
	}
	if columnName(maxCol) != "XFD" {
		t.Error("the last column is XFD (ECMA-376 part 1, 18.18.7)")
	}
}

// TestShift: what a spreadsheet program shows when the formula is copied so many rows down and columns right. Where the
// syntax of a reference is in question: ECMA-376 part 1, 18.17.2.2 and 18.17.2.3. The expected formulas are made by hand.
func TestShift(t *testing.T) {
	for _, c := range []struct {
		in         string
		rows, cols int
		want       string
	}{
		// relative and absolute
		{"A1+$B$2+$C3+D$4", 2, 3, "D3+$B$2+$C5+G$4"},
		{"A1", 0, 0, "A1"},
		{"B3", -2, -1, "A1"},
		{"Z9+AZ9+ZZ9", 1, 1, "AA10+BA10+AAA10"},
		{"a1", 1, 1, "B2"},
		{"-A1%", 1, 0, "-A2%"},
		// ranges
		{"SUM(A1:B2)", 1, 1, "SUM(B2:C3)"},
		{"SUM($A$1:B2)", 1, 1, "SUM($A$1:C3)"},
		{"SUM(A1:B2,C3:D4 D4:E5)", 1, 0, "SUM(A2:B3,C4:D5 D5:E6)"},
		{"A1:INDEX(B:B,3)", 1, 1, "B2:INDEX(C:C,3)"},
		{"A1:B+$A:1", 1, 1, "B2:B+$A:1"}, // from a cell to what the name B stands for
		{"SUM(A1:B2:C3)", 1, 0, "SUM(A2:B3:C4)"},
		// whole columns and rows
		{"SUM(A:A)", 5, 1, "SUM(B:B)"},
		{"SUM(A:$C)", 5, 1, "SUM(B:$C)"},
		{"SUM($A:$A)", 5, 1, "SUM($A:$A)"},
		{"SUM(1:1)", 1, 5, "SUM(2:2)"},
		{"SUM($1:2)", 1, 5, "SUM($1:3)"},
		{"Sheet1!A:A+Sheet1!1:1", 1, 1, "Sheet1!B:B+Sheet1!2:2"},
		{"MATCH(1,X:X,0)", 1, 1, "MATCH(1,Y:Y,0)"},
		// sheets and other workbooks
		{"Sheet1!A1", 1, 1, "Sheet1!B2"},
		{"'It''s A1'!A1", 1, 1, "'It''s A1'!B2"},
		{"TAX2024!A1", 1, 1, "TAX2024!B2"},
		{"Übersicht1!A1", 1, 0, "Übersicht1!A2"},
		{"A1:Sheet1!B2", 1, 1, "B2:Sheet1!C3"},
		{"Sheet1!A1:Sheet1!B2", 1, 1, "Sheet1!B2:Sheet1!C3"},
		{"SUM(Jan:Dec!A1)", 1, 1, "SUM(Jan:Dec!B2)"},
		{"SUM('Q1:Q4'!A1)", 1, 1, "SUM('Q1:Q4'!B2)"},
		{"[1]Sheet1!A1", 1, 1, "[1]Sheet1!B2"},
		{"'[1]Q 1'!A1", 1, 1, "'[1]Q 1'!B2"},
		// texts
		{`A1&"A1"&"say ""B2"""`, 1, 0, `A2&"A1"&"say ""B2"""`},
		{`IF(A1="","A1:B2",B1)`, 1, 0, `IF(A2="","A1:B2",B2)`},
		{`"open A1`, 1, 0, `"open A1`},
		// functions
		{"LOG10(A1)", 1, 1, "LOG10(B2)"},
		{"ATAN2(A1,B1)", 1, 0, "ATAN2(A2,B2)"},
		{"_xlfn.DAYS360(A1)", 1, 0, "_xlfn.DAYS360(A2)"},
		{"BIN2DEC(A1)", 1, 0, "BIN2DEC(A2)"},
		// names and what only looks like a cell; TAX2024 is a cell, for its column lies before XFD
		{"TAX2024*ABC", 1, 1, "TAY2025*ABC"},
		{"ABC+A", 1, 1, "ABC+A"},
		{"Rate_1*A1", 1, 1, "Rate_1*B2"},
		{"_A1+A1_+\\A1+A1.B1", 1, 1, "_A1+A1_+\\A1+A1.B1"},
		{"QUARTER1+XFE1+A1048577+A0", 1, 1, "QUARTER1+XFE1+A1048577+A0"},
		{"größe1*A1", 1, 1, "größe1*B2"},
		// columns of tables
		{"SUM(Table1[A1])+A1", 1, 0, "SUM(Table1[A1])+A2"},
		{"Table1[[#This Row],[Q1]]*B1", 1, 0, "Table1[[#This Row],[Q1]]*B2"},
		{"Table1['[A1]*B1", 1, 0, "Table1['[A1]*B2"},
		{"Table1[it''s A1]*B1", 1, 0, "Table1[it''s A1]*B2"},
		{"A1+Table1[B1", 1, 0, "A2+Table1[B1"},
		// numbers, errors, flags, arrays
		{"1E5+1.5E+3*A1", 1, 1, "1E5+1.5E+3*B2"},
		{"IF(A1,#N/A,#DIV/0!)+#REF!", 1, 0, "IF(A2,#N/A,#DIV/0!)+#REF!"},
		{"IF(TRUE,{1,2;3,4},A1#)", 1, 0, "IF(TRUE,{1,2;3,4},A2#)"},
		// off the sheet
		{"A1", -1, 0, "#REF!"},
		{"A1", 0, -1, "#REF!"},
		{"Sheet1!A1+B2", -1, 0, "Sheet1!#REF!+B1"},
		{"XFD1048576", 0, 1, "#REF!"},
		{"XFD1048576", 1, 0, "#REF!"},
		{"SUM(A1:B2)", -1, 0, "SUM(#REF!)"},
		{"SUM(A:B)", 0, -1, "SUM(#REF!)"},
		{"SUM(A:B)", -1, 0, "SUM(A:B)"},
		{"SUM(1:2)", -1, 0, "SUM(#REF!)"},
		{"$A$1+$A1", 0, -1, "$A$1+$A1"},
		{"", 1, 1, ""},
	} {
		if got := Shift(c.in, c.rows, c.cols); got != c.want {
			t.Errorf("%s by %d, %d is %s, want %s", c.in, c.rows, c.cols, got, c.want)
		}
	}
}
