//go:build race

package scenarios

// raceDetector tells whether the race detector is at work, which makes everything some ten times slower.
const raceDetector = true
