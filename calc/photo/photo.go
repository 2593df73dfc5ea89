package photo

import (
	"context"

	"cornerwise/calc/photo/picture"
)

// A Photo is a picture as it is kept: upright, at most 2400 pixels a side.
type Photo struct {
	raster *picture.Raster
}

// Reasons why Read refuses, for errors.Is. Each says in whole sentences what it is, the limit,
// and what to do.
var (
	ErrTooManyBytes  error = picture.ErrTooManyBytes
	ErrTooManyPixels error = picture.ErrTooManyPixels
	ErrTooSmall      error = picture.ErrTooSmall
	ErrTooNarrow     error = picture.ErrTooNarrow
	ErrHEIC          error = picture.ErrHEIC
	ErrLossless      error = picture.ErrLossless
	ErrCMYK          error = picture.ErrCMYK
	ErrFormat        error = picture.ErrFormat
	ErrDamaged       error = picture.ErrDamaged
)

// MostBytes is how large a file may be.
const MostBytes = picture.MostBytes

// Read decodes what a tablet sends: JPEG, PNG or WebP, at most MostBytes; upright by its EXIF
// orientation; made smaller to at most 2400 pixels a side. It waits for its turn. Errors are
// those above, and the context's.
func Read(ctx context.Context, data []byte) (*Photo, error) {
	if err := picture.Check(data); err != nil { // costs nothing, so it need not wait
		return nil, err
	}
	done, err := wait(ctx)
	if err != nil {
		return nil, err
	}
	defer done()
	r, err := picture.Read(data)
	if err != nil {
		return nil, err
	}
	return &Photo{r}, nil
}

// Size is the pixels of the photo.
func (p *Photo) Size() (width, height int) { return p.raster.W, p.raster.H }

// JPEG is the photo as it is kept: without any metadata, so not with the place where it was
// taken.
func (p *Photo) JPEG() []byte { return p.raster.JPEG(85) }
