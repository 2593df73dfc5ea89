//go:build race

package photo_test

// The race detector finds nothing where there are no goroutines, and takes ten times as long.
const raceDetector = true
