package picture

// What is taken.
const (
	MostBytes  = 12 << 20
	MostPixels = 24_000_000
	MostMemory = 44 << 20 // bytes that a decoder may allocate; the Raster comes on top
	LeastSide  = 200
	Side       = 2400 // pixels of the longer side of what is kept
)

// treesCost is what the code trees of a WebP without loss may take for each of its bytes: a set of
// them takes 60 KB, and can be told in 240 bytes.
const treesCost = 300

// cost is what the decoder allocates for the picture, in bytes. It is told from what image/jpeg,
// image/png and x/image/webp do, on the safe side.
func (h header) cost() int {
	pixels := (h.width + 15) / 16 * 16 * ((h.height + 15) / 16 * 16)
	switch h.format {
	case "jpeg":
		return h.jpegCost(pixels)
	case "png":
		cost := 4 * pixels
		if h.deep {
			cost *= 2
		}
		if h.progressive { // the passes beside the whole, the largest of them half of it
			cost *= 2
		}
		return cost
	}
	if h.lossless { // two pictures at times, and code trees
		return 9*pixels + treesCost*h.bytes
	}
	return 2 * pixels // a WebP
}

// jpegCost is each sample's byte; for several scans 4 more for its coefficient; for four colors
// a picture of 4 bytes a pixel on top.
func (h header) jpegCost(pixels int) int {
	most := part{1, 1}
	for _, p := range h.parts {
		most = part{max(most.h, p.h), max(most.v, p.v)}
	}
	samples := 0
	for _, p := range h.parts {
		samples += pixels * p.h * p.v / (most.h * most.v)
	}
	cost := samples
	if h.progressive {
		cost += 4 * samples
	}
	if len(h.parts) == 4 {
		cost += 4 * pixels
	}
	return cost
}
