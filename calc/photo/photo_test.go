package photo_test

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"testing"

	"cornerwise/calc/photo"
	"cornerwise/calc/photo/made"
)

// taken is a picture of one of seed's fabrics by a good camera, 1200 pixels wide.
func taken(t *testing.T, name string) (*photo.Photo, photo.Asked, made.Fabric, made.Picture) {
	t.Helper()
	for _, f := range made.Fabrics(1) {
		if f.Name != name {
			continue
		}
		s := made.Shots(rand.New(rand.NewPCG(1, 1)), 1200)[0]
		s.SheetW, s.SheetH, s.Touch, s.W, s.H = 11, 8.5, 3, 1200, 900
		pic := made.Take(f, s, rand.New(rand.NewPCG(1, 2)))
		p, err := photo.Read(context.Background(), pic.JPEG)
		if err != nil {
			t.Fatal(err)
		}
		a := photo.Asked{Sheet: photo.Sheet{Width: 11, Length: 8.5}}
		for i, q := range pic.Touched {
			a.Corners[i] = photo.Point(q)
		}
		return p, a, f, pic
	}
	t.Fatalf("no fabric is called %q", name)
	return nil, photo.Asked{}, made.Fabric{}, made.Picture{}
}

func TestAStripesRepeatIsFound(t *testing.T) {
	p, a, f, pic := taken(t, "seven lines")
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
	if off := got.Across.Period/f.Across.Period - 1; got.Across.Kind != photo.Sure || math.Abs(off) > 0.01 {
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
	p, a, _, _ := taken(t, "solid")
	corner := func(change func(*photo.Asked)) photo.Asked {
		b := a
		change(&b)
		return b
	}
	for name, b := range map[string]photo.Asked{
		"outside":    corner(func(b *photo.Asked) { b.Corners[2].X = 1300 }),
		"no number":  corner(func(b *photo.Asked) { b.Corners[2].X = math.NaN() }),
		"crossing":   corner(func(b *photo.Asked) { b.Corners[0], b.Corners[1] = b.Corners[1], b.Corners[0] }),
		"in a line":  corner(func(b *photo.Asked) { b.Corners = [4]photo.Point{{10, 10}, {200, 10}, {400, 10}, {600, 10}} }),
		"one place":  corner(func(b *photo.Asked) { b.Corners = [4]photo.Point{} }),
		"too small":  corner(func(b *photo.Asked) { b.Corners = [4]photo.Point{{10, 10}, {40, 10}, {40, 40}, {10, 40}} }),
		"sheet of 0": corner(func(b *photo.Asked) { b.Sheet.Width = 0 }),
	} {
		_, err := p.Flat(context.Background(), b)
		if !errors.Is(err, photo.ErrCorners) || len(err.Error()) < 40 {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestAPhotoIsKeptWithoutWhereItWasTaken(t *testing.T) {
	p, _, _, pic := taken(t, "solid")
	kept := p.JPEG()
	if bytes.Contains(kept, []byte("Exif")) {
		t.Error("the kept picture has EXIF")
	}
	w, h := p.Size()
	m, _, err := image.Decode(bytes.NewReader(kept))
	if err != nil || m.Bounds().Dx() != w || m.Bounds().Dy() != h || w != 1200 {
		t.Errorf("kept as %v by %v: %v (sent %d bytes)", w, h, err, len(pic.JPEG))
	}
}
