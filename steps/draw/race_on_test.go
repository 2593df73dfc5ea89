//go:build race

package draw_test

// raceOn: the race detector is on.
const raceOn = true
