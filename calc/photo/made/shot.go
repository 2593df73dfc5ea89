package made

import "math/rand/v2"

// A Shot is how a picture is taken. Lengths on the fabric are inches.
type Shot struct {
	Name         string
	W, H         int     // pixels of the photo
	SheetW       float64 // the sheet's width, and its length
	SheetH       float64
	Paper        Color
	Wide         float64 // across the middle of the frame's longer side
	OffX, OffY   float64 // of the sheet's middle from the frame's
	TiltX, TiltY float64 // degrees
	Roll         float64 // degrees by which the fabric is turned in the frame
	SheetTurn    float64 // degrees between sheet and fabric
	Skew         float64 // degrees that the print is off square
	Focus        float64 // to the frame's longer side
	Barrel       float64 // the lens: share by which the frame's corner lies nearer the middle
	Light        float64 // share of brightness lost across the frame
	Blur         float64 // sigma in pixels of a photo 2400 pixels wide
	Noise        float64 // sigma of 255
	Creases      int
	Pressed      bool    // the sheet lies so flat that it casts no shadow
	Shadow       bool    // of a hand or a lamp, with a soft edge
	Touch        float64 // sigma of a touch, in pixels of a photo 2400 pixels wide
	Quality      int     // of the JPEG
}

// Papers that lie on fabrics.
var (
	white = Color{240, 240, 236}
	black = Color{28, 28, 30}
)

// Shots are ways to take a picture from good to poor, each with a sheet of its own.
func Shots(rng *rand.Rand, long int) []Shot {
	sign := func() float64 { return float64(rng.IntN(2)*2 - 1) }
	about := func(x float64) float64 { return x * (0.8 + 0.4*rng.Float64()) }
	good := Shot{Name: "good", TiltX: about(4) * sign(), TiltY: about(3) * sign(),
		Roll: 0.4 * sign(), Barrel: 0.003, Light: 0.1, Blur: 0.6, Noise: 2, Wide: about(26),
		SheetTurn: sign()}
	usual := Shot{Name: "usual", TiltX: about(15) * sign(), TiltY: about(8) * sign(),
		Roll: 2 * sign(), Barrel: 0.012 * sign(), Light: 0.3, Blur: 0.9, Noise: 4, Creases: 1,
		Wide: about(26), SheetTurn: 2 * sign()}
	poor := Shot{Name: "poor", TiltX: about(25) * sign(), TiltY: about(12) * sign(),
		Roll: 3 * sign(), Barrel: about(0.03) * sign(), Light: 0.5, Blur: 1.6, Noise: 9, Creases: 4,
		Wide: about(28), SheetTurn: 3 * sign(), Skew: 0.7 * sign(), Shadow: rng.IntN(2) == 0}
	shots := []Shot{good, usual, poor}
	for i := range shots {
		s := &shots[i]
		s.W, s.H = long, long*3/4
		if rng.IntN(4) == 0 {
			s.W, s.H = s.H, s.W
		}
		s.Focus = 0.68 + 0.3*rng.Float64()
		s.Quality = 75 + rng.IntN(15)
		s.Touch = []float64{3, 3, 3, 12}[rng.IntN(4)]
		s.Paper = white
		s.lay(rng)
		if rng.IntN(10) == 0 {
			s.Paper = black
		}
		most := 2.5
		if rng.IntN(3) == 0 {
			most = 5
		}
		s.OffX, s.OffY = most*(2*rng.Float64()-1), 0.7*most*(2*rng.Float64()-1)
		if s.W < s.H {
			s.OffX, s.OffY = s.OffY, s.OffX
		}
	}
	return shots
}

// lay picks the sheet: printer paper either way, or a ruler.
func (s *Shot) lay(rng *rand.Rand) {
	s.SheetW, s.SheetH = 11, 8.5
	switch rng.IntN(10) {
	case 0, 1:
		s.SheetW, s.SheetH = 8.5, 11
	case 2, 3, 4:
		s.SheetW, s.SheetH = 297/25.4, 210/25.4
	case 5:
		s.SheetW, s.SheetH = 210/25.4, 297/25.4
	case 6:
		s.SheetW, s.SheetH = 24, 6
		s.Wide = max(s.Wide, 32)
	}
	if s.W < s.H && rng.IntN(2) == 0 {
		s.SheetW, s.SheetH = s.SheetH, s.SheetW
	}
}
