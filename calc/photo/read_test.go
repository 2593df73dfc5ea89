package photo_test

import (
	"bytes"
	"context"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"testing"
	"time"

	"cornerwise/calc/photo"
)

// drawn is red in its first quarter, blue in its last, grey elsewhere.
func drawn(w, h int) *image.RGBA {
	m := image.NewRGBA(image.Rect(0, 0, w, h))
	for i := range w * h {
		x, y := i%w, i/w
		c := color.RGBA{120, 120, 120, 255}
		switch {
		case x < w/2 && y < h/2:
			c = color.RGBA{200, 30, 30, 255}
		case x >= w/2 && y >= h/2:
			c = color.RGBA{30, 30, 200, 255}
		}
		m.SetRGBA(x, y, c)
	}
	return m
}

func asJPEG(m image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, &jpeg.Options{Quality: 95}); err != nil {
		panic(err)
	}
	return b.Bytes()
}

func asPNG(m image.Image) []byte {
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		panic(err)
	}
	return b.Bytes()
}

// held is a JPEG that says how the camera was held.
func held(data []byte, orientation byte) []byte {
	exif := []byte("\xff\xe1\x00\x22Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01" +
		"\x01\x12\x00\x03\x00\x00\x00\x01\x00\x00\x00\x00\x00\x00\x00\x00")
	exif[29] = orientation
	return append(append([]byte{0xff, 0xd8}, exif...), data[2:]...)
}

// claims is a JPEG whose header says that it is so large, and coded in another way where frame
// is not 0xc0.
func claims(w, h int, frame byte) []byte {
	data := asJPEG(drawn(240, 240))
	at := bytes.Index(data, []byte{0xff, 0xc0})
	data[at+1] = frame
	copy(data[at+5:], []byte{byte(h >> 8), byte(h), byte(w >> 8), byte(w)})
	return data
}

// scans is a JPEG with its scan over and over.
func scans(data []byte, n int) []byte {
	at := bytes.Index(data, []byte{0xff, 0xda})
	scan := data[at : len(data)-2]
	return append(bytes.Clone(data[:at]), bytes.Repeat(scan, n)...)
}

// pngClaims is a PNG that says so.
func pngClaims(w, h int, bits, interlaced byte) []byte {
	m := image.Image(drawn(240, 240))
	if bits == 16 {
		m = image.NewNRGBA64(image.Rect(0, 0, 240, 240))
	}
	data := asPNG(m)
	copy(data[16:], []byte{0, 0, byte(w >> 8), byte(w), 0, 0, byte(h >> 8), byte(h)})
	data[28] = interlaced
	binary.BigEndian.PutUint32(data[29:], crc32.ChecksumIEEE(data[12:29]))
	return data
}

// A WebP of 1 by 1 pixel, whose header is then changed.
var webp, _ = base64.StdEncoding.DecodeString(
	"UklGRiIAAABXRUJQVlA4IBYAAAAwAQCdASoBAAEADsD+JaQAA3AAAAAA")

func webpClaims(w, h int) []byte {
	data := bytes.Clone(webp)
	copy(data[26:], []byte{byte(w), byte(w >> 8), byte(h), byte(h >> 8)})
	return data
}

// webpOf is a WebP with one part more before its picture.
func webpOf(kind string, size int) []byte {
	data := webpClaims(300, 240)
	more := binary.LittleEndian.AppendUint32([]byte(kind), uint32(size))
	more = append(more, make([]byte, size)...)
	large := []byte{0, 0, 0, 0, 43, 1, 0, 239, 0, 0} // 300 by 240
	switch kind {
	case "VP8X":
		copy(more[8:], large)
	case "VP8L":
		copy(more[8:], []byte{0x2f, 0x2b, 0xc1, 0x3b, 0})
	case "ALPH":
		large[0] = 0x10 // transparent
		more = append(append([]byte("VP8X\x0a\x00\x00\x00"), large...), more...)
	}
	data = append(bytes.Clone(data[:12]), append(more, data[12:]...)...)
	binary.LittleEndian.PutUint32(data[4:], uint32(len(data)-8))
	return data
}

