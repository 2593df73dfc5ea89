package calc

import (
	"encoding/json"
	"fmt"
	"slices"

	"cornerwise/calc/pack"
)

// Heads is where the heads of a one-way print point on all four edges of the quilt; "" for a
// print that may lie either way. The heads lie along the selvage.
type Heads string

const (
	// Up is as the quilt hangs: the strips of the sides are cut along the fabric, those of top and
	// bottom across it.
	Up Heads = "up"
	// Outwards, and Inwards, is away from the center and toward it: all strips are cut across.
	Outwards Heads = "outwards"
	Inwards  Heads = "inwards"
)

// AlongOn tells whether strips on these edges must be cut along the fabric.
func (h Heads) AlongOn(e Edges) bool { return h == Up && e == Sides }

// inner is the side of a strip that goes to the center, as it lies on fabric whose heads point
// to its start.
func (h Heads) inner(edge string) string {
	switch {
	case h == Inwards:
		return "top"
	case h == Outwards:
		return "bottom"
	}
	return map[string]string{"left": "right", "right": "left", "top": "bottom", "bottom": "top"}[edge]
}

// oneWay reads whether a print has a direction, and which way it is sewn.
func (r *reader) oneWay(field string, o map[string]json.RawMessage, b Border, c *Fabric) {
	way := r.oneOf(field+".way", o["way"], "both", "one-way")
	heads := Heads(r.oneOf(field+".heads", o["heads"], string(Up), string(Outwards), string(Inwards)))
	switch {
	case way == "one-way" && absent(o["heads"]):
		r.fault(field+".heads", "is missing; say where the heads of the print point on the quilt: up, outwards or inwards")
	case way != "one-way" && !absent(o["heads"]):
		r.fault(field+".heads", "is for a print with a direction; give its way as one-way, or leave this out")
	case way != "one-way" || heads == "":
		return
	}
	c.Heads = heads
	placed := map[bool]string{true: ".across", false: ".first"}[c.Across > 0]
	switch {
	case heads == Up && c.Runs != "":
		r.fault(field+".runs", "can't be %s with heads up: the sides are cut along the fabric, top and bottom across it. Leave this out", c.Runs)
	case c.Runs == lengthwise:
		r.fault(field+".runs", "can't be lengthwise with heads %s: the heads lie along the selvage, so all strips are cut crosswise. Leave this out", heads)
	}
	switch {
	case c.Across > 0 || c.First != nil:
		r.fault(field+placed, "is for a stripe along the selvage, and with heads %s strips are cut across it, through the stripe. Leave this out, or let the print lie both ways", heads)
	case heads == Up && b.Stripe.Sign() > 0:
		r.fault(field+".heads", "can't be up with a stripe: it would run along the sides and across top and bottom, and can't turn a corner. Leave the stripe out, or choose outwards or inwards")
	}
}

// oneFabricOneWay finds borders that are cut from one fabric, but say that it is printed
// otherwise than another does.
func (r *reader) oneFabricOneWay(borders []Border) {
	for i, b := range borders {
		field := fmt.Sprintf("borders[%d].fabric", i)
		for k, first := range borders[:i] {
			c, d := first.Fabric, b.Fabric
			if d.Name == "" || c.Name != d.Name {
				continue
			}
			way := map[bool]string{true: "both", false: "one-way"}
			striped := first.Stripe.Sign() > 0 || b.Stripe.Sign() > 0
			switch {
			case (c.Heads == "") != (d.Heads == ""):
				r.fault(field+".way", "is %s, and border %d says %s of the same fabric, %s; give both the same way, or name the fabrics apart",
					way[d.Heads == ""], k+1, way[c.Heads == ""], d.Name)
			case striped && c.Heads != d.Heads:
				r.fault(field+".heads", "is %s, and on border %d %s: the stripe of their fabric, %s, can't be met both ways. Give both the same heads, or name the fabrics apart",
					d.Heads, k+1, c.Heads, d.Name)
			default:
				continue
			}
			break
		}
	}
}

