package made

import (
	"bytes"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"

	"cornerwise/calc/photo/flat"
)

// A Picture is a photo with what is true of it.
type Picture struct {
	JPEG    []byte
	Corners flat.Quad // of the sheet, in the photo's pixels, clockwise from its first
	Touched flat.Quad // where somebody touched them
	camera  camera
}

// Fabric is the print's place seen at a pixel.
func (p Picture) Fabric(x, y float64) (u, v float64) {
	at, _ := p.camera.under(x, y)
	return p.camera.fabric(at)
}

// Take photographs the fabric.
func Take(f Fabric, s Shot, rng *rand.Rand) Picture {
	c := newCamera(s, flat.Pt{X: 20 + 2*rng.Float64(), Y: 20 + 2*rng.Float64()})
	light := newLight(s, rng)
	grain := uint32(rng.Uint64())
	out := make([]float32, 3*s.W*s.H)
	for y := range s.H {
		for x := range s.W {
			var sum Color
			for k := range 2 {
				d := 0.5*float64(k) - 0.25
				col := c.color(f, light, grain, float64(x)+d, float64(y)-d)
				for i := range 3 {
					sum[i] += col[i] / 2
				}
			}
			l := light.at(float64(x)/float64(s.W)-0.5, float64(y)/float64(s.H)-0.5)
			for i := range 3 {
				out[3*(y*s.W+x)+i] = float32(sum[i] * l)
			}
		}
	}
	scale := float64(max(s.W, s.H)) / 2400
	blur(out, s.W, s.H, s.Blur*scale)
	img := image.NewRGBA(image.Rect(0, 0, s.W, s.H))
	for i := range s.W * s.H {
		for k := range 3 {
			v := float64(out[3*i+k]) + rng.NormFloat64()*s.Noise + 0.5
			img.Pix[4*i+k] = uint8(min(255, max(0, v)))
		}
		img.Pix[4*i+3] = 255
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: s.Quality}); err != nil {
		panic(err)
	}
	p := Picture{JPEG: b.Bytes(), camera: c}
	for i, q := range flat.Sheet(s.SheetW, s.SheetH) {
		p.Corners[i] = c.at(q)
		p.Touched[i] = flat.Pt{X: p.Corners[i].X + rng.NormFloat64()*s.Touch*scale,
			Y: p.Corners[i].Y + rng.NormFloat64()*s.Touch*scale}
	}
	return p
}

// color is what is seen at a place of the photo, before the light of the room.
func (c camera) color(f Fabric, l light, grain uint32, x, y float64) Color {
	p, ok := c.under(x, y)
	if !ok {
		return Color{90, 80, 70}
	}
	w, h := c.shot.SheetW, c.shot.SheetH
	if p.X >= 0 && p.Y >= 0 && p.X <= w && p.Y <= h {
		return c.shot.Paper
	}
	u, v := c.fabric(p)
	col := f.At(u, v)
	shade := l.creased(u, v) * (1 + 0.05*thread(grain, u, v))
	beside := p.X > -0.1 && p.Y > -0.1 && p.X < w+0.12 && p.Y < h+0.12
	if beside && !c.shot.Pressed { // the sheet's shadow
		shade *= 0.88
	}
	for i := range 3 {
		col[i] = min(255, max(0, col[i]*shade))
	}
	return col
}

// thread is the grain of the weave, near a normal of sigma 1, the same at the same place.
func thread(grain uint32, u, v float64) float64 {
	i, j := uint32(int32(math.Floor(u*72))), uint32(int32(math.Floor(v*72)))
	n := i*0x9e3779b1 ^ j*0x85ebca6b ^ grain
	sum := -2.0
	for range 4 {
		n ^= n << 13
		n ^= n >> 17
		n ^= n << 5
		sum += float64(n) / (1 << 32)
	}
	return sum * math.Sqrt(3)
}
