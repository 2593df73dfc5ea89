package web

import (
	"html/template"
	"strconv"

	"cornerwise/steps"
)

// The map of corners: the quilt as it lies on the table.

// A cornerView is one corner and how far it is.
type cornerView struct {
	N     int
	Place string
	State cornerState
	// Step is where a tap leads: the miter until it is trimmed, then the pressing.
	Miter, Press string
	Now          bool
	// By is each state and the tick that makes it so, for the script.
	By      []cornerState
	Quarter template.HTML
}

type cornerState struct{ Name, Word, Tick string }

// cornerStates, the furthest first; the tick in it is filled in by number.
var cornerStates = []cornerState{
	{"pressed", "pressed", "press.%.front"},
	{"trimmed", "trimmed", "miter.%.trimmed"},
	{"looked", "looked", "miter.%.looked"},
	{"sewn", "sewn", "miter.%.sewn"},
	{"pinned", "pinned", "miter.%.folded"},
}

var cornerPlaces = [4]string{"top left", "top right", "bottom right", "bottom left"}

func cornersOf(w *steps.Work) []cornerView {
	var all []cornerView
	for i, place := range cornerPlaces {
		n := strconv.Itoa(i + 1)
		c := cornerView{N: i + 1, Place: place, State: cornerState{"open", "open", ""},
			Miter: "corner-" + n, Press: "press-" + n,
			Quarter: template.HTML(w.Quilt().Quarter(i + 1))}
		c.Now = w.Here == c.Miter || w.Here == c.Press
		for k := len(cornerStates) - 1; k >= 0; k-- {
			s := cornerStates[k]
			s.Tick = s.of(n)
			c.By = append(c.By, s)
			if _, t := w.Tick(s.Tick); t != nil && t.Done {
				c.State = s
			}
		}
		all = append(all, c)
	}
	return all
}

func (s cornerState) of(corner string) string {
	for i := range s.Tick {
		if s.Tick[i] == '%' {
			return s.Tick[:i] + corner + s.Tick[i+1:]
		}
	}
	return s.Tick
}

// Step is where a tap on the corner leads.
func (c cornerView) Step() string {
	if c.State.Name == "trimmed" || c.State.Name == "pressed" {
		return c.Press
	}
	return c.Miter
}
