package lint

// plainNumbers are the numbers that may stand in a formula: they count or convert and stand for nothing that could
// change. Minus 1 is a sign and a 1.
var plainNumbers = map[float64]bool{0: true, 1: true, 100: true, 12: true, 24: true, 60: true, 1000: true, 3600: true}

// positions are the arguments, from 0, that say which, how many figures or what kind rather than how much.
var positions = map[string][]int{
	"INDEX": {1, 2, 3}, "VLOOKUP": {2, 3}, "HLOOKUP": {2, 3}, "XLOOKUP": {4, 5}, "XMATCH": {2, 3},
	"OFFSET": {1, 2, 3, 4}, "CHOOSE": {0}, "CHOOSECOLS": {1, 2, 3, 4, 5, 6, 7, 8, 9}, "CHOOSEROWS": {1, 2, 3, 4, 5, 6, 7, 8, 9},
	"TAKE": {1, 2}, "DROP": {1, 2}, "SORT": {1, 2}, "ADDRESS": {0, 1, 2, 3}, "INDIRECT": {1},
	"LARGE": {1}, "SMALL": {1}, "RANK": {2}, "RANK.EQ": {2}, "RANK.AVG": {2}, "QUARTILE": {1}, "QUARTILE.INC": {1}, "QUARTILE.EXC": {1},
	"ROUND": {1}, "ROUNDUP": {1}, "ROUNDDOWN": {1}, "TRUNC": {1}, "FIXED": {1}, "DOLLAR": {1},
	"SUBTOTAL": {0}, "AGGREGATE": {0, 1, 3}, "POWER": {1}, "LOG": {1}, "YEARFRAC": {2}, "WEEKDAY": {1}, "WEEKNUM": {1},
	"LEFT": {1}, "RIGHT": {1}, "MID": {1, 2}, "REPT": {1}, "FIND": {2}, "SEARCH": {2}, "SUBSTITUTE": {3}, "REPLACE": {1, 2},
	"CHAR": {0}, "UNICHAR": {0},
}

// choosing functions pass one of their arguments on: a position stays one inside them.
var choosing = map[string]bool{"IF": true, "IFERROR": true, "IFNA": true, "MIN": true, "MAX": true}

// volatileFunctions are computed anew at each change of any cell.
var volatileFunctions = map[string]bool{
	"NOW": true, "TODAY": true, "RAND": true, "RANDBETWEEN": true, "RANDARRAY": true,
	"OFFSET": true, "INDIRECT": true, "INFO": true, "CELL": true,
}

// summing functions pass over texts in a range without a word.
var summing = map[string]bool{
	"SUM": true, "SUMSQ": true, "SUMPRODUCT": true, "PRODUCT": true, "AVERAGE": true, "MIN": true, "MAX": true, "MEDIAN": true,
	"COUNT": true, "STDEV": true, "STDEV.S": true, "STDEV.P": true, "VAR": true, "VAR.S": true, "VAR.P": true, "NPV": true, "IRR": true,
	"SUBTOTAL": true,
}
