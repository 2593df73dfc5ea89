package web

import (
	"strconv"
	"strings"

	"cornerwise/calc"
)

// edit does what a button of the form says: add, remove-2, up-2, down-2 for borders;
// cut-2-5 3/8 in, cutTopBottom-2-5 3/8 in, fit-2-5 3/8 in|4 in for their widths;
// line-2, unline-2-3, stripe-2-ticking for the lines of a stripe; shown-2 and unphoto-2 for
// the photo of its fabric; coping-sides, coping-topBottom and coping-none.
func (f *planForm) edit(do string) {
	deed, of, _ := strings.Cut(do, "-")
	if deed == "coping" {
		f.CopingEdges, f.CopingCut = "", ""
		if of == string(calc.Sides) || of == string(calc.TopBottom) {
			f.CopingEdges = of
		}
		return
	}
	of, value, _ := strings.Cut(of, "-")
	n, _ := strconv.Atoi(of)
	i, last := n-1, len(f.Borders)-1
	if deed == "add" {
		if len(f.Borders) < calc.MaxBorders {
			f.Borders = append(f.Borders, borderForm{})
		}
		return
	}
	if i < 0 || i > last {
		return
	}
	b := &f.Borders[i]
	switch deed {
	case "remove":
		if last > 0 {
			f.Borders = append(f.Borders[:i], f.Borders[i+1:]...)
		}
	case "up":
		if i > 0 {
			f.Borders[i-1], f.Borders[i] = f.Borders[i], f.Borders[i-1]
		}
	case "down":
		if i < last {
			f.Borders[i], f.Borders[i+1] = f.Borders[i+1], f.Borders[i]
		}
	case "cut":
		b.Cut = value
	case "cutTopBottom":
		b.CutTopBottom = value
	case "fit":
		b.Cut, b.CutTopBottom, _ = strings.Cut(value, "|")
	case "shown":
		b.dropLines(f.unit())
	case "unphoto":
		b.Photo = ""
	case "line":
		b.addLine()
	case "unline":
		if j, err := strconv.Atoi(value); err == nil && 1 <= j && j <= len(b.Lines) {
			b.Lines = append(b.Lines[:j-1], b.Lines[j:]...)
		}
	case "stripe":
		if m, ok := calc.ReadyMadeNamed(value); ok {
			b.stripe(m, f.unit())
		}
	}
}

// unit is what bare numbers of the form are in.
func (f *planForm) unit() calc.Unit {
	if f.Unit == string(calc.Centimeter) {
		return calc.Centimeter
	}
	return calc.Inch
}

// lineColors are what new lines begin with, so that neighbors differ.
var lineColors = []string{"#f2ead8", "#23395b", "#a8432f", "#44603f", "#e3c877", "#3f4a52"}

func (b *borderForm) addLine() {
	if len(b.Lines) < calc.MaxLines {
		b.Lines = append(b.Lines, lineForm{Color: lineColors[len(b.Lines)%len(lineColors)]})
	}
}

// dropLines leaves out lines that are not one repeat of the stripe: they were of another fabric
// than the one that was photographed.
func (b *borderForm) dropLines(u calc.Unit) {
	repeat, err := calc.ParseLength(b.Stripe, u)
	var sum calc.Length
	for _, l := range b.Lines {
		width, _ := calc.ParseLength(l.Width, u)
		sum = sum.Add(width)
	}
	if err != nil || !sum.Equal(repeat) {
		b.Lines = nil
	}
}

// stripe gives the border the lines of a ready-made stripe, in its own repeat where
// it has one.
func (b *borderForm) stripe(m calc.ReadyMade, u calc.Unit) {
	repeat, err := calc.ParseLength(b.Stripe, u)
	if err != nil || repeat.Sign() <= 0 {
		repeat = calc.Of(1, 1, calc.Inch)
		if u == calc.Centimeter {
			repeat = calc.Of(3, 1, calc.Centimeter)
		}
		b.Stripe = repeat.Written(u)
	}
	b.Lines = nil
	for _, l := range m.Lines(repeat) {
		b.Lines = append(b.Lines, lineForm{l.Name, l.Width.Written(u), l.Color})
	}
}
