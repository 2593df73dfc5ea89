//go:build race

package photo_test

const raceDetector = true