func TestWhatCannotBeReadIsToldSo(t *testing.T) {
	small := asJPEG(drawn(300, 240))
	cmyk := bytes.Clone(small)
	at := bytes.Index(cmyk, []byte{0xff, 0xc0})
	four := append(bytes.Clone(cmyk[at:at+4]), 8, 0, 240, 1, 44, 4,
		1, 0x11, 0, 2, 0x11, 0, 3, 0x11, 0, 4, 0x11, 0)
	four[3] = 20
	cmyk = append(append(bytes.Clone(cmyk[:at]), four...), cmyk[at+19:]...)
	for name, c := range map[string]struct {
		data []byte
		want error
	}{
		"nothing":                          {nil, photo.ErrFormat},
		"a text":                           {[]byte("Once upon a time, a quilt"), photo.ErrFormat},
		"a page":                           {[]byte("<!doctype html><title>A page"), photo.ErrFormat},
		"HEIC":                             {[]byte("\x00\x00\x00\x18ftypheic"), photo.ErrHEIC},
		"13 MB":                            {make([]byte, photo.MostBytes+1), photo.ErrTooManyBytes},
		"12,000 by 12,000":                 {claims(12000, 12000, 0xc0), photo.ErrTooManyPixels},
		"a progressive JPEG of 12 million": {claims(4000, 3000, 0xc2), photo.ErrTooManyPixels},
		"65,000 by 65,000":                 {claims(65000, 65000, 0xc2), photo.ErrTooManyPixels},
		"a PNG of 12,000 by 12,000":        {pngClaims(12000, 12000, 8, 0), photo.ErrTooManyPixels},
		"a PNG of 16 bits":                 {pngClaims(3000, 2400, 16, 0), photo.ErrTooManyPixels},
		"a PNG of several passes":          {pngClaims(3000, 2400, 8, 1), photo.ErrTooManyPixels},
		"a WebP of 12,000 by 12,000":       {webpClaims(12000, 12000), photo.ErrTooManyPixels},
		"a WebP of 1 by 1":                 {webp, photo.ErrTooSmall},
		"199 wide":                         {asPNG(drawn(199, 400)), photo.ErrTooSmall},
		"200 by 50,000":                    {asPNG(drawn(200, 50000)), photo.ErrTooNarrow},
		"50,000 by 200":                    {asPNG(drawn(50000, 200)), photo.ErrTooNarrow},
		"a JPEG of 2,401 by 200":           {claims(2401, 200, 0xc0), photo.ErrTooNarrow},
		"CMYK of nobody knows what":        {cmyk, photo.ErrCMYK},
		"a JPEG cut short":                 {small[:len(small)/2], photo.ErrDamaged},
		"a JPEG of 200 scans":              {scans(claims(240, 240, 0xc2), 200), photo.ErrDamaged},
		"a plain JPEG of 4 scans":          {append(scans(small, 4), 0xff, 0xd9), photo.ErrDamaged},
		"a WebP without loss":              {webpOf("VP8L", 160<<10), photo.ErrLossless},
		"a WebP with transparency":         {webpOf("ALPH", 160<<10), photo.ErrLossless},
		"a WebP of more, cut short":        {webpOf("VP8X", 10), photo.ErrDamaged},
		"a JPEG's first bytes":             {small[:20], photo.ErrDamaged},
		"a PNG cut short":                  {asPNG(drawn(300, 240))[:200], photo.ErrDamaged},
		"a PNG's first bytes":              {asPNG(drawn(300, 240))[:10], photo.ErrDamaged},
		"a WebP cut short":                 {webpClaims(300, 240), photo.ErrDamaged},
	} {
		p, err := photo.Read(context.Background(), c.data)
		if p != nil || !errors.Is(err, c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}

// A small WebP without loss takes no more memory than others.
func TestASmallWebPWithoutLossIsRead(t *testing.T) {
	lined, _ := base64.StdEncoding.DecodeString( // 240 by 240, lines of black and white
		"UklGRjIAAABXRUJQVlA4TCYAAAAv78A7AA8w//M///MfeCCTtql/071rYIvoP8EkTbUdQ9To/b+Rfw==")
	p, err := photo.Read(context.Background(), lined)
	if err != nil {
		t.Fatal(err)
	}
	if w, h := p.Size(); w != 240 || h != 240 {
		t.Errorf("it has %d by %d pixels, want 240 by 240", w, h)
	}
}

// Some phones put a film behind a photograph, which looks as if it had scans.
func TestWhatFollowsAPhotoIsNoPartOfIt(t *testing.T) {
	film := append(asJPEG(drawn(300, 240)), bytes.Repeat([]byte{1, 0xff, 0xda}, 200)...)
	if p, err := photo.Read(context.Background(), film); err != nil {
		t.Errorf("a JPEG with a film behind it: %v, %v, want the photo", p, err)
	}
}

func TestAPhotoIsTurnedAsItWasHeld(t *testing.T) {
	data := asJPEG(drawn(320, 240))
	// Where the red and the blue quarter of the picture come to lie: 0 top left, clockwise.
	for o, want := range map[byte][2]int{1: {0, 2}, 2: {1, 3}, 3: {2, 0}, 4: {3, 1},
		5: {0, 2}, 6: {1, 3}, 7: {2, 0}, 8: {3, 1}, 9: {0, 2}} {
		p, err := photo.Read(context.Background(), held(data, o))
		if err != nil {
			t.Fatalf("orientation %d: %v", o, err)
		}
		w, h := p.Size()
		if wide := o < 5 || o > 8; wide != (w == 320 && h == 240) {
			t.Errorf("orientation %d: %d by %d", o, w, h)
		}
		m, err := jpeg.Decode(bytes.NewReader(p.JPEG()))
		if err != nil {
			t.Fatal(err)
		}
		x, y := w/4, h/4
		quarters := []image.Point{{x, y}, {3 * x, y}, {3 * x, 3 * y}, {x, 3 * y}}
		for i, q := range quarters {
			r, _, b, _ := m.At(q.X, q.Y).RGBA()
			if (r > 2*b) != (i == want[0]) || (b > 2*r) != (i == want[1]) {
				t.Errorf("orientation %d, quarter %d: red %d, blue %d", o, i, r>>8, b>>8)
			}
		}
	}
}

func TestALargePhotoIsMadeSmaller(t *testing.T) {
	p, err := photo.Read(context.Background(), asPNG(drawn(3000, 600)))
	if err != nil {
		t.Fatal(err)
	}
	if w, h := p.Size(); w != 2400 || h != 480 {
		t.Errorf("%d by %d", w, h)
	}
	m, err := jpeg.Decode(bytes.NewReader(p.JPEG()))
	if err != nil {
		t.Fatal(err)
	}
	if r, _, b, _ := m.At(2390, 475).RGBA(); b < 2*r {
		t.Errorf("the last corner is %v, want blue", m.At(2390, 475))
	}
}

// What is kept can be read again to be looked at, however narrow the picture was.
func TestANarrowPhotoThatIsTakenCanBeReadAgain(t *testing.T) {
	for _, size := range []image.Point{{2400, 200}, {200, 2400}, {2401, 201}, {3600, 300}, {201, 2411}, {299, 3588}} {
		p, err := photo.Read(context.Background(), asPNG(drawn(size.X, size.Y)))
		if err != nil {
			t.Errorf("%v: %v", size, err)
			continue
		}
		if _, err := photo.Read(context.Background(), p.JPEG()); err != nil {
			w, h := p.Size()
			t.Errorf("%v, kept as %d by %d: %v", size, w, h, err)
		}
	}
}

func TestTwoPhotosAtATimeAndTheThirdMayGo(t *testing.T) {
	data := asJPEG(drawn(320, 240))
	a := photo.Asked{Sheet: photo.Letter,
		Corners: [4]photo.Point{{50, 50}, {250, 50}, {250, 200}, {50, 200}}}
	p, err := photo.Read(context.Background(), data)
	if err != nil {
		t.Fatal(err)
	}
	release := photo.TakeTurns()
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := photo.Read(ctx, data); !errors.Is(err, context.Canceled) {
		t.Errorf("read while two are at it: %v", err)
	}
	if _, err := p.Flat(ctx, a); !errors.Is(err, context.Canceled) {
		t.Errorf("looked at while two are at it: %v", err)
	}
	if _, err := photo.Read(ctx, []byte("a text")); !errors.Is(err, photo.ErrFormat) {
		t.Errorf("what is refused need not wait: %v", err)
	}
	release()
	if _, err := photo.Read(context.Background(), data); err != nil {
		t.Error(err)
	}
}

func FuzzRead(f *testing.F) {
	small := asJPEG(drawn(300, 240))
	f.Add(small)
	f.Add(small[:len(small)/2])
	for o := byte(1); o <= 8; o++ {
		f.Add(held(small, o))
	}
	f.Add(asPNG(drawn(300, 240)))
	f.Add(asPNG(drawn(300, 240))[:300])
	f.Add(webp)
	f.Add(webpClaims(300, 240))
	f.Add(claims(12000, 12000, 0xc0))
	f.Add(claims(300, 240, 0xc2))
	known := []error{photo.ErrTooManyBytes, photo.ErrTooManyPixels, photo.ErrTooSmall, photo.ErrTooNarrow,
		photo.ErrHEIC, photo.ErrLossless, photo.ErrCMYK, photo.ErrFormat, photo.ErrDamaged}
	f.Fuzz(func(t *testing.T, data []byte) {
		ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
		defer cancel()
		p, err := photo.Read(ctx, data)
		if err != nil {
			for _, k := range known {
				if errors.Is(err, k) {
					return
				}
			}
			t.Fatalf("an error that is none of those told: %v", err)
		}
		if w, h := p.Size(); w < 1 || h < 1 || max(w, h) > 2400 {
			t.Fatalf("%d by %d", w, h)
		}
		if _, err := jpeg.DecodeConfig(bytes.NewReader(p.JPEG())); err != nil {
			t.Fatal(err)
		}
	})
}
