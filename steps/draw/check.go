package draw

import (
	"fmt"
	"slices"
	"strings"

	"cornerwise/calc"
)

// A sceneRow is what scenes of one kind may be: their acts, and what else they are about.
type sceneRow struct {
	acts                 string // parted by blanks; "" where the kind has none
	edge, corner, border bool   // the scene must name one that the quilt has
	edges                bool   // the scene must name a pair of edges
}

// scenes are all that can be drawn. An act that is not here has no picture.
var scenes = map[string][]sceneRow{
	PlanScene: {{}},
	CenterScene: {
		{acts: "press steady trim settle width-top width-middle width-bottom " +
			"length-left length-middle length-right diagonal-1 diagonal-2"},
		{acts: "squared dot", corner: true},
		{acts: "middle", edge: true},
	},
	CopingScene: {
		{acts: "ready square measure cut size"},
		{acts: "pin sew press parts parts-cut join join-press", edge: true},
	},
	FabricScene: {{acts: "ready square line", border: true}},
	StripScene: {
		{acts: "measure place print-middle cut inner checked end parts parts-cut join-line join " +
			"join-trim joined join-press", edge: true, border: true},
		{acts: "middle middle-found ends", edge: true},
	},
	BandScene:    {{acts: "pin sew press check", edge: true, border: true}},
	MachineScene: {{acts: "ready"}},
	TestScene:    {{acts: "sew measure"}},
	PairScene:    {{acts: "choose", edges: true}},
	EdgeScene:    {{acts: "pin sew check press", edge: true}},
	CornerScene: {{acts: "fold turn line line-sides line-topBottom match pin sew look trim " +
		"open behind front square", corner: true}},
	TopScene:     {{acts: "widths lengths diagonals"}},
	CornersScene: {{border: true}},
}

// Check tells what keeps a scene from being drawn; nil: nothing does. A row of the
// procedure that is refused here names an act that has no picture, or an edge, a corner or
// a border that is not there.
func (q Quilt) Check(s Scene) error {
	rows, ok := scenes[s.Kind]
	if !ok {
		return fmt.Errorf("there is no kind of picture %q", s.Kind)
	}
	for _, row := range rows {
		if acts := strings.Fields(row.acts); slices.Contains(acts, s.Act) || len(acts) == 0 && s.Act == "" {
			return q.checkRow(row, s)
		}
	}
	return fmt.Errorf("a picture of the kind %s has no act %q", s.Kind, s.Act)
}

func (q Quilt) checkRow(row sceneRow, s Scene) error {
	_, isEdge := map[string]bool{"left": true, "right": true, "top": true, "bottom": true}[s.Edge]
	last := len(q.Plan.Borders)
	if s.Kind == BandScene {
		last-- // the seam to the border after it
	}
	switch {
	case row.edge && !isEdge:
		return fmt.Errorf("the picture %s %s is of no edge: %q", s.Kind, s.Act, s.Edge)
	case row.edges && s.Edges != calc.Sides && s.Edges != calc.TopBottom:
		return fmt.Errorf("the picture %s %s is of no pair of edges: %q", s.Kind, s.Act, s.Edges)
	case row.corner && (s.Corner < 1 || s.Corner > 4):
		return fmt.Errorf("the picture %s %s is of no corner: %d", s.Kind, s.Act, s.Corner)
	case row.border && (s.Border < 1 || s.Border > last):
		return fmt.Errorf("the picture %s %s is of border %d, of %d", s.Kind, s.Act, s.Border, len(q.Plan.Borders))
	case s.Kind == CopingScene && q.Plan.Coping == nil:
		return fmt.Errorf("the picture %s %s is of coping strips, and the plan has none", s.Kind, s.Act)
	}
	return nil
}
