package made

import (
	"math"
	"math/rand/v2"
)

// A tile is one repeat of a print, drawn at tilePPI and wrapped round.
type tile struct {
	w, h   int
	pu, pv float64
	c      []Color
}

const tilePPI = 48

func newTile(pu, pv float64, ground Color) *tile {
	t := &tile{w: int(pu*tilePPI + 0.5), h: int(pv*tilePPI + 0.5), pu: pu, pv: pv}
	t.c = make([]Color, t.w*t.h)
	for i := range t.c {
		t.c[i] = ground
	}
	return t
}

func (t *tile) copied() *tile {
	c := *t
	c.c = append([]Color(nil), t.c...)
	return &c
}

// blob draws a lobed flower or leaf, over the edges of the tile.
func (t *tile) blob(u, v, r, lobes, turn, depth float64, c Color) {
	n := int(r*1.5*tilePPI) + 2
	cx, cy := u/t.pu*float64(t.w), v/t.pv*float64(t.h)
	for dy := -n; dy <= n; dy++ {
		for dx := -n; dx <= n; dx++ {
			x, y := int(math.Floor(cx))+dx, int(math.Floor(cy))+dy
			ex, ey := (float64(x)+0.5-cx)/tilePPI, (float64(y)+0.5-cy)/tilePPI
			far, a := math.Hypot(ex, ey), math.Atan2(ey, ex)
			edge := r * (1 + depth*math.Cos(lobes*(a+turn)))
			if k := min(1, max(0, (edge-far)*tilePPI+0.5)); k > 0 {
				i := (y%t.h+t.h)%t.h*t.w + (x%t.w+t.w)%t.w
				t.c[i] = mix(t.c[i], c, k)
			}
		}
	}
}

func (t *tile) scatter(rng *rand.Rand, n int, least, most float64, colors []Color) {
	for range n {
		t.blob(rng.Float64()*t.pu, rng.Float64()*t.pv, least+rng.Float64()*(most-least),
			float64(3+rng.IntN(4)), rng.Float64()*6, 0.15+0.35*rng.Float64(),
			colors[rng.IntN(len(colors))])
	}
}

// mirror makes the tile the same both ways about u = 0 and u = pu/2.
func (t *tile) mirror() {
	for y := range t.h {
		for x := range t.w / 2 {
			t.c[y*t.w+t.w-1-x] = t.c[y*t.w+x]
		}
	}
}

func (t *tile) at(u, v float64) Color {
	x := wrap(u/t.pu*float64(t.w)-0.5, float64(t.w))
	y := wrap(v/t.pv*float64(t.h)-0.5, float64(t.h))
	x0, y0 := int(x), int(y)
	fx, fy := x-float64(x0), y-float64(y0)
	x1, y1 := (x0+1)%t.w, (y0+1)%t.h
	x0, y0 = x0%t.w, y0%t.h
	return mix(mix(t.c[y0*t.w+x0], t.c[y0*t.w+x1], fx), mix(t.c[y1*t.w+x0], t.c[y1*t.w+x1], fx), fy)
}
