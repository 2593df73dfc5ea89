package calc

import (
	"fmt"
	"slices"
)

// A FabricNeed is what fabric one border takes, cut one way or the other.
type FabricNeed struct {
	Border int    `json:"border"` // 1 is innermost
	Name   string `json:"name"`
	Ways
}

// A SharedFabric is what one fabric takes from which several borders are cut.
type SharedFabric struct {
	Name    string `json:"name"`
	Borders []int  `json:"borders"`
	Ways
}

// Ways are the ways to cut that the plan asks for: lengthwise, crosswise or both; or, for a
// one-way print, the one that its heads ask for.
type Ways struct {
	Lengthwise *Way `json:"lengthwise,omitempty"`
	Crosswise  *Way `json:"crosswise,omitempty"`
	// Mixed is the sides lengthwise and top and bottom crosswise, on one length.
	Mixed *Way `json:"mixed,omitempty"`
	// Pick is "lengthwise", "crosswise" or "mixed": the one that fits and takes less fabric,
	// lengthwise where they are alike; empty where none fits.
	Pick string `json:"pick"`
}

// Picked is the way of the pick, nil where none fits.
func (w Ways) Picked() *Way {
	switch w.Pick {
	case "lengthwise":
		return w.Lengthwise
	case "crosswise":
		return w.Crosswise
	case mixed:
		return w.Mixed
	}
	return nil
}

// Words are how strips run as picked, for people; "" where no way fits.
func (w Ways) Words() string {
	switch w.Pick {
	case "":
		return ""
	case mixed:
		return "sides lengthwise, others crosswise"
	}
	return "strips " + w.Pick
}

// A NamedWay is a way with its name, as in a pick.
type NamedWay struct {
	Name string
	*Way
}

// All are the ways that the plan asks for.
func (w Ways) All() []NamedWay {
	all := []NamedWay{{lengthwise, w.Lengthwise}, {crosswise, w.Crosswise}, {mixed, w.Mixed}}
	return slices.DeleteFunc(all, func(x NamedWay) bool { return x.Way == nil })
}

// A Way is one way to cut, with the least length of fabric that it takes. Where it
// does not fit there are no figures, only Why.
type Way struct {
	Fits   bool    `json:"fits"`
	Why    string  `json:"why,omitempty"`
	Length *Figure `json:"length,omitempty"` // of the layout, as it lies
	Buy    *Figure `json:"buy,omitempty"`    // after squaring the ends, shrinkage and rounding
	// Centering is what the layout puts on the middles of the first of its borders
	// that has a motif; nil without one.
	Centering *Pair[Centering] `json:"centering,omitempty"`
	// Join is how parts become strips, "straight" or "diagonal"; empty where every
	// strip is cut in one.
	Join string `json:"join,omitempty"`
	// Heads is the end of the fabric that the heads of a one-way print point to, "start", where
	// Y is 0, or "end"; empty for a print that may lie either way.
	Heads  string  `json:"heads,omitempty"`
	Layout []Piece `json:"layout"`

	needs  Length // what is bought, before it is rounded up
	proved bool   // that no layout is shorter
	along  bool   // all strips run along the selvage
}

// Along tells whether the strip of a piece runs along the selvage.
func (w *Way) Along(x Piece) bool { return w.along || x.Runs == lengthwise }

// A Piece is a rectangle of fabric, and what it is for. X and Width go across the
// fabric, Y and Length along the selvage, whichever way its strip runs.
type Piece struct {
	X      Figure `json:"x"`
	Y      Figure `json:"y"`
	Width  Figure `json:"width"`
	Length Figure `json:"length"`
	Edge   string `json:"edge"` // left, right, top or bottom
	Border int    `json:"border"`
	// Part numbers the parts that are joined to one strip, from 1; 0 for a strip in one.
	Part int `json:"part,omitempty"`
	// Runs is how its strip runs in a mixed layout, "lengthwise" or "crosswise".
	Runs string `json:"runs,omitempty"`
	// Inner is the side of it that goes to the center, of a one-way print: "left", "right",
	// "top" (toward the start) or "bottom".
	Inner string `json:"inner,omitempty"`
}

const (
	lengthwise = "lengthwise"
	crosswise  = "crosswise"
	mixed      = "mixed"
)

// newFabric reckons every border's fabric and every shared one.
func newFabric(p Plan, strips []Strip, matches []Match) (each []FabricNeed, shared []SharedFabric) {
	each, shared = []FabricNeed{}, []SharedFabric{}
	var names []string
	alike := map[string][]int{}
	for i, b := range p.Borders {
		each = append(each, FabricNeed{i + 1, b.Name, newBolt(p, strips, matches, []int{i}).ways()})
		if name := b.Fabric.Name; name != "" {
			if len(alike[name]) == 0 {
				names = append(names, name)
			}
			alike[name] = append(alike[name], i)
		}
	}
	// What is cut from one fabric is centered as the steps say it, border by border.
	matches = slices.Clone(matches)
	for i := range matches {
		matches[i].adopt(each[matches[i].Border-1].Picked())
	}
	for _, name := range names {
		if list := alike[name]; len(list) > 1 {
			s := SharedFabric{Name: name, Ways: newBolt(p, strips, matches, list).ways()}
			for _, i := range list {
				s.Borders = append(s.Borders, i+1)
			}
			shared = append(shared, s)
		}
	}
	return each, shared
}

// ways works out what is asked for and picks.
func (b *bolt) ways() Ways {
	var w Ways
	if b.clash() {
		no := refused("%s are cut from one fabric but name repeats that hardly ever fall together. One fabric has one repeat: give it to all of them, or name the fabrics apart.", b.who)
		w.Lengthwise, w.Crosswise = no, no
		return w
	}
	if b.strips[0].heads != "" {
		return b.directed()
	}
	if b.runs != crosswise {
		w.Lengthwise = b.lengthwise()
	}
	if b.runs != lengthwise {
		w.Crosswise = b.crosswise()
	}
	l, c := w.Lengthwise, w.Crosswise
	switch {
	case l != nil && l.Fits && (c == nil || !c.Fits || !c.Length.Length.Less(l.Length.Length)):
		w.Pick = lengthwise
	case c != nil && c.Fits:
		w.Pick = crosswise
	}
	return w
}

// adopt settles on the centering of the way that is picked: of those that match
// equally well, the one that needs least fabric.
func (m *Match) adopt(w *Way) {
	if m.Possible && w != nil && w.Centering != nil {
		m.Centering, m.settled = *w.Centering, true
	}
}

// notes tell where no way fits, and which layouts may not be the shortest because
// the search for a shorter one was given up.
func (w Ways) notes(whose string) []string {
	var notes []string
	for _, x := range w.All() {
		words := "cut " + x.Name
		if x.Name == mixed {
			words = "sides cut lengthwise, top and bottom crosswise"
		}
		switch {
		case w.Pick == "":
			notes = append(notes, fmt.Sprintf("%s, %s: it does not fit. %s", whose, words, x.Why))
		case x.Fits && !x.proved:
			notes = append(notes, fmt.Sprintf("%s, %s: there are so many layouts that not all were tried; the fabric is enough, but a shorter piece might be too.", whose, words))
		}
	}
	return notes
}
