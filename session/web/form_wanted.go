package web

import (
	"fmt"
	"net/url"
	"strconv"
	"strings"

	"cornerwise/calc"
)

// A wantedForm is a finished size that is wanted: a bed's, or own figures. Its
// inputs are named wanted.….
type wantedForm struct {
	Bed, Drop, Width, Length string
	Border                   string // that is to give it, from 1; "" is the outermost
}

func readWanted(sent url.Values) wantedForm {
	get := func(name string) string { return strings.TrimSpace(sent.Get("wanted." + name)) }
	return wantedForm{get("bed"), get("drop"), get("width"), get("length"), get("border")}
}

// Asked tells whether there is anything to work out.
func (w wantedForm) Asked() bool { return w.Bed+w.Width+w.Length != "" }

// A wantedView is what it comes to.
type wantedView struct {
	calc.Wanted
	From string // "a queen bed, 60 x 80 in, with a drop of 12 in"
	Name string // of the border
}

// Do takes a way.
func (v wantedView) Do(f calc.Fit) string {
	cut, other := f.Cut.Exactly(), f.CutTopBottom.Exactly()
	if f.Even() {
		other = ""
	}
	return fmt.Sprintf("fit-%d-%s|%s", f.Border, cut, other)
}

// wanted works it out on the form's plan, whose border that is to give the size need
// not have a cut width yet. Faults are of the wanted inputs alone. It is nil where nothing
// is asked, or where the plan has other faults, which are shown at their own inputs.
func (f planForm) wanted() (*wantedView, map[string]string) {
	if !f.Wanted.Asked() {
		return nil, nil
	}
	u, faults := f.unit(), map[string]string{}
	read := func(name, written string, usual calc.Length) calc.Length {
		if written == "" {
			return usual
		}
		l, err := calc.ParseLength(written, u)
		switch {
		case err != nil:
			faults["wanted."+name] = sentenceOf(err.Error())
		case l.Sign() < 0 || l.Sign() == 0 && name != "drop":
			faults["wanted."+name] = "This must be more than 0."
		case !l.Less(calc.Of(1000, 1, calc.Inch)):
			faults["wanted."+name] = "This is more than the 1000 in that are reckoned."
		}
		return l
	}
	var v wantedView
	var size calc.Size
	if bed, ok := calc.MattressNamed(f.Wanted.Bed); ok {
		usual := calc.Of(12, 1, calc.Inch)
		if u == calc.Centimeter {
			usual = calc.Of(30, 1, calc.Centimeter)
		}
		drop := read("drop", f.Wanted.Drop, usual)
		size = calc.Covered(bed.Size, drop)
		shown := func(l calc.Length) string { return calc.Figure{Length: l, Unit: u}.Shown() }
		v.From = fmt.Sprintf("A %s bed, %s × %s, with %s hanging down at both sides and the foot", bed.Name, shown(bed.Size.Width), shown(bed.Size.Length), shown(drop))
	} else {
		none := calc.Length{}
		size = calc.Size{Width: read("width", f.Wanted.Width, none), Length: read("length", f.Wanted.Length, none)}
		for name, l := range map[string]calc.Length{"width": size.Width, "length": size.Length} {
			if l.Sign() == 0 && faults["wanted."+name] == "" {
				faults["wanted."+name] = "This is missing; give both, or choose a bed."
			}
		}
	}
	if len(faults) > 0 {
		return nil, faults
	}
	border := len(f.Borders)
	if n, err := strconv.Atoi(f.Wanted.Border); err == nil && 1 <= n && n <= len(f.Borders) {
		border = n
	}
	with := f
	with.Borders = append([]borderForm(nil), f.Borders...)
	// Any width will do: it is what is asked for.
	with.Borders[border-1].Cut, with.Borders[border-1].CutTopBottom = "10 in", ""
	plan, err := calc.ParsePlan(with.plan())
	if err != nil {
		return nil, nil
	}
	v.Wanted, v.Name = calc.NewWanted(plan, border, size), plan.Borders[border-1].Name
	return &v, nil
}
