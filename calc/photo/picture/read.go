package picture

import (
	"bytes"
	"image"
)

// Read decodes a picture, turned as it was held, no side over Side pixels. Every error is one of
// this package's sentences.
func Read(data []byte) (r *Raster, err error) {
	defer func() {
		if recover() != nil { // a decoder's panic stays in here
			r, err = nil, ErrDamaged
		}
	}()
	h, err := check(data)
	if err != nil {
		return nil, err
	}
	m, _, err := image.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, ErrDamaged
	}
	turn := 1
	if h.format == "jpeg" {
		turn = orientationOf(data)
	}
	return smaller(m, Side, turn), nil
}

// Check refuses from the header alone what Read would refuse from it.
func Check(data []byte) (err error) {
	defer func() {
		if recover() != nil {
			err = ErrDamaged
		}
	}()
	_, err = check(data)
	return err
}

// check refuses from the header what can't be read or would take too much.
func check(data []byte) (header, error) {
	if len(data) > MostBytes {
		return header{}, ErrTooManyBytes
	}
	h, err := readHeader(data)
	switch {
	case err != nil:
		return h, err
	case h.width > MostPixels/h.height:
		return h, ErrTooManyPixels
	case h.cost() > MostMemory && h.lossless:
		return h, ErrLossless
	case h.cost() > MostMemory:
		return h, ErrTooManyPixels
	case h.width < LeastSide || h.height < LeastSide:
		return h, ErrTooSmall
	case max(h.width, h.height)*LeastSide > Side*min(h.width, h.height): // it would be too small as it is kept
		return h, ErrTooNarrow
	case len(h.parts) == 4 && !h.adobe:
		return h, ErrCMYK
	}
	return h, nil
}
