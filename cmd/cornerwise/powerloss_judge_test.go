//go:build linux

package main

import (
	"fmt"
	"slices"
	"strings"

	"cornerwise/cmd/cornerwise/internal/datafolder"
	"cornerwise/cmd/cornerwise/internal/powerloss"
)

// A verdict is what is wrong with a state, when the power goes at a moment.
type verdict struct {
	*judge
	*reading
	at    int64
	want  []wanted // the ops that were answered
	found []string
}

func (j *judge) findings(m powerloss.Moment, r *reading) []string {
	v := &verdict{judge: j, reading: r, at: m.At, want: j.was.wanted()}
	for _, p := range j.promises {
		for i, op := range p.ops {
			if v.answered(p) {
				v.want = append(v.want, wanted{p.session, p.rev + int64(i), op, p.asked, p.answered})
			}
		}
	}
	restore := v.restore()
	if words, _, dies := strings.Cut(r.said, "\ngoroutine "); dies {
		v.say("it dies: %.500s", words)
	} else if r.started {
		v.answers()
		v.ops(restore)
		v.invented()
		v.others()
		v.backups()
	} else {
		v.refusal(restore)
	}
	return v.found
}

func (v *verdict) say(format string, a ...any) { v.found = append(v.found, fmt.Sprintf(format, a...)) }

func (v *verdict) answered(p *promise) bool { return p != nil && p.answered != 0 && p.answered < v.at }

// restore is the one that was asked for, nil where there was none.
func (v *verdict) restore() *promise {
	for _, p := range v.promises {
		if p.deed == "restore" && p.asked < v.at {
			return p
		}
	}
	return nil
}

func (v *verdict) answers() {
	for _, wrong := range v.wrong {
		v.say("%s", wrong)
	}
}

// refusal is in order only where a command that the program names brings all back, or where the
// store was damaged before and the restore can be done again.
func (v *verdict) refusal(restore *promise) {
	if v.helped == nil || !v.helped.started || v.was.err != nil && v.answered(restore) {
		v.say("it does not start: %.500s", v.said)
		return
	}
	if lost := v.helped.given.missing(append(v.want, v.taken.wanted()...)); len(lost)+len(v.helped.wrong) > 0 {
		v.say("it does not start, and after the command that it names %d ops are gone, %v: %.500s", len(lost), v.helped.wrong, v.said)
	}
}

// ops are all there; those that were asked for before a restore was done may be set aside.
func (v *verdict) ops(restore *promise) {
	aside := func(w wanted) bool {
		return restore != nil && (!v.answered(restore) || w.asked < restore.answered) &&
			slices.ContainsFunc(v.named(".db.set-aside-"), func(name string) bool { return v.stores[name].has(w) })
	}
	if lost := slices.DeleteFunc(v.given.missing(v.want), aside); len(lost) > 0 {
		v.say("%d ops were answered and are gone, such as %q, rev %d of session %s", len(lost), lost[0].op.ID, lost[0].rev, lost[0].session)
	}
	if lost := v.given.missing(v.taken.wanted()); v.answered(restore) && len(lost) > 0 {
		v.say("%d ops of the backup were restored and are gone", len(lost))
	}
}

// invented is what nobody asked for, and what is there twice.
func (v *verdict) invented() {
	creating := 0 // whose answer has not come
	for _, p := range v.promises {
		if (p.deed == "create" || p.deed == "import") && p.asked < v.at && !v.answered(p) {
			creating++
		}
	}
	for id, history := range v.given.histories {
		if !v.known[id] {
			creating--
		}
		seen := map[string]bool{}
		for i, e := range history {
			if seen[e.ID] || e.Rev != int64(i+1) {
				v.say("op %q of session %s is there twice or out of order", e.ID, id)
			}
			if i > 0 && !v.known[e.ID] {
				v.say("nobody asked for op %q of session %s", e.ID, id)
			}
			seen[e.ID] = true
		}
	}
	if creating < 0 {
		v.say("there are %d sessions that nobody asked for", -creating)
	}
}

// others are the promises about other things than ops: of each thing the last one holds.
func (v *verdict) others() {
	last := map[string]*promise{}
	for _, p := range v.promises {
		if p.ops == nil && p.asked < v.at {
			last[p.session+p.answer] = p
		}
	}
	for _, p := range last {
		switch {
		case !v.answered(p):
		case p.deed == "bin" || p.deed == "unbin":
			if v.given.binned[p.session] != (p.deed == "bin") {
				v.say("the last that was answered is %s, and it is not so", p.deed)
			}
		case p.deed == "pair" && v.devices[p.answer] != 200:
			v.say("a device that was let in is answered %d", v.devices[p.answer])
		case p.deed == "photo" && v.photos[p.answer] != 200:
			v.say("a photo that was kept is answered %d", v.photos[p.answer])
		case p.deed == "forget" && v.devices[p.answer] != 401:
			v.say("a device that was forgotten is answered %d", v.devices[p.answer])
		case p.deed == "trust" && v.authority != p.answer:
			v.say("the authority is another than the one that devices trust")
		}
	}
}

// backups are sound, and hold what was answered before they were asked for; so is what was set
// aside. A store that was damaged before may be damaged still, and is not gone.
func (v *verdict) backups() {
	store, own := datafolder.Store(v.below), v.named("/backups/")
	asItWas := func(name string) bool { return v.was.err != nil && string(v.files[name]) == string(v.first[store]) }
	for name, s := range v.stores {
		if s.err != nil && !asItWas(name) {
			v.say("%s can't be used: %v", name, s.err)
		}
	}
	if v.was.err != nil && !slices.ContainsFunc(append(v.named(".db.set-aside-"), store), asItWas) {
		v.say("the damaged store is neither in its place nor set aside")
	}
	ofBefore := func(name string) bool { return v.stores[name].version == v.was.version }
	if v.was.version != 0 && v.before.version != v.was.version && !slices.ContainsFunc(own, ofBefore) {
		v.say("the store was migrated from schema %d, and no backup of it is there", v.was.version)
	}
	for _, p := range v.promises {
		if p.deed != "backup" || !v.answered(p) {
			continue
		}
		held := slices.DeleteFunc(slices.Clone(v.want), func(w wanted) bool { return w.answered >= p.asked })
		hasAll := func(name string) bool { return v.stores[name] != nil && len(v.stores[name].missing(held)) == 0 }
		if !hasAll(p.file) {
			v.say("the backup %s is gone, or lacks what was answered before it was asked for", p.file)
		}
		if !slices.ContainsFunc(own, hasAll) {
			v.say("no own backup has what was answered before %s was asked for", p.file)
		}
	}
}

// named are the backups and stores set aside whose paths hold a word.
func (r *reading) named(word string) (list []string) {
	for name := range r.stores {
		if strings.Contains(name, word) {
			list = append(list, name)
		}
	}
	return list
}
