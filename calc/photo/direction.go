package photo

import "cornerwise/calc/photo/repeat"

// A Kind is what was found along one direction.
type Kind string

// Kinds. Only Sure may be filled in unasked, and even that is shown to be confirmed.
const (
	Plain Kind = "plain" // the same all along
	Sure  Kind = "sure"  // a repeat without doubt
	Look  Kind = "look"  // perhaps a repeat: a person must look
	None  Kind = "none"  // no repeat was found
)

// A Direction is how the print repeats one way. Lengths are inches.
type Direction struct {
	Kind   Kind
	Period float64   // 0: none
	Others []float64 // half, double and other lengths worth offering
	Mirror float64   // 0 to 1: how well the print lies on itself turned over
	Seen   float64   // repeats in view
	Words  string    // for a person, without lengths
}

func direction(a repeat.Axis) Direction {
	d := Direction{Kind: Kind(a.Kind), Period: a.Period, Others: a.Others, Seen: a.Seen}
	d.Mirror = min(1, max(0, a.Mirror))
	d.Words = words(a)
	return d
}

// doubted is the direction with no more than a person's look to go by.
func (d Direction) doubted(words string) Direction {
	if d.Kind == Sure {
		d.Kind, d.Words = Look, words
	}
	return d
}
