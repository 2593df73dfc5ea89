package main

import (
	"math"
	"runtime/debug"
)

// softMemory is from when on the garbage of a server is collected sooner. Without it the heap
// may come to twice what is in use: with 64 devices, eight of them at their worst, some 100 MB
// are in use, and the program came to 262 MB. A small computer in a sewing room has that to
// spare for it and no more. It is no limit: what is in use is never refused.
const softMemory = 160 << 20

// saveMemory keeps to softMemory, where GOMEMLIMIT does not say otherwise.
func saveMemory() {
	if debug.SetMemoryLimit(-1) == math.MaxInt64 {
		debug.SetMemoryLimit(softMemory)
	}
}
