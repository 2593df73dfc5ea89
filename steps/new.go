package steps

// under is the Work from an op of an edition on. Where all was done under the one before,
// that is remembered: what comes later does not make it less.
func (w *Work) under(edition int) *Work {
	if edition <= w.edition {
		return w
	}
	c := *w
	if c.edition = edition; w.wholeIn(w.edition) {
		c.whole = w.edition
	}
	return &c
}

// wholeIn tells whether all that an edition had is done.
func (w *Work) wholeIn(edition int) bool {
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, t := range step.Ticks {
				if !t.Done && t.came <= edition {
					return false
				}
			}
		}
	}
	return true
}

// withNew is the Work with each open tick marked that has come since it was begun, and
// passed where the work went on without it: a tick that needs it is done, or all was done
// before it came.
func (w *Work) withNew() *Work {
	if len(w.index.late(w.begun)) == 0 {
		return w
	}
	whole := w.wholeBefore()
	next := w
	for _, at := range w.index.late(w.begun) {
		t := &next.Stages[at.stage].Steps[at.step].Ticks[at.at]
		isNew := !t.Done
		passed := isNew && (whole > 0 && t.came > whole || w.passed(t))
		if t.New == isNew && t.Passed == passed {
			continue
		}
		var step *Step
		next, step = next.clone(at)
		step.Ticks[at.at].New, step.Ticks[at.at].Passed = isNew, passed
		step.complete()
	}
	return next
}

// wholeBefore is the last edition before today's under which all was done, and still is;
// 0: there is none.
func (w *Work) wholeBefore() int {
	switch {
	case w.edition < Edition() && w.wholeIn(w.edition):
		return w.edition
	case w.whole > 0 && w.wholeIn(w.whole):
		return w.whole
	}
	return 0
}

// passed tells whether something that needs this tick is done, itself or after others that
// are as new.
func (w *Work) passed(t *Tick) bool {
	for _, id := range w.index.users[t.ID] {
		_, user := w.Tick(id)
		if user.Done || user.came > w.begun && w.passed(user) {
			return true
		}
	}
	return false
}

// late are where the ticks stand that came after an edition.
func (x *index) late(begun int) []position {
	if begun >= x.latest {
		return nil
	}
	var all []position
	for _, at := range x.later {
		if at.edition > begun {
			all = append(all, at.position)
		}
	}
	return all
}

// usersIn are the ticks that need each tick, by the needs of an edition. What came later
// is not needed yet; what is gone is needed by what stands for it.
func (w *Work) usersIn(edition int) map[string][]string {
	if edition >= Edition() {
		return w.index.users
	}
	users := map[string][]string{}
	ids := w.ids()
	then := append(w.built.gone(edition), ids...)
	for _, id := range ids {
		_, t := w.Tick(id)
		for _, need := range w.built.today(expand(t.neededIn(edition), then)) {
			if _, n := w.Tick(need); n != nil && n.came <= edition {
				users[need] = append(users[need], id)
			}
		}
	}
	return users
}

// gone are the ids that an edition had and today's tables have not.
func (q *quilt) gone(edition int) []string {
	var ids []string
	for _, e := range after(edition) {
		for _, r := range e.replaced {
			ids = append(ids, q.expand(r.was, names{})...)
		}
	}
	return ids
}

// today are ids with those that are gone replaced by what stands for them.
func (q *quilt) today(ids []string) []string {
	var out []string
	for _, id := range ids {
		standIns := q.standIns(id)
		if len(standIns) == 0 {
			out = append(out, id)
		}
		for _, s := range standIns {
			out = append(out, q.today(s.is)...)
		}
	}
	return out
}

// ids are all ticks, in the order of work.
func (w *Work) ids() []string {
	var ids []string
	for _, stage := range w.Stages {
		for _, step := range stage.Steps {
			for _, t := range step.Ticks {
				ids = append(ids, t.ID)
			}
		}
	}
	return ids
}
