//go:build race

package steps_test

import "flag"

// raceOn: the race detector is on. It finds nothing where there are no goroutines, and takes ten
// times as long: with it a part is tried of what is tried without it.
const raceOn = true

func init() { flag.Set("rapid.checks", "20") } // of 100
