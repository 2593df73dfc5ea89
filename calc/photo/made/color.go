package made

import "math/rand/v2"

// A Color is RGB from 0 to 255.
type Color [3]float64

func mix(a, b Color, t float64) (c Color) {
	for k := range 3 {
		c[k] = a[k] + (b[k]-a[k])*t
	}
	return c
}

var (
	cream = Color{232, 224, 205}
	navy  = Color{38, 48, 92}
	red   = Color{170, 45, 50}
	green = Color{70, 120, 70}
)

// dye is any color, drawn.
func dye(rng *rand.Rand) Color {
	return Color{40 + 200*rng.Float64(), 40 + 200*rng.Float64(), 40 + 200*rng.Float64()}
}

func dyes(rng *rand.Rand, n int) (out []Color) {
	for range n {
		out = append(out, dye(rng))
	}
	return out
}

// near is a color by so much beside another.
func near(rng *rand.Rand, c Color, by float64) Color {
	for k := range 3 {
		c[k] += by * (2*rng.Float64() - 1)
	}
	return c
}
