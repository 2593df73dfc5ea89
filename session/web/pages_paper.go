package web

import (
	"html/template"
	"net/http"
	"strings"
	"time"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// A paperView is the page To print: what a person takes from it on paper.
type paperView struct {
	fabricPage
	Stages  []listedStage
	Card    draw.Card
	Picture template.HTML // the card's
	Corner  calc.Corner
}

// A listedStage is a stage on the step list.
type listedStage struct {
	steps.Stage
	N           int // from 1
	Quilt       string
	At          time.Time // when the work was as it is listed
	Code        template.HTML
	Done, Total int
	Steps       []listedStep
}

type listedStep struct {
	*steps.Step
	Ticks []listedTick
}

// A listedTick is a line with a box.
type listedTick struct {
	*steps.Tick
	Caution  *steps.Caution  // whole, where it is the first of its kind in the stage
	Hazard   string          // its first sentence, where it is not
	Measures []steps.Measure // entered with it, to write down
}

// paperPage is everything to print: where to cut, the step list and the corner card.
func (s *Server) paperPage(w http.ResponseWriter, r *http.Request) {
	p, q, ok := s.fabricPage(w, r)
	if !ok {
		return
	}
	v := paperView{fabricPage: p, Stages: listed(p.Snapshot), Card: q.Card(), Corner: q.Sheet.Corner}
	v.Picture = template.HTML(v.Card.SVG)
	err := codeFabrics(v.Fabrics, v.Opens)
	for i := 0; err == nil && i < len(v.Stages); i++ {
		v.Stages[i].Code, err = v.Opens.Code("stage/" + v.Stages[i].ID)
	}
	if err != nil {
		s.refuse(w, r, err)
		return
	}
	s.show(w, r, http.StatusOK, "paper", v)
}

// listed are the stages of the work with a box for each tick.
func listed(snap session.Snapshot) []listedStage {
	var all []listedStage
	w := snap.Work
	for i := range w.Stages {
		stage := listedStage{Stage: w.Stages[i], N: i + 1, Quilt: snap.Title, At: snap.Touched}
		stage.Done, stage.Total = w.Stages[i].Progress()
		said := map[string]bool{}
		for j := range stage.Stage.Steps {
			step := listedStep{Step: &stage.Stage.Steps[j]}
			for k := range step.Step.Ticks {
				t := listedTick{Tick: &step.Step.Ticks[k]}
				if c := t.Tick.Caution; c != nil {
					if said[c.Text] {
						t.Hazard, _, _ = strings.Cut(c.Text, ". ")
					} else {
						t.Caution, said[c.Text] = c, true
					}
				}
				for _, m := range step.Step.Measures {
					if m.Tick == t.ID && m.When == "" {
						t.Measures = append(t.Measures, m)
					}
				}
				step.Ticks = append(step.Ticks, t)
			}
			stage.Steps = append(stage.Steps, step)
		}
		all = append(all, stage)
	}
	return all
}
