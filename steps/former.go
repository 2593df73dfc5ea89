package steps

import "maps"

// A formerTick is one whose id this session's procedure does not have, as its ops left it.
type formerTick struct {
	Done   bool
	Number string // that it was done to, as shown; "" where that was not kept
}

// noPart is the last thing done where nothing stands for it.
const noPart = "A tick that is no part of the work any more"

// formerTick keeps a tick that is no part of the procedure, and counts it for those that
// stand for it (edition.go).
func (w *Work) formerTick(id string, done bool, number string) (*Work, string) {
	if n, ofMend := match(mendTick, id); ofMend && n.number("n") >= w.nextMend() {
		return w, "" // of a way out that was never taken
	}
	next, text := w.setFormer(id, formerTick{Done: done, Number: number}), noPart
	for _, s := range w.built.standIns(id) {
		all := true
		for _, was := range s.was {
			all = all && (next.former[was].Done || next.done(was))
		}
		for _, is := range s.is {
			step, t := next.Tick(is)
			if t == nil {
				next, text = next.formerTick(is, all, number)
				continue
			}
			next = next.setTo(is, all, number)
			text = step.at(t.Label)
		}
	}
	return next, text
}

func (w *Work) setFormer(id string, f formerTick) *Work {
	c := *w
	if c.former = maps.Clone(w.former); c.former == nil {
		c.former = map[string]formerTick{}
	}
	c.former[id] = f
	return &c
}

// formerRedo opens what stands for a tick that is gone, and all that needs it.
func (w *Work) formerRedo(id string) (*Work, string) {
	next, text := w.setFormer(id, formerTick{}), noPart
	for _, s := range w.built.standIns(id) {
		var open []string
		for _, is := range s.is {
			if _, t := next.Tick(is); t != nil {
				open = append(open, is)
				continue
			}
			next, text = next.formerRedo(is)
		}
		if len(open) > 0 {
			next, text = next.redoAll(open)
		}
	}
	return next, text
}