// directed are the ways of a one-way print: the one that its heads ask for.
func (b *bolt) directed() Ways {
	var w Ways
	rows := slices.IndexFunc(b.strips, func(s bolted) bool { return !s.along })
	columns := slices.IndexFunc(b.strips, func(s bolted) bool { return s.along })
	var way *Way
	switch {
	case columns < 0:
		w.Pick, w.Crosswise = crosswise, b.crosswise()
		way = w.Crosswise
	case rows < 0: // a new strip for a side
		w.Pick, w.Lengthwise = lengthwise, b.lengthwise()
		way = w.Lengthwise
	default:
		w.Pick, w.Mixed = mixed, b.mixed()
		way = w.Mixed
	}
	if !way.Fits {
		w.Pick = ""
	}
	b.direct(way)
	return w
}

// direct says of each piece which of its sides goes to the center. Where all heads point
// outwards, the fabric is laid with its heads to the far end, and the inner edges come first.
func (b *bolt) direct(w *Way) {
	if !w.Fits {
		return
	}
	w.Heads = "start"
	if !slices.ContainsFunc(b.strips, func(s bolted) bool { return s.heads != Outwards }) {
		w.Heads = "end"
	}
	for i := range w.Layout {
		x := &w.Layout[i]
		for _, s := range b.strips {
			if s.border+1 == x.Border {
				x.Inner = s.heads.inner(x.Edge)
			}
		}
		if w.Heads == "end" {
			x.Inner = "top"
		}
	}
}

// mixed lays the strips of the sides in columns along the selvage and the others in rows across
// the fabric, on one length. The repeat of the print is taken to be the same both ways: the rows
// start on whole motifs, and motifs run along rows and columns.
func (b *bolt) mixed() *Way {
	var widest, longest int64
	t := pack.Mixed{Motif: b.motif, Joins: b.join != "none", Work: maxWork / max(b.share, 1)}
	if t.Joins {
		t.Work = maxJoined / max(b.share, 1)
	}
	all, _ := b.centerings()
	strips := b.task(all[0]).Strips
	var columns, rows []int
	for i, s := range b.strips {
		if s.along {
			widest, columns, t.Along = max(widest, s.width), append(columns, i), append(t.Along, strips[i])
		} else {
			longest, rows, t.Across = max(longest, s.length), append(rows, i), append(t.Across, strips[i])
		}
	}
	switch {
	case widest > b.room:
		return refused("The strips of %s are up to %s wide, and the fabric has only %s to cut from across its width. Take a wider fabric, or a narrower border.",
			b.who, b.shown(widest), b.usableShown())
	case b.motif+longest > b.room && b.join == "none":
		return b.tooLong(longest)
	}
	found, proved := t.Lay(b.room, b.loss)
	if found == nil {
		return b.usedUp()
	}
	w := b.way(found.Length, proved)
	w.Layout = append(b.laid(found.Along, columns, true), b.laid(found.Across, rows, false)...)
	for i := range w.Layout {
		if w.Layout[i].Runs = crosswise; i < len(found.Along) {
			w.Layout[i].Runs = lengthwise
		}
	}
	b.joinedAs(w)
	if len(b.choices) > 0 {
		first := all[0][b.choices[0].border]
		w.Centering = &first
	}
	return w
}

// AnyMixed tells whether some fabric is cut lengthwise for the sides and crosswise for the others.
func (s Sheet) AnyMixed() bool {
	return slices.ContainsFunc(s.Fabric, func(c FabricNeed) bool { return c.Mixed != nil })
}

// wayNotes tell what a one-way print takes for granted, and how it looks at the corners.
func (p Plan) wayNotes() (notes []string) {
	for _, b := range p.Borders {
		switch b.Fabric.Heads {
		case Up:
			notes = append(notes, fmt.Sprintf("%s: heads up on all four edges, for a print with its heads along the selvage: the sides are cut along the fabric, top and bottom across it. The corners show it upright on both sides of the miter, not mirrored.", b.Name))
			if b.Motif.Sign() > 0 {
				notes = append(notes, fmt.Sprintf("%s: its repeat is taken to be as long across the fabric as along it. Where they differ, enter the least length that holds whole repeats both ways.", b.Name))
			}
		case Outwards, Inwards:
			notes = append(notes, fmt.Sprintf("%s: heads %s on all four edges, for a print with its heads along the selvage: all strips are cut across the fabric.", b.Name, b.Fabric.Heads))
		}
	}
	return notes
}
