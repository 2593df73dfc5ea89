//go:build !race

package session_test

const raceOn = false
