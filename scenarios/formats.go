package scenarios

import "strings"

const (
	moneyFormat = `#,##0.00;-#,##0.00;"–"`
	centFormat  = `#,##0.0000;-#,##0.0000;"–"`
	wholeFormat = `#,##0;-#,##0;"–"`
	massFormat  = "#,##0.000"
	shareFormat = "0.0%"
)

// valueFormat shows about five digits of a value.
func valueFormat(v float64) string {
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

// padded is a number format that keeps clear of words to the right of the number.
func padded(format string) string { return strings.ReplaceAll(format, ";", "_w;") + "_w" }
