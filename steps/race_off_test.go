//go:build !race

package steps_test

const raceOn = false
