package sheet

import "strings"

const (
	MoneyFormat = `#,##0.00;-#,##0.00;"–"`
	CentFormat  = `#,##0.0000;-#,##0.0000;"–"`
	WholeFormat = `#,##0;-#,##0;"–"`
	MassFormat  = "#,##0.000"
	ShareFormat = "0.0%"
)

// ValueFormat shows about five digits of a value.
func ValueFormat(v float64) string {
	if v < 0 {
		v = -v
	}
	switch {
	case v >= 10000:
		return "#,##0"
	case v >= 100:
		return "#,##0.##"
	case v >= 1:
		return "0.0###"
	case v >= 0.001 || v != v || v == 0:
		return "0.0#####"
	}
	return "0.00E+00"
}

// Padded is a number format that keeps clear of words to the right of the number.
func Padded(format string) string { return strings.ReplaceAll(format, ";", "_w;") + "_w" }
