//go:build !race

package draw_test

const raceOn = false
