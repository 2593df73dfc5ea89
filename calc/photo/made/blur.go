package made

import "math"

// blur is a picture out of focus, rows first, then columns.
func blur(pix []float32, w, h int, sigma float64) {
	if sigma < 0.1 {
		return
	}
	n := int(3*sigma + 0.5)
	k := make([]float32, 2*n+1)
	var sum float32
	for i := range k {
		d := float64(i - n)
		k[i] = float32(math.Exp(-d * d / (2 * sigma * sigma)))
		sum += k[i]
	}
	row := make([]float32, 3*w)
	for y := range h {
		line := pix[3*y*w : 3*(y+1)*w]
		copy(row, line)
		for x := range w {
			for c := range 3 {
				var v float32
				for i, f := range k {
					v += f * row[3*min(w-1, max(0, x+i-n))+c]
				}
				line[3*x+c] = v / sum
			}
		}
	}
	src := append([]float32(nil), pix...)
	for y := range h {
		for x := range 3 * w {
			var v float32
			for i, f := range k {
				v += f * src[3*w*min(h-1, max(0, y+i-n))+x]
			}
			pix[3*y*w+x] = v / sum
		}
	}
}
