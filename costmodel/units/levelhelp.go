package units

// LevelHelp says what to do where one dimension was given and the other wanted, and they are the two kinds of temperature; "" for any
// other pair.
func LevelHelp(given, wanted Dim) string {
	switch {
	case given == Temperature && wanted.Level:
		return "K is for differences of temperatures; write the temperature itself in degC or degF"
	case given.Level && wanted == Temperature:
		return "degC and degF are levels of temperature; write a difference in K, of 18 degF it is 10 K"
	}
	return ""
}

// Fits tells whether a quantity written in the unit may stand where another is wanted: it measures the same, and an angle is no
// share or count, though all are plain numbers.
func (u Unit) Fits(wanted Unit) bool { return u.Dim == wanted.Dim && u.Angle() == wanted.Angle() }

// Describe names what the unit measures, for a message.
func (u Unit) Describe() string {
	if u.Angle() {
		return "an angle [" + u.Text + "]"
	}
	return u.Dim.Describe()
}

// Help says what to do where a unit does not fit, "" where that is plain.
func (u Unit) Help(wanted Unit) string {
	switch {
	case u.Dim == wanted.Dim && wanted.Angle():
		return "write an angle in deg or rad"
	case u.Dim == wanted.Dim && u.Angle():
		return "an angle does not belong here; write a plain number or a share"
	}
	return LevelHelp(u.Dim, wanted.Dim)
}
