//go:build race

package web_test

// raceOn: the race detector is on; memory is then not what it is, and all takes ten times as long.
const raceOn = true
