package photo_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"cornerwise/calc/photo"
	"cornerwise/calc/photo/made"
)

// taken is a picture of a fabric by a good camera, 640 pixels wide; change may change how.
func taken(t *testing.T, name string, change func(*made.Shot)) (*photo.Photo, photo.Asked,
	made.Fabric, made.Picture) {
	t.Helper()
	i := slices.IndexFunc(fabricsOfOne(), func(f made.Fabric) bool { return f.Name == name })
	f := fabricsOfOne()[i]
	s := made.Shots(rand.New(rand.NewPCG(1, 1)), 640)[0]
	s.SheetW, s.SheetH, s.Paper, s.Touch, s.W, s.H = 11, 8.5, made.Color{240, 240, 236}, 3, 640, 480
	s.OffX, s.OffY = 1, 0.5
	if change != nil {
		change(&s)
	}
	pic := made.Take(f, s, rand.New(rand.NewPCG(1, 2)))
	p, err := photo.Read(context.Background(), pic.JPEG)
	if err != nil {
		t.Fatal(err)
	}
	return p, askedOf(s, pic), f, pic
}

func TestAStripesRepeatIsFound(t *testing.T) {
	withoutRace(t)
	p, a, f, pic := taken(t, "two lines", func(s *made.Shot) { s.W, s.H = 1000, 750 })
	got, err := p.Flat(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if !got.Found || got.Doubt != "" {
		t.Errorf("edges found: %v, doubt %q", got.Found, got.Doubt)
	}
	for i, c := range got.Corners {
		if q := pic.Corners[i]; math.Hypot(c.X-q.X, c.Y-q.Y) > 1 {
			t.Errorf("corner %d is %v, want %v", i, c, q)
		}
	}
	if got.Along.Kind != photo.Plain {
		t.Errorf("along: %+v, want plain", got.Along)
	}
	off := got.Across.Period/f.Across.Period - 1
	if got.Across.Kind != photo.Sure || math.Abs(off) > 0.01 {
		t.Errorf("across: %+v, want %.3f", got.Across, f.Across.Period)
	}
	m, err := jpeg.Decode(bytes.NewReader(got.Tile))
	if err != nil || len(got.Tile) > 40<<10 {
		t.Fatalf("tile of %d bytes: %v", len(got.Tile), err)
	}
	if got.TileAcross != got.Across.Period || m.Bounds().Dx() < 20 {
		t.Errorf("the tile shows %.3f in across in %v pixels", got.TileAcross, m.Bounds().Size())
	}
}

func TestCornersThatAreNoneAreToldSo(t *testing.T) {
	p, a, _, _ := taken(t, "solid", nil)
	corner := func(change func(*photo.Asked)) photo.Asked {
		b := a
		change(&b)
		return b
	}
	for name, b := range map[string]photo.Asked{
		"outside":   corner(func(b *photo.Asked) { b.Corners[2].X = 700 }),
		"no number": corner(func(b *photo.Asked) { b.Corners[2].X = math.NaN() }),
		"crossing": corner(func(b *photo.Asked) {
			b.Corners[0], b.Corners[1] = b.Corners[1], b.Corners[0]
		}),
		"in a line": corner(func(b *photo.Asked) {
			b.Corners = [4]photo.Point{{10, 10}, {200, 10}, {400, 10}, {600, 10}}
		}),
		"one place": corner(func(b *photo.Asked) { b.Corners = [4]photo.Point{} }),
		"too small": corner(func(b *photo.Asked) {
			b.Corners = [4]photo.Point{{10, 10}, {40, 10}, {40, 40}, {10, 40}}
		}),
		"sheet of 0": corner(func(b *photo.Asked) { b.Sheet.Width = 0 }),
	} {
		_, err := p.Flat(context.Background(), b)
		if !errors.Is(err, photo.ErrCorners) || len(err.Error()) < 40 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAPhotoIsKeptWithoutWhereItWasTaken(t *testing.T) {
	p, _, _, pic := taken(t, "solid", nil)
	kept := p.JPEG()
	if bytes.Contains(kept, []byte("Exif")) {
		t.Error("the kept picture has EXIF")
	}
	w, h := p.Size()
	m, _, err := image.Decode(bytes.NewReader(kept))
	if err != nil || m.Bounds().Dx() != w || m.Bounds().Dy() != h || w != 640 {
		t.Errorf("kept as %v by %v: %v (sent %d bytes)", w, h, err, len(pic.JPEG))
	}
}

func TestDownTurnsThePictureAndFlipsNothing(t *testing.T) {
	withoutRace(t)
	p, a, f, _ := taken(t, "four colors in a row", func(s *made.Shot) {
		s.W, s.H, s.SheetTurn, s.Roll, s.TiltX, s.TiltY = 1000, 750, 0, 0, 0, 0
	})
	right, err := p.Flat(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	a.Down = true
	down, err := p.Flat(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if right.Along.Kind != photo.Plain || down.Across.Kind != photo.Plain {
		t.Fatalf("along %+v, turned %+v", right.Along, down.Across)
	}
	for _, d := range []photo.Direction{right.Across, down.Along} {
		if d.Kind != photo.Sure || math.Abs(d.Period/f.Across.Period-1) > 0.01 {
			t.Errorf("%+v, want %.3f", d, f.Across.Period)
		}
	}
	if right.Corners != down.Corners {
		t.Errorf("corners %v, turned %v", right.Corners, down.Corners)
	}
	// Down the picture the lines come in their order: so they do along the turned tile, too.
	first, second := colors(t, right.Tile, false), colors(t, down.Tile, true)
	if !sameRound(first, second) {
		t.Errorf("the lines down the picture are %v, along the turned tile %v", first, second)
	}
}

// colors are the kinds of color met down, or along, the middle of a picture.
func colors(t *testing.T, data []byte, along bool) (out string) {
	t.Helper()
	m, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		t.Fatal(err)
	}
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	n := h
	if along {
		n = w
	}
	count := 0
	last := byte(0)
	for i := range n {
		x, y := w/2, i
		if along {
			x, y = i, h/2
		}
		r, g, b, _ := m.At(x, y).RGBA()
		kind := byte('c') // cream
		switch {
		case r > 2*g && r > 2*b:
			kind = 'r'
		case 3*b > 4*r && 3*b > 4*g:
			kind = 'n'
		case 4*g > 5*r && 4*g > 5*b:
			kind = 'g'
		}
		if kind != last {
			count = 0
		}
		last = kind
		if count++; count == max(2, n/25) {
			if len(out) == 0 || out[len(out)-1] != kind {
				out += string(kind)
			}
		}
	}
	return out
}

// sameRound tells whether a round of four begins somewhere else only.
func sameRound(a, b string) bool {
	return len(a) >= 4 && len(b) >= 4 && bytes.Contains([]byte(a[:4]+a[:4]), []byte(b[:4]))
}

func TestAnotherPaperIsDoubted(t *testing.T) {
	withoutRace(t)
	p, first, f, _ := taken(t, "gingham", func(s *made.Shot) { s.W, s.H = 1600, 1200 })
	for name, c := range map[string]struct {
		change func(*photo.Asked)
		word   string
	}{
		"A4": {func(a *photo.Asked) {
			a.Sheet = photo.Sheet{Width: photo.A4.Length, Length: photo.A4.Width}
		}, "Letter"},
		"the other way": {func(a *photo.Asked) { a.Sheet = photo.Letter }, "other way"},
		"another first corner": {func(a *photo.Asked) {
			c := a.Corners
			a.Corners = [4]photo.Point{c[1], c[2], c[3], c[0]}
		}, "other way"},
		"against the clock": {func(a *photo.Asked) {
			c := a.Corners
			a.Corners = [4]photo.Point{c[0], c[3], c[2], c[1]}
		}, "clock"},
		"a square": {func(a *photo.Asked) {
			a.Sheet = photo.Sheet{Width: 9, Length: 9}
		}, "Letter"},
		"as it is": {func(*photo.Asked) {}, ""},
		"either way": {func(a *photo.Asked) {
			a.Sheet, a.Either = photo.Letter, true
		}, ""},
	} {
		a := first
		c.change(&a)
		got, err := p.Flat(context.Background(), a)
		if err != nil {
			t.Fatal(err)
		}
		if (got.Doubt == "") != (c.word == "") || !bytes.Contains([]byte(got.Doubt), []byte(c.word)) {
			t.Errorf("%s: doubt %q, want %q in it", name, got.Doubt, c.word)
		}
		if sure := got.Along.Kind == photo.Sure; sure != (c.word == "") {
			t.Errorf("%s: along %+v", name, got.Along)
		}
		if off := got.Along.Period/f.Along.Period - 1; c.word == "" && math.Abs(off) > 0.01 {
			t.Errorf("%s: %.3f, want %.3f", name, got.Along.Period, f.Along.Period)
		}
	}
}

func TestPaperOnFabricOfItsColorIsNeverSure(t *testing.T) {
	withoutRace(t)
	p, a, _, _ := taken(t, "pale on white", func(s *made.Shot) {
		s.Paper, s.Pressed = made.Color{238, 238, 234}, true
	})
	got, err := p.Flat(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if got.Found || got.Corners != a.Corners {
		t.Errorf("found %v, corners %v, touched %v", got.Found, got.Corners, a.Corners)
	}
	if got.Along.Kind == photo.Sure || got.Across.Kind == photo.Sure {
		t.Errorf("along %+v, across %+v", got.Along, got.Across)
	}
}

func TestATileOfASettledRepeat(t *testing.T) {
	withoutRace(t)
	p, a, _, _ := taken(t, "tossed", nil)
	got, err := p.Cut(context.Background(), a, 3.5, 2.25)
	if err != nil {
		t.Fatal(err)
	}
	if got.TileAlong != 3.5 || got.TileAcross != 2.25 || got.PairAlong > 7 || got.PairAlong <= 3.5 {
		t.Errorf("the tile shows %v by %v, the pair %v by %v", got.TileAlong, got.TileAcross,
			got.PairAlong, got.PairAcross)
	}
	m, err := jpeg.Decode(bytes.NewReader(got.Tile))
	if err != nil {
		t.Fatal(err)
	}
	shape := float64(m.Bounds().Dx()) / float64(m.Bounds().Dy())
	if math.Abs(shape/(3.5/2.25)-1) > 0.03 {
		t.Errorf("the tile is %v pixels", m.Bounds().Size())
	}
	for _, period := range []float64{math.NaN(), -1, 0.01, 1000} {
		if _, err := p.Cut(context.Background(), a, period, 0); !errors.Is(err, photo.ErrCorners) {
			t.Errorf("a repeat of %v in: %v", period, err)
		}
	}
}

// The print mirrors about the axis that is told: what is as far on either side is alike.
func TestTheAxisInTheTileIsOneOfThePrint(t *testing.T) {
	withoutRace(t)
	p, a, _, _ := taken(t, "mirrored calico", func(s *made.Shot) { s.Wide = 18 })
	got, err := p.Flat(context.Background(), a)
	if err != nil {
		t.Fatal(err)
	}
	if got.Along.Kind != photo.Sure || got.Along.Mirror < 0.85 || got.AxisAlong <= 0 ||
		got.AxisAlong > got.TileAlong {
		t.Fatalf("along %+v, axis %v of %v", got.Along, got.AxisAlong, got.TileAlong)
	}
	if got.AxisAcross != 0 {
		t.Errorf("across it mirrors nowhere: axis %v, %+v", got.AxisAcross, got.Across)
	}
	m, err := jpeg.Decode(bytes.NewReader(got.Tile))
	if err != nil {
		t.Fatal(err)
	}
	w, h := m.Bounds().Dx(), m.Bounds().Dy()
	off := func(axis float64) (sum float64) {
		for x := range w {
			o := ((int(2*axis)-1-x)%w + w) % w
			for y := range h {
				r, g, b, _ := m.At(x, y).RGBA()
				s, u, v, _ := m.At(o, y).RGBA()
				sum += math.Abs(float64(r)-float64(s)) + math.Abs(float64(g)-float64(u)) +
					math.Abs(float64(b)-float64(v))
			}
		}
		return sum
	}
	axis := got.AxisAlong / got.TileAlong * float64(w)
	if at, beside := off(axis), off(axis+float64(w)/8); at > 0.5*beside {
		t.Errorf("about the axis it differs by %.0f, beside it by %.0f", at, beside)
	}
}
