package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"
	"time"
	"unicode/utf8"

	"cornerwise/steps"
)

const (
	bodyLimit   = 256 << 10 // a form; the largest by hand has some 60 KB
	opBody      = steps.MaxOp
	importLimit = 16 << 20
	drainLimit  = 64 << 20
)

// readJSON is a request's whole body: one JSON value in UTF-8 of at most limit bytes. A body
// may take long: who was forgotten meanwhile is refused.
func readJSON(r *http.Request, limit int64) ([]byte, error) {
	data, err := io.ReadAll(&body{from: r.Body, left: limit})
	if err != nil {
		// Many clients send all before they listen: cut off, they would never
		// read why.
		io.CopyN(io.Discard, r.Body, drainLimit)
		return nil, err
	}
	if err := visitorOf(r).forgotten(); err != nil {
		return nil, err
	}
	return data, wellFormed(data)
}

// A body is what a request brings. Its errors are problems.
type body struct {
	from  io.Reader
	left  int64 // bytes that it may still bring
	taken int64
	until func() time.Time // by when its next part must come; nil: as the server has it
	w     http.ResponseWriter
}

func (b *body) Read(data []byte) (int, error) {
	if b.until != nil {
		http.NewResponseController(b.w).SetReadDeadline(b.until()) // a recorder in a test has none
	}
	n, err := b.from.Read(data)
	b.taken += int64(n)
	switch b.left -= int64(n); {
	case b.left < 0:
		return 0, tooLarge(b.taken + b.left)
	case err != nil && err != io.EOF:
		return n, &problem{status: http.StatusBadRequest, Code: "cut-off",
			Message: "The request broke off before all of it had come, and nothing was " +
				"changed. Send it again."}
	}
	return n, err
}

func tooLarge(limit int64) *problem {
	return &problem{status: http.StatusRequestEntityTooLarge, Code: "too-large",
		Message: fmt.Sprintf("This is too large: at most %s are taken here. Nothing was changed.", inBytes(limit))}
}

func inBytes(limit int64) string {
	if limit < 1<<20 {
		return fmt.Sprintf("%d KiB", limit>>10)
	}
	return fmt.Sprintf("%d MiB", limit>>20)
}

// wellFormed holds what comes in to JSON in UTF-8: it is kept as written, and
// browsers close a websocket over bytes that are not.
func wellFormed(data []byte) error {
	switch {
	case len(bytes.TrimSpace(data)) == 0:
		return badJSON("Nothing was sent; this needs a JSON object.")
	case !utf8.Valid(data):
		return badJSON("This is not UTF-8 text; JSON is.")
	case !json.Valid(data):
		return badJSON(whereBroken(data))
	}
	return nil
}

func badJSON(message string) *problem {
	return &problem{status: http.StatusBadRequest, Code: "bad-json", Message: message}
}

func whereBroken(data []byte) string {
	var v any
	err := json.Unmarshal(data, &v)
	var syntax *json.SyntaxError
	if errors.As(err, &syntax) {
		return fmt.Sprintf("This can't be read as JSON: it breaks at byte %d of %d.", syntax.Offset, len(data))
	}
	return "This can't be read as JSON."
}

// decodeOp reads one op. It knows what an op looks like, not what it means: that
// is for the store to say. On error the op has its id where that could be read.
func decodeOp(data []byte) (steps.Op, error) {
	var op steps.Op
	if err := wellFormed(data); err != nil {
		return op, err
	}
	if bytes.TrimSpace(data)[0] != '{' {
		return op, badOp("", "An op is a JSON object, such as {\"op\": \"…\", \"kind\": \"tick\", \"tick\": \"…\", \"done\": true}.")
	}
	d := json.NewDecoder(bytes.NewReader(data))
	d.DisallowUnknownFields()
	err := d.Decode(&op)
	if err == nil {
		return op, nil
	}
	var named struct {
		Op string `json:"op"`
	}
	json.Unmarshal(data, &named)
	op.ID = named.Op

	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return op, badOp(kind.Field, fmt.Sprintf("%s can't be a JSON %s; it must be %s.",
			kind.Field, clip(kind.Value, 40), inWords(kind.Type.String())))
	}
	if name, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
		name = clip(strings.Trim(name, `"`), 40)
		return op, badOp(name, fmt.Sprintf("An op has no field %q.", name))
	}
	return op, badOp("", "This is not an op.")
}

func badOp(field, message string) *problem {
	return &problem{status: http.StatusUnprocessableEntity, Code: steps.BadOp, Field: field, Message: message}
}

func inWords(goType string) string {
	switch {
	case strings.HasSuffix(goType, "bool"):
		return "true or false"
	case strings.HasSuffix(goType, "int"):
		return "a whole number"
	case strings.HasPrefix(goType, "map"):
		return "an object with text in quotes"
	}
	return "text in quotes"
}
