package web

import (
	"context"
	"errors"
	"fmt"
	"html/template"

	"cornerwise/calc"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// A previewView is what the form comes to, as far as it goes.
type previewView struct {
	Sheet       *calc.Sheet   // nil while the plan can't be made
	Pic         template.HTML // the top
	FirstCorner template.HTML // its first corner, where a border has a stripe
	Nearest     []nearestWidth
	Prints      []printView
	Coped       bool // the plan has coping strips
	Wanted      *wantedView
	Replan      *steps.Replan // what becomes of the work, where its plan is changed

	Faults calc.Faults
	Said   map[string]string // faults by input, as sentences
	Beside map[string]string // what an input comes to, by input

	aside map[string]string // the faults of inputs that are not the plan's
}

// A printView is how the print of a border meets at the four corners.
type printView struct {
	Border   int // 1 is innermost
	Name     string
	Meetings []meetingView
	Misses   string // so much, where it is seen
	InMiter  string // what makes a motif lie whole in the corners
	Cant     string // why it can't mirror at all
	Copings  []copingView
}

type meetingView struct {
	Centering calc.Pair[calc.Centering]
	Words     string // "motif on the sides, gap on top and bottom"
	Meets     bool
	Misses    string
	Best      bool // as the sheet centers it
	Pic       template.HTML
}

// A copingView is a pair of coping strips that mends a print; Do takes it.
type copingView struct {
	Do, Edges, Cut, Center string
}

// preview works the form out; a plan that can't be made has faults and no sheet.
func preview(ctx context.Context, f planForm) previewView {
	v := previewView{Beside: map[string]string{}, aside: map[string]string{}}
	v.Wanted, v.aside = f.wanted()
	if v.aside == nil {
		v.aside = map[string]string{}
	}
	plan, err := calc.ParsePlan(f.plan())
	if err != nil {
		errors.As(err, &v.Faults)
		f.blame(v.Faults)
	}
	v.Said = map[string]string{}
	for in, said := range f.Faults {
		v.Said[in] = said
	}
	if err == nil {
		q := draw.Quilt{Plan: plan, Sheet: calc.NewSheet(plan)}
		if f.tiles != nil {
			q.Tiles = f.tiles(plan)
		}
		v.made(ctx, f, q)
	}
	for in, said := range v.aside {
		v.Said[in] = said
	}
	return v
}

// made fills in what a plan without faults comes to.
func (v *previewView) made(ctx context.Context, f planForm, q draw.Quilt) {
	plan, sheet := q.Plan, q.Sheet
	v.Sheet, v.Coped = &sheet, plan.Coping != nil
	v.Pic = template.HTML(q.Defs() + q.Draw(draw.Scene{Kind: draw.PlanScene}))
	v.Nearest = nearestWidths(plan)
	for i, b := range plan.Borders {
		if b.Stripe.Sign() > 0 && v.FirstCorner == "" {
			v.FirstCorner = template.HTML(q.Draw(draw.Scene{Kind: draw.CornerScene, Act: "front", Corner: 1}))
		}
		if p, ok := calc.Pitches(plan, i+1); ok {
			v.Beside[input(i, "stripe")] = pitchWords(p)
		}
		if j, ok := calc.NewInJoins(plan, sheet, i); ok {
			v.Beside[input(i, "cut")] = joinedWords(j)
		}
		v.atHand(ctx, f, plan, i)
	}
	for _, m := range sheet.Match {
		v.Prints = append(v.Prints, newPrint(q, m))
	}
	if c := sheet.Coping; c != nil {
		v.Beside["coping.cut"] = fmt.Sprintf("Two strips, cut %s × %s; together they add %s.", c.CutWidth.Exactly(), c.CutLength.Shown(), c.Total.Exactly())
	}
}

func pitchWords(p calc.Pair[calc.Pitch]) string {
	one := func(p calc.Pitch) string {
		if p.Across == 0 {
			return "No strip so wide fits on the fabric with its line."
		}
		across := fmt.Sprintf("%d lie", p.Across)
		if p.Across == 1 {
			across = "1 lies"
		}
		waste := p.Waste.Exactly()
		if p.Waste.Length.Sign() == 0 {
			waste = "nothing"
		}
		return fmt.Sprintf("%s across the fabric, %s from line to line; %s between two is waste.", across, p.Step.Exactly(), waste)
	}
	sides, top := one(p.Sides), one(p.TopBottom)
	if sides == top {
		return sides
	}
	return "Sides: " + sides + " Top and bottom: " + top
}

// atHand tells whether the piece of fabric at hand does for border i, from 0.
func (v *previewView) atHand(ctx context.Context, f planForm, plan calc.Plan, i int) {
	h := newAtHand(ctx, plan, i+1, f.Borders[i].HandWidth, f.Borders[i].HandLength)
	if h.Fault != "" {
		v.aside[input(i, "hand.length")] = h.Fault
	}
	if h.Says != "" {
		v.Beside[input(i, "hand.length")] = h.Says
	}
}

func newPrint(q draw.Quilt, m calc.Match) printView {
	p := printView{Border: m.Border, Name: q.Plan.Borders[m.Border-1].Name}
	if !m.Possible {
		p.Cant = m.Why
		return p
	}
	for _, x := range calc.Centerings(q.Plan, m.Border) {
		view := meetingView{
			Centering: x.Centering,
			Words:     fmt.Sprintf("%s on the sides, %s on top and bottom", x.Centering.Sides, x.Centering.TopBottom),
			Meets:     !x.Seen(), Misses: x.Mismatch.Shown(), Best: x.Centering == m.Centering,
			Pic: template.HTML(q.Corners(m.Border, x)),
		}
		p.Meetings = append(p.Meetings, view)
	}
	if m.InMiter != nil {
		p.InMiter = m.InMiter.Words(q.Plan, m.Centering)
	}
	if !m.Seen() {
		return p
	}
	p.Misses = m.Mismatch.Shown()
	if q.Plan.Coping != nil {
		return p
	}
	shown := func(l calc.Length) string { return calc.Figure{Length: l, Unit: q.Plan.Unit}.Shown() }
	for _, a := range []calc.Addition{m.AddToWidth, m.AddToLength} {
		if a.Easier != nil {
			a = *a.Easier
		}
		words := "the sides"
		if a.Edges == calc.TopBottom {
			words = "top and bottom"
		}
		p.Copings = append(p.Copings, copingView{
			Do: "coping-" + string(a.Edges), Edges: words, Cut: a.CopingStrip.Exactly(),
			Center: shown(a.Center.Width) + " × " + shown(a.Center.Length),
		})
	}
	return p
}
