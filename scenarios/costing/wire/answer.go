package wire

// Caution stands in every answer that rests on forces, pressures and cycle times.
const Caution = `Forces, pressures and cycle times are for estimating cost only; they defer to the machine maker,
local safety codes and licensed engineers. Results rest on the inputs' sources.`

// An Answer is what every form begins with.
type Answer struct {
	// The form: piececost and the command, with what it was asked for where it has several forms.
	Format string `json:"format"`
	// The version of the form; it changes when a field goes or changes its name, meaning or unit.
	Version int `json:"version"`
}
