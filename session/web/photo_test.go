package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"html"
	"image"
	"image/jpeg"
	"math"
	"math/rand/v2"
	"mime/multipart"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"

	"cornerwise/calc/photo/made"
	"cornerwise/session"
)

// A taken photo is made up, of a print that repeats both ways, with the truth of it.
type taken struct {
	made.Picture
	shot   made.Shot
	fabric made.Fabric
}

// theTaken is made once for all tests.
var theTaken = sync.OnceValue(func() taken {
	rng := rand.New(rand.NewPCG(5, 5))
	shot := made.Shots(rng, 1000)[0]
	for _, f := range made.Fabrics(5) {
		if f.Name == "border print" {
			return taken{made.Take(f, shot, rng), shot, f}
		}
	}
	panic("there is no border print")
})

func photographed(t *testing.T) (made.Picture, made.Shot, made.Fabric) {
	t.Helper()
	p := theTaken()
	return p.Picture, p.shot, p.fabric
}

type flatJSON struct {
	Corners [][2]float64
	Found   bool
	Doubt   string
	Along   directionJSON
	Across  directionJSON
	Tile    string
	Swatch  string
}

type directionJSON struct {
	Kind   string
	Period *figureJSON
	Mirror float64
	Words  string
}

type figureJSON struct{ Value, Shown string }

// sent sends a photo as a tablet does, and tells its id.
func (h *house) sent(photo []byte) string {
	h.t.Helper()
	var kept struct {
		ID            string
		Width, Height int
	}
	h.must(201, "POST", "/api/v1/photos", string(photo), &kept)
	size, _, err := image.DecodeConfig(bytes.NewReader(photo))
	if err != nil || kept.Width != size.Width || kept.Height != size.Height || len(kept.ID) != 32 {
		h.t.Fatalf("the photo is kept as %+v, want %d by %d", kept, size.Width, size.Height)
	}
	return kept.ID
}

// askedFlat asks how the fabric looks from above, with the sheet's corners as touched.
func askedFlat(p made.Picture, shot made.Shot) string {
	corners, _ := json.Marshal(func() (c [4][2]float64) {
		for i, q := range p.Touched {
			c[i] = [2]float64{q.X, q.Y}
		}
		return c
	}())
	return fmt.Sprintf(`{"sheet":{"width":"%.4f","length":"%.4f"},"corners":%s,"along":"right"}`, shot.SheetW, shot.SheetH, corners)
}

