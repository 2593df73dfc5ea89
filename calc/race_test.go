//go:build race

package calc_test

import "flag"

// The race detector finds nothing where there are no goroutines, and takes ten times as long:
// with it a part is tried of what is tried without it.
func init() { flag.Set("rapid.checks", "20") } // of 100
