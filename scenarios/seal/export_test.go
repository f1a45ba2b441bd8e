package seal

// Canonical is what a fingerprint is made of.
func Canonical(sheet, formula string, move Move) (out string, ok bool) {
	var s Scribe
	ok = s.write(sheet, formula, move)
	return string(s.text), ok
}
