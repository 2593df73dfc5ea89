package picture

import (
	"image"
	"image/draw"
)

// smaller is m with no side over side, each pixel the mean of the area that it covers, turned by
// the EXIF orientation. It needs no more than what it makes and a row: a scaler that goes by
// columns first would take 8 bytes for each color of a picture as wide as the new one and as
// high as the old. What is transparent is seen on white.
func smaller(m image.Image, side, orientation int) *Raster {
	b := m.Bounds()
	w, h := b.Dx(), b.Dy()
	if long := max(w, h); long > side {
		w, h = max(1, w*side/long), max(1, h*side/long)
	}
	out := newUpright(w, h, orientation)
	line := image.NewRGBA(image.Rect(0, 0, b.Dx(), 1))
	sum, row := make([]float32, 3*w), make([]float32, 3*w)
	kx, ky := float32(w)/float32(b.Dx()), float32(h)/float32(b.Dy())
	y, left := 0, float32(1) // the new row that is filled, and how much of it is still empty
	for sy := range b.Dy() {
		draw.Draw(line, line.Rect, image.White, image.Point{}, draw.Src)
		draw.Draw(line, line.Rect, m, image.Pt(b.Min.X, b.Min.Y+sy), draw.Over)
		shrink(row, line.Pix, kx)
		part := min(ky, left)
		add(sum, row, part)
		left -= part
		if left < 1e-4 && y < h {
			out.row(y, sum)
			y, left = y+1, 1-(ky-part)
			clear(sum)
			add(sum, row, ky-part)
		}
	}
	if y < h { // what rounding left of the last row
		out.row(y, sum)
	}
	return out.Raster
}

func add(sum, row []float32, part float32) {
	for i, v := range row {
		sum[i] += v * part
	}
}

// shrink makes a row smaller by k, by area.
func shrink(row []float32, pix []uint8, k float32) {
	clear(row)
	x, left := 0, float32(1)
	for i := 0; i < len(pix) && 3*x < len(row); i += 4 {
		part := min(k, left)
		for c := range 3 {
			row[3*x+c] += float32(pix[i+c]) * part
		}
		left -= part
		if left < 1e-4 {
			x, left = x+1, 1-(k-part)
			if 3*x < len(row) {
				for c := range 3 {
					row[3*x+c] += float32(pix[i+c]) * (k - part)
				}
			}
		}
	}
}
