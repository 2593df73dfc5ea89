package web

import (
	"bytes"
	"encoding/json"
	"net/http"
	"strings"

	"cornerwise/calc"
	"cornerwise/calc/photo"
)

// A flatToCut is what was asked, with the repeats that a person has settled, in inches; 0 where
// they are as found.
type flatToCut struct {
	photo.Asked
	along, across           float64
	plainAlong, plainAcross bool // it is the same all along: any piece of it is a repeat
}

// pieceOfPlain is how many inches of a plain direction a tile shows.
const pieceOfPlain = 2

func badFlat(field, message string) *problem {
	return &problem{status: http.StatusUnprocessableEntity, Code: "bad-photo", Field: field, Message: message}
}

// readFlat reads what a photo is to be looked at with.
func readFlat(body []byte) (to flatToCut, unit calc.Unit, err error) {
	var asked flatAsked
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&asked); err != nil {
		if name, ok := strings.CutPrefix(err.Error(), "json: unknown field "); ok {
			name = clip(strings.Trim(name, `"`), 40)
			return to, unit, badFlat(name, "Here is no field "+name+". Send sheet, corners and along.")
		}
		return to, unit, badFlat("", "This can't be read. Send an object with sheet, corners and along, such as "+
			`{"sheet": "letter", "corners": [[10, 10], [900, 12], [905, 1200], [8, 1190]], "along": "right"}.`)
	}
	switch asked.Unit {
	case "", calc.Inch:
		unit = calc.Inch
	case calc.Centimeter:
		unit = calc.Centimeter
	default:
		return to, unit, badFlat("unit", "unit must be in or cm.")
	}
	if to.Sheet, to.Either, err = readSheet(asked.Sheet, unit); err != nil {
		return to, unit, err
	}
	if len(asked.Corners) != 4 {
		return to, unit, badFlat("corners", "Touch the sheet's four corners: corners is a list of four.")
	}
	for i, c := range asked.Corners {
		if len(c) != 2 {
			return to, unit, badFlat("corners", "Each corner is two numbers, right and down, in pixels of the photo.")
		}
		to.Corners[i] = photo.Point{X: c[0], Y: c[1]}
	}
	switch asked.Along {
	case "right", "":
	case "down":
		to.Down = true
	default:
		return to, unit, badFlat("along", "along is the way that the strip will run in the picture: right or down.")
	}
	if asked.Repeats == nil {
		return to, unit, nil
	}
	if to.along, to.plainAlong, err = readRepeat("repeats.along", asked.Repeats.Along, unit); err != nil {
		return to, unit, err
	}
	to.across, to.plainAcross, err = readRepeat("repeats.across", asked.Repeats.Across, unit)
	return to, unit, err
}

// readSheet reads the paper's name, or the sides of what lies on the fabric. Which way paper lies
// is told from its shape.
func readSheet(data json.RawMessage, unit calc.Unit) (sheet photo.Sheet, either bool, err error) {
	var name string
	if json.Unmarshal(data, &name) == nil {
		switch name {
		case "letter":
			return photo.Letter, true, nil
		case "a4":
			return photo.A4, true, nil
		}
	}
	var sides struct{ Width, Length json.RawMessage }
	if len(data) == 0 || json.Unmarshal(data, &sides) != nil {
		return sheet, false, badFlat("sheet", `The sheet that lies on the fabric is "letter", "a4", or its sides as {"width": "6", "length": "24"}.`)
	}
	if sheet.Width, err = readSide("sheet.width", sides.Width, unit); err != nil {
		return sheet, false, err
	}
	sheet.Length, err = readSide("sheet.length", sides.Length, unit)
	return sheet, false, err
}

func readSide(field string, data json.RawMessage, unit calc.Unit) (inches float64, err error) {
	var written string
	if json.Unmarshal(data, &written) != nil {
		var n json.Number
		if json.Unmarshal(data, &n) != nil {
			return 0, badFlat(field, field+" is missing: give the sheet's side as a length, such as \"6 1/2\".")
		}
		written = n.String()
	}
	return readInches(field, written, unit)
}

func readRepeat(field, written string, unit calc.Unit) (inches float64, plain bool, err error) {
	switch strings.TrimSpace(written) {
	case "":
		return 0, false, nil
	case string(photo.Plain):
		return pieceOfPlain, true, nil
	}
	inches, err = readInches(field, written, unit)
	return inches, false, err
}

func readInches(field, written string, unit calc.Unit) (inches float64, err error) {
	length, err := calc.ParseLength(written, unit)
	if err != nil {
		return 0, badFlat(field, field+" "+err.Error()+".")
	}
	return length.Float(calc.Inch), nil
}
