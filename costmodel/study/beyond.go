package study

// rounding is the share within which two values of an engine's arithmetic count as equal: far above what adding and
// dividing a few hundred numbers of 16 digits lose, far below a piece of any volume, so that a line short of one piece in
// ten million is still short.
const rounding = 1e-9

// beyond tells whether a value above 0 is more than a limit by more than rounding.
func beyond(v, limit float64) bool { return v > limit*(1+rounding) }
