//go:build race

package session_test

// raceOn: the race detector is on, and all takes many times as long.
const raceOn = true
