package web

import (
	"fmt"
	"html/template"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// quiet is the light rim of a QR code, in modules (ISO/IEC 18004: 4).
const quiet = 4

// A qrCode is a QR code: what a device's camera reads.
type qrCode struct {
	code *goqr.QrCode
	side int // in modules, with the rim
}

func newQRCode(text string) (qrCode, error) {
	code, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return qrCode{}, fmt.Errorf("draw a QR code: %w", err)
	}
	return qrCode{code, code.Size() + 2*quiet}, nil
}

// dark tells a module; outside the code all is light.
func (p qrCode) dark(x, y int) bool {
	x, y = x-quiet, y-quiet
	return x >= 0 && y >= 0 && x < p.code.Size() && y < p.code.Size() && p.code.Module(x, y)
}

// svg draws each run of dark modules as one bar. Cameras want dark on light, so
// that its colors are the same by day and by night.
func (p qrCode) svg(label string) template.HTML {
	var bars strings.Builder
	for y := range p.side {
		for x := 0; x < p.side; x++ {
			from := x
			for p.dark(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&bars, "M%d %dh%dv1h-%dz", from, y, x-from, x-from)
			}
		}
	}
	return template.HTML(fmt.Sprintf(`<svg class="qr" viewBox="0 0 %d %d" role="img" aria-label="%s" shape-rendering="crispEdges">`+
		`<rect class="qr-light" width="%d" height="%d"/><path class="qr-dark" d="%s"/></svg>`,
		p.side, p.side, template.HTMLEscapeString(label), p.side, p.side, &bars))
}

// HalfBlocks is a QR code for a terminal, two rows of modules in each line. It
// names both its colors: else a light terminal would swap them.
func HalfBlocks(text string) (string, error) {
	p, err := newQRCode(text)
	if err != nil {
		return "", err
	}
	var b strings.Builder
	for y := 0; y < p.side; y += 2 {
		b.WriteString("\x1b[97;40m")
		for x := range p.side {
			// Light is what is drawn.
			b.WriteString([]string{"█", "▄", "▀", " "}[bit(p.dark(x, y))*1+bit(p.dark(x, y+1))*2])
		}
		b.WriteString("\x1b[0m\n")
	}
	return b.String(), nil
}

func bit(on bool) int {
	if on {
		return 1
	}
	return 0
}
