package calc

import (
	"errors"
	"fmt"
	"math/big"
	"strings"
	"unicode/utf8"
)

// Limits on what is read: no input is ever expanded into huge numbers.
const (
	maxWritten = 40 // characters of a length
	maxWhole   = 6  // digits before the point
	maxPlaces  = 6  // digits after it
	maxDenom   = 4  // digits of a fraction's lower number
)

// How a length may be written, for every message that asks for another try.
const howWritten = `write it like 36 1/2, 36.5, "92.7 cm" or "1 yd"`

// inchesPer is how many inches one of each written unit is, as an exact fraction
// (1 in = 2.54 cm, 1 yd = 36 in: NBS Circular 572, addendum of 22 January 1960).
var inchesPer = map[string]*big.Rat{}

func init() {
	for names, r := range map[string]*big.Rat{
		`in inch inches " ″ ” '' ′′`: big.NewRat(1, 1),
		`ft foot feet ' ′ ’`:         big.NewRat(12, 1),
		`yd yds yard yards`:          big.NewRat(36, 1),
		`mm`:                         big.NewRat(10, 254),
		`cm`:                         big.NewRat(100, 254),
		`m`:                          big.NewRat(10000, 254),
	} {
		for _, name := range strings.Fields(names) {
			inchesPer[name] = r
		}
	}
}

// fractionSigns are the fractions that have a character of their own. The spaces keep
// a digit typed behind one from running into it: 3½6 is not 3 1/26.
var fractionSigns = strings.NewReplacer(
	"½", " 1/2 ", "¼", " 1/4 ", "¾", " 3/4 ", "⅛", " 1/8 ", "⅜", " 3/8 ", "⅝", " 5/8 ", "⅞", " 7/8 ",
	"⅓", " 1/3 ", "⅔", " 2/3 ", "⅙", " 1/6 ", "⅚", " 5/6 ", "⅕", " 1/5 ", "⅖", " 2/5 ", "⅗", " 3/5 ", "⅘", " 4/5 ",
	"⁄", "/", "∕", "/", "–", "-", "‑", "-", "‐", "-", "−", "-", "\u00a0", " ", "\u202f", " ", "\u2009", " ", "\t", " ",
)

// ParseLength reads a length as a quilter writes it: "36 1/2", "36-1/2", "36½",
// "36.5", "92,7 cm", "365 mm", "1 yd", `36 1/2"`. A bare number is in unit u.
// The error is a whole sentence without the field's name.
func ParseLength(written string, u Unit) (Length, error) {
	s := strings.TrimSpace(written)
	switch {
	case len(written) > 8*maxWritten: // blanks count: what is written is kept
		return Length{}, fmt.Errorf("is longer than %d characters; %s", maxWritten, howWritten)
	case s == "":
		return Length{}, errors.New("is empty; " + howWritten)
	case utf8.RuneCountInString(s) > maxWritten:
		return Length{}, fmt.Errorf("is longer than %d characters; %s", maxWritten, howWritten)
	case !utf8.ValidString(s):
		return Length{}, errors.New("is not readable text; " + howWritten)
	}
	number, unit := splitUnit(strings.TrimSpace(fractionSigns.Replace(s)))
	factor := u.inches()
	if unit != "" {
		var ok bool
		if factor, ok = inchesPer[unit]; !ok {
			return Length{}, fmt.Errorf("%q is not a length; %s", clip(written), howWritten)
		}
	}
	if strings.HasPrefix(number, "-") {
		return Length{}, fmt.Errorf("%q is less than nothing; leave out the minus", clip(written))
	}
	r, err := parseNumber(number)
	if err != nil {
		return Length{}, fmt.Errorf("%q %w", clip(written), err)
	}
	return Length{r.Mul(r, factor)}, nil
}

// splitUnit parts "36 1/2 in." into "36 1/2" and "in".
func splitUnit(s string) (number, unit string) {
	i := strings.LastIndexAny(s, "0123456789")
	if i < 0 {
		return s, ""
	}
	i++
	if strings.HasPrefix(s[i:], ".") || strings.HasPrefix(s[i:], ",") {
		i++ // "36." while it is being typed
	}
	unit = strings.ToLower(strings.TrimSpace(s[i:]))
	return strings.TrimSpace(s[:i]), strings.TrimSuffix(unit, ".")
}

// parseNumber reads "36", "36.5", "36,5", "1/2", "36 1/2" or "36-1/2".
func parseNumber(s string) (*big.Rat, error) {
	slash := strings.IndexByte(s, '/')
	if slash < 0 {
		return parseDecimal(s)
	}
	above, below := strings.TrimSpace(s[:slash]), strings.TrimSpace(s[slash+1:])
	whole := ""
	if i := strings.LastIndexAny(above, " -"); i >= 0 {
		whole, above = strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(above[:i]), "-")), above[i+1:]
		if whole == "" {
			return nil, errors.New("is not a length; " + howWritten)
		}
	}
	n, err := parseDigits(above, maxWhole)
	if err != nil {
		return nil, err
	}
	d, err := parseDigits(below, maxDenom)
	if err != nil {
		return nil, err
	}
	if d.Sign() == 0 {
		return nil, errors.New("has a fraction over nothing; the lower number is 2, 4, 8 or 16")
	}
	r := new(big.Rat).Quo(n, d)
	if whole == "" {
		return r, nil
	}
	if r.Cmp(big.NewRat(1, 1)) >= 0 {
		return nil, errors.New("has a fraction of one or more beside a whole number; did a digit slip?")
	}
	w, err := parseDigits(whole, maxWhole)
	if err != nil {
		return nil, err
	}
	return r.Add(r, w), nil
}

// parseDecimal reads digits with at most one point or comma.
func parseDecimal(s string) (*big.Rat, error) {
	whole, places, _ := strings.Cut(strings.Replace(s, ",", ".", 1), ".")
	if whole == "" && places == "" {
		return nil, errors.New("is not a length; " + howWritten)
	}
	if len(places) > maxPlaces {
		return nil, fmt.Errorf("has more than %d places; no ruler shows as many", maxPlaces)
	}
	r := new(big.Rat)
	if whole != "" {
		w, err := parseDigits(whole, maxWhole)
		if err != nil {
			return nil, err
		}
		r = w
	}
	if places != "" {
		p, err := parseDigits(places, maxPlaces)
		if err != nil {
			return nil, err
		}
		scale := new(big.Int).Exp(big.NewInt(10), big.NewInt(int64(len(places))), nil)
		r.Add(r, p.Quo(p, new(big.Rat).SetInt(scale)))
	}
	return r, nil
}

func parseDigits(s string, limit int) (*big.Rat, error) {
	for _, c := range s {
		if c < '0' || c > '9' {
			return nil, errors.New("is not a length; " + howWritten)
		}
	}
	if s == "" {
		return nil, errors.New("is not a length; " + howWritten)
	}
	if len(s) > limit {
		return nil, fmt.Errorf("has more than %d digits; no quilt is as large, no ruler as fine", limit)
	}
	r, _ := new(big.Rat).SetString(s)
	return r, nil
}

// clip keeps a message short when what was entered is not.
func clip(s string) string {
	r := []rune(strings.TrimSpace(s))
	if len(r) > maxWritten {
		return string(r[:maxWritten]) + "…"
	}
	return string(r)
}
