package picture

import "encoding/binary"

// An upright raster takes the rows of a picture as it was held, and turns each as it comes.
type upright struct {
	*Raster
	w, h        int // as it was held
	orientation int // EXIF: 1 to 8
}

func newUpright(w, h, orientation int) *upright {
	u := &upright{w: w, h: h, orientation: orientation}
	if orientation >= 5 && orientation <= 8 {
		w, h = h, w
	}
	u.Raster = NewRaster(w, h)
	return u
}

// row takes the colors of row y, 3 for each pixel.
func (u *upright) row(y int, colors []float32) {
	for x := range u.w {
		dx, dy := u.place(x, y)
		o := 3 * (dy*u.W + dx)
		for k := range 3 {
			u.Pix[o+k] = uint8(min(255, colors[3*x+k]+0.5))
		}
	}
}

// place is where a pixel of the picture as it was held belongs (Exif 2.3, tag 0112).
func (u *upright) place(x, y int) (int, int) {
	switch u.orientation {
	case 2:
		return u.w - 1 - x, y
	case 3:
		return u.w - 1 - x, u.h - 1 - y
	case 4:
		return x, u.h - 1 - y
	case 5:
		return y, x
	case 6:
		return u.h - 1 - y, x
	case 7:
		return u.h - 1 - y, u.w - 1 - x
	case 8:
		return y, u.w - 1 - x
	}
	return x, y
}

// orientationOf reads the one EXIF tag that is wanted, 1 where there is none. Nothing else of
// the EXIF is looked at.
func orientationOf(jpeg []byte) int {
	for i := 2; i+4 <= len(jpeg) && jpeg[i] == 0xff; {
		marker, n := jpeg[i+1], int(binary.BigEndian.Uint16(jpeg[i+2:]))
		if marker == 0xda || n < 2 || i+2+n > len(jpeg) {
			return 1
		}
		body := jpeg[i+4 : i+2+n]
		if marker == 0xe1 && len(body) >= 14 && string(body[:6]) == "Exif\x00\x00" {
			return orientationIn(body[6:])
		}
		i += 2 + n
	}
	return 1
}

// orientationIn looks through the first folder of a TIFF.
func orientationIn(tiff []byte) int {
	var order binary.ByteOrder = binary.LittleEndian
	if string(tiff[:2]) == "MM" {
		order = binary.BigEndian
	}
	at := int(order.Uint32(tiff[4:]))
	if at < 8 || at > len(tiff)-2 {
		return 1
	}
	for i := range int(order.Uint16(tiff[at:])) {
		e := at + 2 + 12*i
		if e+12 > len(tiff) {
			return 1
		}
		const short = 3
		if order.Uint16(tiff[e:]) == 0x0112 && order.Uint16(tiff[e+2:]) == short {
			if o := int(order.Uint16(tiff[e+8:])); o >= 1 && o <= 8 {
				return o
			}
			return 1
		}
	}
	return 1
}
