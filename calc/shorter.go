package calc

import (
	"fmt"
	"strings"
)

// The strips of an inner border are as long as the whole band asks for, so that each band's
// ends are level. Their least length and the spare would do. Where that is less fabric to
// buy, the sheet says so.

// shorterNotes tell of each fabric that shorter strips would save some of.
func shorterNotes(p Plan, s Sheet, bands Pair[Band]) (notes []string) {
	if len(p.Borders) < 2 {
		return nil
	}
	told := map[int]bool{}
	for i := range p.Borders {
		if told[i] {
			continue
		}
		ways := s.Fabric[i].Ways
		borders := sharing(p, i)
		for k := range borders {
			borders[k]--
			told[borders[k]] = true
		}
		for _, c := range s.Together {
			if c.Borders[0] == i+1 {
				ways = c.Ways
			}
		}
		if note := shorterNote(p, s, bands, borders, ways); note != "" {
			notes = append(notes, note)
		}
	}
	return notes
}

// glance is the part of the usual search that is made for an offer: a layout that takes less
// is found soon or left alone.
const glance = 20

// mostOffered is how many strips of one fabric are looked at for an offer; more take too long.
const mostOffered = 16

// shorterNote is what is said of one fabric, from which these borders, from 0, are cut as
// planned in these ways.
func shorterNote(p Plan, s Sheet, bands Pair[Band], borders []int, ways Ways) string {
	was := ways.Picked()
	if was == nil {
		return ""
	}
	q := p
	q.Borders = append([]Border(nil), p.Borders...)
	var strips []Strip
	var words []string
	for _, i := range borders {
		if i < len(p.Borders)-1 { // the outermost crosses the whole band
			q.Borders[i].Lengths = LeastLengths
		}
		var pair []Strip
		for _, e := range allEdges {
			strip, _ := newStrip(q, bands, i, e)
			pair = append(pair, strip)
		}
		strips = append(strips, pair...)
		if p.Borders[i].Lengths != q.Borders[i].Lengths && pair[0].CutLength.Length.Less(s.strip(i+1, Sides).CutLength.Length) {
			words = append(words, fmt.Sprintf("%s: strips of %s on the sides and %s on top and bottom would do",
				p.Borders[i].Name, pair[0].CutLength.Shown(), pair[1].CutLength.Shown()))
		}
	}
	if len(words) == 0 {
		return ""
	}
	b := newBolt(q, strips, s.Match, borders)
	if b.share = glance; len(b.strips) > mostOffered {
		return ""
	}
	is := b.ways().Picked()
	if is == nil || !is.Buy.Length.Less(was.Buy.Length) {
		return ""
	}
	saved := Figure{was.Buy.Length.Sub(is.Buy.Length), p.Unit, FabricUp}
	return fmt.Sprintf("%s, and save %s. Choose the least lengths in the plan, under fabric, to cut them so.", strings.Join(words, "; "), saved.Shown())
}
