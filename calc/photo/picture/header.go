package picture

import (
	"bytes"
	"encoding/binary"
	"image"
	_ "image/jpeg" // a format that is read
	_ "image/png"  // a format that is read

	_ "golang.org/x/image/webp" // a format that is read
)

// A header is what a file says of its picture before the picture comes.
type header struct {
	format        string // jpeg, png, webp
	width, height int
	progressive   bool // a JPEG of several scans, or a PNG of several passes
	parts         []part
	adobe         bool // a JPEG with Adobe's marker, which tells how its colors are coded
	deep          bool // a PNG of 16 bits a channel
	lossless      bool // a WebP with a part that is coded without loss
	bytes         int  // of that WebP
}

// A part is one component of a JPEG: how many samples it has to the block of pixels.
type part struct{ h, v int }

// readHeader reads no more than a file says of itself. Errors are ErrHEIC, ErrFormat and
// ErrDamaged.
func readHeader(data []byte) (header, error) {
	if heic(data) {
		return header{}, ErrHEIC
	}
	switch {
	case bytes.HasPrefix(data, []byte("\xff\xd8")):
		return readJPEG(data)
	case bytes.HasPrefix(data, []byte("\x89PNG\r\n\x1a\n")):
		if len(data) < 33 {
			return header{}, ErrDamaged
		}
		return configured(data, header{format: "png", deep: data[24] == 16, progressive: data[28] != 0})
	case len(data) >= 12 && string(data[:4]) == "RIFF" && string(data[8:12]) == "WEBP":
		return configured(data, header{format: "webp", bytes: len(data), lossless: lossless(data)})
	}
	return header{}, ErrFormat
}

// configured takes the size from the decoder's own reading.
func configured(data []byte, h header) (header, error) {
	c, _, err := image.DecodeConfig(bytes.NewReader(data))
	if err != nil || c.Width < 1 || c.Height < 1 {
		return header{}, ErrDamaged
	}
	h.width, h.height = c.Width, c.Height
	return h, nil
}

// lossless tells a WebP that has a part coded without loss, or transparency, which mostly is. Such a
// part may bring thousands of sets of code trees of its own, however small the picture is.
func lossless(webp []byte) bool {
	for i := 12; i+8 <= len(webp); {
		if kind := string(webp[i : i+4]); kind == "VP8L" || kind == "ALPH" {
			return true
		}
		n := binary.LittleEndian.Uint32(webp[i+4:])
		if n > MostBytes {
			return false
		}
		i += 8 + int(n+n%2)
	}
	return false
}

// mostScans is how many scans a progressive JPEG may have: each goes over the whole picture, and a
// few bytes are enough for one. Cameras and programs make ten or so. Of any other JPEG each part
// has one.
const mostScans = 60

// readJPEG walks the segments to the frame (ITU-T T.81, B.2.2) and on to the first scan.
func readJPEG(data []byte) (header, error) {
	h := header{format: "jpeg"}
	for i := 2; i+4 <= len(data); {
		if data[i] != 0xff {
			return h, ErrDamaged
		}
		marker := data[i+1]
		if marker == 0xff { // fill
			i++
			continue
		}
		n := int(binary.BigEndian.Uint16(data[i+2:]))
		if n < 2 || i+2+n > len(data) {
			return h, ErrDamaged
		}
		body := data[i+4 : i+2+n]
		switch {
		case marker == 0xda: // the scan
			most := len(h.parts)
			if h.progressive {
				most = mostScans
			}
			if h.width == 0 || scans(data[i:]) > most {
				return h, ErrDamaged
			}
			return h, nil
		case marker == 0xee && len(body) >= 12 && string(body[:5]) == "Adobe":
			h.adobe = true
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
			if len(body) < 6 || len(body) < 6+3*int(body[5]) || h.width != 0 {
				return h, ErrDamaged
			}
			h.progressive = marker == 0xc2
			h.height = int(binary.BigEndian.Uint16(body[1:]))
			h.width = int(binary.BigEndian.Uint16(body[3:]))
			for k := range int(body[5]) {
				s := body[6+3*k+1]
				h.parts = append(h.parts, part{int(s >> 4), int(s & 15)})
			}
			if h.width == 0 || h.height == 0 || len(h.parts) == 0 {
				return h, ErrDamaged
			}
		}
		i += 2 + n
	}
	return h, ErrDamaged
}

// scans counts the scans of a JPEG from its first on, up to its end: after that a camera may have
// put a film. In a scan 0xff is followed by 0, or by the number of a restart.
func scans(data []byte) (n int) {
	for i := 0; i+4 <= len(data); {
		switch marker := data[i+1]; {
		case data[i] != 0xff || marker == 0xff:
			i++
			continue
		case marker == 0 || marker >= 0xd0 && marker <= 0xd7:
			i += 2
			continue
		case marker == 0xd9:
			return n
		case marker == 0xda:
			n++
		}
		i += 2 + int(binary.BigEndian.Uint16(data[i+2:]))
	}
	return n
}

// heic tells by the brand of the ISO file that it is one of HEVC pictures (ISO/IEC 23008-12).
func heic(data []byte) bool {
	if len(data) < 12 || string(data[4:8]) != "ftyp" {
		return false
	}
	switch string(data[8:12]) {
	case "heic", "heix", "hevc", "hevx", "heim", "heis", "mif1", "msf1":
		return true
	}
	return false
}
