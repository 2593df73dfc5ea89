package web_test

import (
	"html"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"cornerwise/session"
	"cornerwise/session/web"
)

// read is what another program's eye, zbarimg, finds in dark modules.
func readQR(t *testing.T, side int, dark func(x, y int) bool) string {
	t.Helper()
	if _, err := exec.LookPath("zbarimg"); err != nil {
		if os.Getenv("CI") != "" {
			t.Fatal("no zbarimg found; .ci/test installs it")
		}
		t.Skip("no zbarimg found; install zbar-tools, or run .ci/test")
	}
	const scale = 6
	img := image.NewGray(image.Rect(0, 0, side*scale, side*scale))
	for y := range side * scale {
		for x := range side * scale {
			img.SetGray(x, y, color.Gray{Y: 255})
			if dark(x/scale, y/scale) {
				img.SetGray(x, y, color.Gray{})
			}
		}
	}
	path := filepath.Join(t.TempDir(), "qr.png")
	f, err := os.Create(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := png.Encode(f, img); err != nil {
		t.Fatal(err)
	}
	f.Close()
	out, err := exec.Command("zbarimg", "--quiet", "--raw", path).Output()
	if err != nil {
		t.Fatalf("zbarimg: %v: %s", err, out)
	}
	return strings.TrimSpace(string(out))
}

// modules of an SVG: every bar of the path.
func modulesOf(t *testing.T, svg string) (side int, dark func(x, y int) bool) {
	t.Helper()
	box := regexp.MustCompile(`viewBox="0 0 (\d+) \d+"`).FindStringSubmatch(svg)
	if box == nil {
		t.Fatalf("no picture in %.200s", svg)
	}
	side, _ = strconv.Atoi(box[1])
	set := map[[2]int]bool{}
	for _, bar := range regexp.MustCompile(`M(\d+) (\d+)h(\d+)v1h-(\d+)z`).FindAllStringSubmatch(svg, -1) {
		x, _ := strconv.Atoi(bar[1])
		y, _ := strconv.Atoi(bar[2])
		n, _ := strconv.Atoi(bar[3])
		for i := range n {
			set[[2]int{x + i, y}] = true
		}
	}
	return side, func(x, y int) bool { return set[[2]int{x, y}] }
}

func TestThePictureSaysWhereAndBringsTheToken(t *testing.T) {
	h := openHouse(t)
	h.web.Addresses = func() []string { return []string{"http://192.168.7.2:8370", "http://[fd00::2]:8370"} }
	h.web.Name = "cornerwise.local"
	page := h.page(200, "/devices")
	o := h.web.Devices.Offer(session.Rights{})
	wants(t, "the page", page, o.Code[:4]+" "+o.Code[4:], "192.168.7.2:8370", "[fd00::2]:8370", "<b>cornerwise.local:8370</b>")
	pictures := regexp.MustCompile(`<svg class="qr".*?</svg>`).FindAllString(page, -1)
	if len(pictures) != 2 {
		t.Fatalf("got %d pictures, want one for each address", len(pictures))
	}
	for i, at := range h.web.Addresses() {
		side, dark := modulesOf(t, pictures[i])
		if got := readQR(t, side, dark); got != at+"/pair#"+o.Token {
			t.Errorf("picture %d: got %q, want %q with the token", i, got, at)
		}
	}
	if strings.Contains(html.UnescapeString(page), o.Token) {
		t.Errorf("the token is on the page in words too")
	}
}

func TestHalfBlocksAreReadByACamera(t *testing.T) {
	for _, text := range []string{"x", "http://192.168.7.2:8370/pair#ABCDEFGHIJKLMNOPQRSTUVWXYZ", strings.Repeat("http://[fd00:1:2:3::4]/", 8)} {
		blocks, err := web.HalfBlocks(text)
		if err != nil {
			t.Fatal(err)
		}
		var lines [][]rune
		for line := range strings.Lines(blocks) {
			bare, framed := strings.CutPrefix(strings.TrimSuffix(line, "\x1b[0m\n"), "\x1b[97;40m")
			if !framed {
				t.Fatalf("HalfBlocks: the line %q does not name its colors", line)
			}
			lines = append(lines, []rune(bare))
		}
		got := readQR(t, len(lines[0]), func(x, y int) bool {
			if y/2 >= len(lines) {
				return false
			}
			switch c := lines[y/2][x]; c {
			case ' ':
				return true
			case '▀':
				return y%2 == 1
			case '▄':
				return y%2 == 0
			case '█':
				return false
			default:
				t.Fatalf("HalfBlocks: the character %q", c)
				return false
			}
		})
		if got != text {
			t.Errorf("HalfBlocks: read as %q, want %q", got, text)
		}
	}
}

func TestOnlyTheOwnerSaysWhoComesIn(t *testing.T) {
	h := openHouse(t)
	h.web.Addresses = func() []string { return []string{"http://" + hers} }
	v := h.visitor()
	v.agent = "Mozilla/5.0 (Linux; Android 13) Chrome/118"
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	device := h.web.Devices.List()[0]
	for _, path := range []string{"/devices", "/devices?looks"} {
		if got := v.get(path); got != 403 {
			t.Errorf("GET %s on a paired device: got %d, want 403", path, got)
		}
	}
	for _, path := range []string{"/devices/forget", "/devices/" + device.ID + "/forget"} {
		if got := v.call("POST", path, "application/x-www-form-urlencoded", ""); got.status != 403 || len(h.web.Devices.List()) != 1 {
			t.Errorf("POST %s on a paired device: got %d, want 403", path, got.status)
		}
	}
	if got := v.call("POST", "/api/v1/offers", "application/json", "{}"); got.status != 403 {
		t.Errorf("POST /api/v1/offers on a paired device: got %d, want 403", got.status)
	}
	var o struct{ Code, Token string }
	if h.must(201, "POST", "/api/v1/offers", "{}", &o); o.Code == "" || o.Token == "" {
		t.Errorf("POST /api/v1/offers at the computer: got %+v, want a code and a token", o)
	}
	h.must(422, "POST", "/api/v1/offers", `{"looks": "yes"}`, nil)
	wants(t, "the owner's page", h.page(200, "/devices"), "Android tablet", "1 paired", "Let it only look", "Forget all")
	wants(t, "the owner's page for looking", h.page(200, "/devices?looks"), "looks on", "Let it tick too")
	if got := h.post("/devices/"+device.ID+"/forget", nil); got.status != 303 || len(h.web.Devices.List()) != 0 || v.get("/") != 303 {
		t.Errorf("Forget at the computer: got %d and %v, want it forgotten", got.status, h.web.Devices.List())
	}
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	if got := h.post("/devices/forget", nil); got.status != 303 || len(h.web.Devices.List()) != 0 {
		t.Errorf("Forget all: got %d and %v, want none", got.status, h.web.Devices.List())
	}
}