func TestAPhotoTellsItsRepeatAndGoesIntoAPlan(t *testing.T) {
	h := openHouse(t)
	p, shot, fabric := photographed(t)
	id := h.sent(p.JPEG)
	var f flatJSON
	h.must(200, "POST", "/api/v1/photos/"+id+"/flat", askedFlat(p, shot), &f)
	if !f.Found || f.Doubt != "" {
		t.Errorf("the sheet: found %t, doubt %q", f.Found, f.Doubt)
	}
	for name, c := range map[string]struct {
		got  directionJSON
		want float64
	}{"along": {f.Along, fabric.Along.Period}, "across": {f.Across, fabric.Across.Period}} {
		if c.got.Period == nil || c.got.Words == "" {
			t.Errorf("%s: got %+v, want a repeat of %.3f in", name, c.got, c.want)
			continue
		}
		if got, _ := strconv.ParseFloat(c.got.Period.Value, 64); math.Abs(got/c.want-1) > 0.01 {
			t.Errorf("%s: the repeat is %s in (%s), want %.3f", name, c.got.Period.Value, c.got.Kind, c.want)
		}
	}
	tile := h.call("GET", f.Tile, "")
	if _, err := jpeg.Decode(bytes.NewReader(tile.body)); err != nil || len(tile.body) > 40<<10 {
		t.Errorf("GET %s: %d, %d bytes, %v, want one repeat as a JPEG of at most 40 KB", f.Tile, tile.status, len(tile.body), err)
	}
	plan := fmt.Sprintf(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2","photo":%q}]}`, f.Swatch)
	quilt := h.made(plan)
	if got := h.call("GET", "/s/"+quilt+"/"+f.Swatch+".jpg", ""); got.status != 200 || !bytes.Equal(got.body, tile.body) {
		t.Errorf("the quilt's own address of its fabric: %d", got.status)
	}
	if got := h.call("GET", "/s/"+quilt+"/"+id+".jpg", ""); got.status != 404 {
		t.Errorf("a photo that its plan does not name, by that address: %d, want 404", got.status)
	}
	for _, page := range []string{"", "/sheet", "/cutting", "/keep"} {
		if got := h.page(200, "/s/"+quilt+page); !strings.Contains(got, f.Swatch+".jpg") {
			t.Errorf("GET %s shows no fabric", page)
		}
	}
	bare, whole := h.call("GET", at(quilt, "export"), ""), h.call("GET", at(quilt, "export")+"?photos=yes", "")
	if bytes.Contains(bare.body, []byte(`"photos"`)) || !bytes.Contains(whole.body, []byte(`"photos"`)) {
		t.Error("an export has its photos where they are asked for, and only there")
	}
}

// What a swatch was cut with is told; the same asked again finds the same corners.
func TestASwatchTellsWhatItWasCutWith(t *testing.T) {
	h := openHouse(t)
	p, shot, _ := photographed(t)
	id := h.sent(p.JPEG)
	settled := strings.TrimSuffix(askedFlat(p, shot), "}") + `,"repeats":{"along":"2 3/4","across":"plain"}}`
	var first, again flatJSON
	h.must(200, "POST", "/api/v1/photos/"+id+"/flat", settled, &first)
	var told struct {
		Photo string
		Asked struct {
			Corners [][2]float64
			Along   string
			Repeats struct{ Along, Across string }
		}
	}
	h.must(200, "GET", "/api/v1/photos/"+first.Swatch+"/asked", "", &told)
	if r := told.Asked.Repeats; told.Photo != id || r.Along != "2.7500 in" || r.Across != "plain" || told.Asked.Along != "right" {
		t.Errorf("asked again it is %+v, want photo %s, 2 3/4 in along, plain across", told, id)
	}
	var asked struct{ Asked json.RawMessage }
	h.must(200, "GET", "/api/v1/photos/"+first.Swatch+"/asked", "", &asked)
	h.must(200, "POST", "/api/v1/photos/"+id+"/flat", string(asked.Asked), &again)
	if len(again.Corners) != 4 || len(first.Corners) != 4 {
		t.Fatalf("corners: %v, then %v", first.Corners, again.Corners)
	}
	for i, c := range again.Corners {
		if was := first.Corners[i]; math.Hypot(c[0]-was[0], c[1]-was[1]) > 0.5 {
			t.Errorf("corner %d is %v, was %v", i+1, c, was)
		}
	}
	for _, none := range []string{id, strings.Repeat("0", 32) + "-" + strings.Repeat("0", 16)} {
		if a := h.call("GET", "/api/v1/photos/"+none+"/asked", ""); a.status != http.StatusNotFound {
			t.Errorf("GET what %s was cut with: got %d, want 404", none, a.status)
		}
	}
}

// The form has the photo of a border in it: it is shown, kept when a plan is changed, and taken out.
func TestTheFormKeepsTheFabricsPhoto(t *testing.T) {
	h := openHouse(t)
	p, shot, _ := photographed(t)
	var f flatJSON
	h.must(200, "POST", "/api/v1/photos/"+h.sent(p.JPEG)+"/flat", askedFlat(p, shot), &f)
	quilt := h.made(fmt.Sprintf(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2","stripe":"5","start":"1 1/2","photo":%q}]}`, f.Swatch))
	shown := h.page(200, "/s/"+quilt+"/plan")
	wants(t, "the plan's form", shown, `name="borders[0].photo" value="`+f.Swatch+`"`, `src="`+f.Tile+`"`,
		"Photo of the fabric: change", "Take the photo out", `name="borders[0].start" value="1 1/2"`)

	form := url.Values{"center.width": {"36 1/2"}, "center.length": {"48 1/2"}, "borders[0].cut": {"6 1/2"},
		"borders[0].photo": {f.Swatch}, "borders[0].stripe": {"5"},
		"borders[0].lines[0].width": {"2"}, "borders[0].lines[0].color": {"#112233"}}
	with := func(do string) string {
		form.Set("do", do)
		return string(h.post("/new/edit", form).body)
	}
	if body := with("shown-1"); !strings.Contains(body, f.Tile) || strings.Contains(body, "lines[0]") {
		t.Error("a line that is not a repeat of the photographed fabric stays beside its photo")
	}
	form.Set("borders[0].lines[0].width", "5")
	wants(t, "lines that are one repeat", with("shown-1"), f.Tile, "lines[0].width")
	if body := with("unphoto-1"); strings.Contains(body, f.Swatch) || !strings.Contains(body, "Photograph the fabric") {
		t.Error("the photo is still there after it was taken out")
	}

	form.Set("borders[0].photo", strings.Repeat("0", 32))
	form.Del("do")
	if a := h.post("/new", form); a.status != 422 || !strings.Contains(string(a.body), "is not kept here") {
		t.Errorf("a plan with a photo that is not here: got %d, want 422 and why", a.status)
	}
}

func TestAPhotoThatIsKeptHasNoPlaceInIt(t *testing.T) {
	h := openHouse(t)
	p, _, _ := photographed(t)
	exif := append([]byte("\xff\xe1\x00\x20Exif\x00\x00"), []byte("MM\x00*\x00\x00\x00\x08 a place on earth")...)[:34]
	told := append(append([]byte("\xff\xd8"), exif...), p.JPEG[2:]...)
	id := h.sent(told)
	if kept := h.call("GET", "/api/v1/photos/"+id, ""); kept.status != 200 || bytes.Contains(kept.body, []byte("place")) {
		t.Errorf("GET the photo: %d, with the place in it: %t", kept.status, bytes.Contains(kept.body, []byte("place")))
	}
}

func TestWhatIsNoPhotoIsToldSo(t *testing.T) {
	h := openHouse(t)
	p, shot, _ := photographed(t)
	id := h.sent(p.JPEG)
	flat := askedFlat(p, shot)
	none := strings.Repeat("0", 32)
	for _, c := range []struct {
		what, path, body string
		status           int
		field            string
	}{
		{"nothing", "", "", 415, "photo"},
		{"text", "", "not a photo at all", 415, "photo"},
		{"HEIC", "", "\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + strings.Repeat("x", 99), 415, "photo"},
		{"a photo cut short", "", string(p.JPEG[:len(p.JPEG)/2]), 422, "photo"},
		{"too many bytes", "", strings.Repeat("x", 12<<20+1), 413, "photo"},
		{"a photo that is not there", "/" + none + "/flat", flat, 404, "photo"},
		{"no JSON", "/" + id + "/flat", "sheet", 400, ""},
		{"no sheet", "/" + id + "/flat", `{"corners":[[1,1],[2,1],[2,2],[1,2]]}`, 422, "sheet"},
		{"three corners", "/" + id + "/flat", `{"sheet":"a4","corners":[[1,1],[2,1],[2,2]]}`, 422, "corners"},
		{"corners outside", "/" + id + "/flat", `{"sheet":"a4","corners":[[-900,1],[2,1],[2,2],[1,2]]}`, 422, "corners"},
		{"an unknown field", "/" + id + "/flat", `{"paper":"a4"}`, 422, "paper"},
		{"a length that is none", "/" + id + "/flat", `{"sheet":{"width":"wide","length":"11"},"corners":[]}`, 422, "sheet.width"},
	} {
		a := h.call("POST", "/api/v1/photos"+c.path, c.body)
		var got problemJSON
		json.Unmarshal(a.body, &got)
		if a.status != c.status || got.Error.Field != c.field || !sentence(got.Error.Message) {
			t.Errorf("%s: got %d %s, want %d at %q", c.what, a.status, a.body, c.status, c.field)
		}
	}
	if a := h.call("GET", "/api/v1/photos/"+none, ""); a.status != http.StatusNotFound {
		t.Errorf("GET a photo that is not there: %d", a.status)
	}
}

// Without script a form sends the photo, the browser tells each touch on it, and a link leads on to
// a plan with the fabric.
func TestAPhotoIsTouchedWithoutScript(t *testing.T) {
	h := openHouse(t)
	p, shot, fabric := photographed(t)
	sheet := "letter"
	if max(shot.SheetW, shot.SheetH) > 11.5 {
		sheet = "a4"
	}
	var form bytes.Buffer
	parts := multipart.NewWriter(&form)
	file, err := parts.CreateFormFile("photo", "fabric.jpg")
	if err != nil {
		t.Fatal(err)
	}
	file.Write(p.JPEG)
	parts.Close()
	noFollow := &http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := noFollow.Post(h.url+"/photo", parts.FormDataContentType(), &form)
	if err != nil {
		t.Fatal(err)
	}
	res.Body.Close()
	at := res.Header.Get("Location")
	if res.StatusCode != 303 || !strings.HasPrefix(at, "/photo/") {
		t.Fatalf("POST /photo: %d to %q, want on to its corners", res.StatusCode, at)
	}
	size, _, err := image.DecodeConfig(bytes.NewReader(p.JPEG))
	if err != nil {
		t.Fatal(err)
	}
	kept := ""
	for i, q := range p.Touched {
		page := h.page(200, at+"?"+url.Values{"corners": {kept}}.Encode())
		if want := fmt.Sprintf("corner %d, ", i+1); !strings.Contains(page, want) {
			t.Fatalf("the page does not ask for %s", want)
		}
		shown := 760 / float64(size.Width)
		page = h.page(200, at+"?"+url.Values{"corners": {kept}, "at.x": {fmt.Sprint(math.Round(q.X * shown))},
			"at.y": {fmt.Sprint(math.Round(q.Y * shown))}}.Encode())
		m := regexp.MustCompile(`name="corners" value="([^"]*)"`).FindStringSubmatch(page)
		if m == nil {
			t.Fatalf("after touch %d the page keeps no corners", i+1)
		}
		kept = m[1]
	}
	a := h.post(at, url.Values{"corners": {kept}, "sheet": {sheet}, "along": {"right"}})
	m := regexp.MustCompile(`href="(/new\?[^"]*)"`).FindSubmatch(a.body)
	if a.status != 200 || m == nil {
		t.Fatalf("POST %s: %d, without a way on to a plan: %s", at, a.status, a.body)
	}
	on, err := url.Parse(html.UnescapeString(string(m[1])))
	if err != nil {
		t.Fatal(err)
	}
	stripe, _ := strconv.ParseFloat(strings.TrimSuffix(on.Query().Get("stripe"), " in"), 64)
	if math.Abs(stripe/fabric.Across.Period-1) > 0.02 {
		t.Errorf("the plan is to have the stripe %q, want %.3f in", on.Query().Get("stripe"), fabric.Across.Period)
	}
	if page := h.page(200, on.String()); !strings.Contains(page, on.Query().Get("photo")) {
		t.Error("the new plan does not have the fabric")
	}
	for what, c := range map[string]url.Values{
		"no corners":          {"sheet": {"letter"}},
		"corners in a line":   {"corners": {"1,1 2,2 3,3 4,4"}, "sheet": {"letter"}, "along": {"right"}},
		"rubbish for corners": {"corners": {"a,b NaN,1 1e999,2 4,4"}, "sheet": {"letter"}, "along": {"right"}},
	} {
		if a := h.post(at, c); a.status != 422 || !bytes.Contains(a.body, []byte(`role="alert"`)) {
			t.Errorf("%s: %d, want a sentence", what, a.status)
		}
	}
}

// A device's import is small. The computer that serves takes a quilt with all the photos that it
// ever had.
func TestTheOwnerImportsAQuiltWithManyPhotos(t *testing.T) {
	h := openHouse(t)
	id := h.made(`{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2"}]}`)
	for n := range 2 {
		photo := bytes.Repeat([]byte{byte(n)}, 7<<20)
		kept, err := h.store.KeepPhoto(t.Context(), photo)
		if err != nil {
			t.Fatal(err)
		}
		h.must(200, "POST", at(id, "ops"), fmt.Sprintf(`{"op":"%d","kind":"plan","plan":{"center":{"width":"36 1/2","length":"48 1/2"},"borders":[{"cut":"6 1/2","photo":%q}]}}`, n, kept), nil)
	}
	export := string(h.call("GET", at(id, "export")+"?photos=yes", "").body)
	if len(export) < 18<<20 {
		t.Fatalf("the export has %d bytes; this proves nothing", len(export))
	}
	v := h.visitor()
	v.pair("token", h.web.Devices.Offer(session.Rights{}).Token)
	if got := v.call("POST", "/api/v1/import", "application/json", export); got.status != 413 || !strings.Contains(string(got.body), "Take everything along") {
		t.Errorf("a device imports it: got %d %s, want 413 and where it is taken", got.status, got.body)
	}
	h.must(201, "POST", "/api/v1/import", export, nil)
}
