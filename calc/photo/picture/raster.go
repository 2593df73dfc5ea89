package picture

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
)

// A Raster is a picture in 8-bit RGB without gaps: W times H pixels of 3 bytes, row by row.
type Raster struct {
	W, H int
	Pix  []uint8
}

// NewRaster is black, w by h pixels.
func NewRaster(w, h int) *Raster { return &Raster{W: w, H: h, Pix: make([]uint8, 3*w*h)} }

// At is the color at a place, by the four pixels round it; the middles of pixels are whole
// numbers. Outside ok is false.
func (r *Raster) At(x, y float64) (c [3]float64, ok bool) {
	if !(x >= 0 && y >= 0 && x <= float64(r.W-1) && y <= float64(r.H-1)) {
		return c, false
	}
	x0, y0 := min(int(x), r.W-2), min(int(y), r.H-2)
	fx, fy := x-float64(x0), y-float64(y0)
	i := 3 * (y0*r.W + x0)
	j := i + 3*r.W
	for k := range 3 {
		top := float64(r.Pix[i+k])*(1-fx) + float64(r.Pix[i+3+k])*fx
		low := float64(r.Pix[j+k])*(1-fx) + float64(r.Pix[j+3+k])*fx
		c[k] = top*(1-fy) + low*fy
	}
	return c, true
}

// parted is the raster as JPEG has it: brightness, and two colors of each two by two pixels. It
// takes half of the raster's bytes, where a picture of four bytes a pixel would take more than it.
func (r *Raster) parted() *image.YCbCr {
	m := image.NewYCbCr(image.Rect(0, 0, r.W, r.H), image.YCbCrSubsampleRatio420)
	for y := 0; y < r.H; y += 2 {
		for x := 0; x < r.W; x += 2 {
			var cb, cr, n int
			for j := y; j < min(y+2, r.H); j++ {
				for i := x; i < min(x+2, r.W); i++ {
					p := r.Pix[3*(j*r.W+i):]
					l, b, d := color.RGBToYCbCr(p[0], p[1], p[2])
					m.Y[m.YOffset(i, j)] = l
					cb, cr, n = cb+int(b), cr+int(d), n+1
				}
			}
			at := m.COffset(x, y)
			m.Cb[at], m.Cr[at] = uint8((cb+n/2)/n), uint8((cr+n/2)/n)
		}
	}
	return m
}

// JPEG codes the raster at a quality of 1 to 100. It has no metadata.
func (r *Raster) JPEG(quality int) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, r.parted(), &jpeg.Options{Quality: quality}); err != nil {
		panic(err) // a buffer takes everything, and no side is over 65,535
	}
	return b.Bytes()
}
