package costmodel

import "math"

// LevelSpan is what a level of temperature is moved by in place of its whole: a tenth of the scale between ice and steam, 10 K, where
// other inputs are moved by 10 %. A share of a level means nothing, since 20 degC and 68 degF are one temperature.
const LevelSpan = 100 // K

// IsLevel tells whether the values of the input are levels of temperature.
func (v *Varied) IsLevel() bool { return v.Unit.Dim.Level }

// HasShares tells whether the base value can be moved by a share: it is known, and not 0 unless it is a level.
func (v *Varied) HasShares() bool {
	return !math.IsNaN(v.BaseValue) && (v.BaseValue != 0 || v.IsLevel())
}

// AtShare is the coherent value at a share of the base value, 1.1 for 10 % more; of a level it is 10 K more.
func (v *Varied) AtShare(share float64) float64 {
	if v.IsLevel() {
		return v.BaseValue + (share-1)*LevelSpan
	}
	return share * v.BaseValue
}

// ShareAt is the inverse of AtShare.
func (v *Varied) ShareAt(value float64) float64 {
	if v.IsLevel() {
		return 1 + (value-v.BaseValue)/LevelSpan
	}
	return value / v.BaseValue
}
