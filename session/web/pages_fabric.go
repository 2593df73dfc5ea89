package web

import (
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"github.com/go-chi/chi/v5"

	"cornerwise/calc"
	"cornerwise/session"
	"cornerwise/steps"
	"cornerwise/steps/draw"
)

// A fabricView is one fabric to buy: for one border, for several of one fabric, or for
// the coping strips.
type fabricView struct {
	Name string
	For  string // what it is for
	calc.Ways
	Border int           // the first that is cut from it, from 1; 0: the coping strips
	Wide   string        // usable width that is reckoned with
	Pic    template.HTML // how the strips lie on it; none where they do not fit
	Low    bool          // which leaves room on its page
	Pieces [][]pieceView // in columns
	Step   string        // where it is pressed and squared, before it is cut
	Code   template.HTML // that opens this step, for paper
	AtHand atHandView
	Prints []onPrintView // where strips lie on the prints of photos
}

// A stripsView is the strips of one border, two of each.
type stripsView struct {
	Name             string
	Sides, TopBottom calc.Strip
}

// stripsOf are those of each border, innermost first.
func stripsOf(sheet calc.Sheet) []stripsView {
	var all []stripsView
	for two := range slices.Chunk(sheet.Strips, 2) { // of each border the sides come first
		all = append(all, stripsView{two[0].Name, two[0], two[1]})
	}
	return all
}

// A pieceView is one piece on a fabric, for the list beside its picture.
type pieceView struct {
	calc.Piece
	Name string // "left, part 2"; of a fabric for several borders "ticking, left"
	Line string // of the stripe, under its inner raw edge
}

// An atHandView is a piece of fabric at hand, as asked, and whether it does.
type atHandView struct{ Width, Length, Says, Fault string }

// codeFabrics gives each fabric the code of its step.
func codeFabrics(all []fabricView, opens opener) (err error) {
	for i := 0; err == nil && i < len(all); i++ {
		all[i].Code, err = opens.Code("step/" + all[i].Step)
	}
	return err
}

// Line is the fabric on a shopping list.
func (c fabricView) Line() string {
	picked := c.Picked()
	if picked == nil {
		return fmt.Sprintf("%s: the strips do not fit on fabric with %s usable width; look at the notes", c.Name, c.Wide)
	}
	line := fmt.Sprintf("%s: %s (%s), usable width %s or more, %s", c.Name, picked.Buy.Shown(), picked.Buy.Other(), c.Wide, c.Words())
	if c.For != "" {
		line += "; for " + c.For
	}
	return line
}

// Heads tells how fabric with a one-way print is laid; "" for others.
func (c fabricView) Heads() string {
	picked := c.Picked()
	if picked == nil || picked.Heads == "" {
		return ""
	}
	end := map[string]string{"start": "to the squared end", "end": "away from the squared end"}[picked.Heads]
	return fmt.Sprintf("For a print with its heads along the selvage: lay it with the heads %s, as the arrow shows, and turn no strip round.", end)
}

// Joined tells whether strips are put together of parts.
func (c fabricView) Joined() bool {
	return c.Picked() != nil && c.Picked().Join != ""
}

// fabrics are what is to be bought: shared fabrics in place of their borders.
func fabrics(q draw.Quilt) []fabricView {
	shared := map[int]bool{}
	var all []fabricView
	if c := q.Sheet.Coping; c != nil {
		page := q.CopingPage()
		v := fabricView{Name: "coping strips", Step: "coping-fabric", Ways: c.Fabric, Wide: usableWidth(q), Pic: template.HTML(page.SVG), Low: page.Low,
			For: fmt.Sprintf("two strips on the %s, cut %s × %s", edgesWords(c.Edges), c.CutWidth.Exactly(), c.CutLength.Shown())}
		if picked := c.Fabric.Picked(); picked != nil {
			var pieces []pieceView
			for _, piece := range picked.Layout {
				pieces = append(pieces, pieceView{Piece: piece, Name: piece.Edge + partWords(piece)})
			}
			v.Pieces = inColumns(pieces, picked)
		}
		all = append(all, v)
	}
	for _, c := range q.Sheet.Together {
		for _, border := range c.Borders {
			shared[border] = true
		}
	}
	several := len(q.Sheet.Fabric)-len(shared)+len(q.Sheet.Together) > 2
	add := func(name string, w calc.Ways, borders ...int) {
		c := fabricView{Name: name, Ways: w, Border: borders[0], Wide: usableWidth(q, borders...),
			Step: fmt.Sprintf("fabric-%d", borders[0])}
		if len(borders) > 1 {
			var names []string
			for _, border := range borders {
				names = append(names, q.Plan.Borders[border-1].Name)
			}
			c.For = strings.Join(names, " and ")
		}
		if picked := w.Picked(); picked != nil {
			page := q.LayoutPage(picked, picked == w.Lengthwise, several)
			c.Pic, c.Low = template.HTML(page.SVG), page.Low
			c.Pieces = inColumns(pieces(q, picked), picked)
		}
		c.Prints = onPrints(q, borders)
		all = append(all, c)
	}
	for _, c := range q.Sheet.Fabric {
		if !shared[c.Border] {
			add(c.Name, c.Ways, c.Border)
		}
	}
	for _, c := range q.Sheet.Together {
		add(c.Name, c.Ways, c.Borders...)
	}
	return all
}

func pieces(q draw.Quilt, w *calc.Way) []pieceView {
	several := slices.ContainsFunc(w.Layout, func(x calc.Piece) bool { return x.Border != w.Layout[0].Border })
	var all []pieceView
	for _, piece := range w.Layout {
		v := pieceView{Piece: piece, Name: piece.Edge + partWords(piece)}
		if several {
			v.Name = q.Plan.Borders[piece.Border-1].Name + ", " + v.Name
		}
		e := calc.Sides
		if piece.Edge == "top" || piece.Edge == "bottom" {
			e = calc.TopBottom
		}
		if inner, _, ok := calc.LinesAt(q.Plan, piece.Border, e); ok {
			v.Line = inner.String()
		}
		all = append(all, v)
	}
	return all
}

// inColumns are pieces in as many columns as their layout leaves them.
func inColumns(all []pieceView, w *calc.Way) [][]pieceView {
	columns := draw.ListColumns(w)
	each := (len(all) + columns - 1) / columns
	return slices.Collect(slices.Chunk(all, max(each, 1)))
}

func partWords(piece calc.Piece) string {
	if piece.Part == 0 {
		return ""
	}
	return fmt.Sprintf(", part %d", piece.Part)
}

func edgesWords(e calc.Edges) string {
	if e == calc.TopBottom {
		return "top and bottom"
	}
	return "sides"
}

// usableWidth is the least of these borders' fabrics: what they are reckoned with. Of
// none it is the usual one.
func usableWidth(q draw.Quilt, borders ...int) string {
	var least calc.Length
	for _, border := range borders {
		if wide := q.Plan.Borders[border-1].Fabric.UsableWidth; least.Sign() == 0 || wide.Less(least) {
			least = wide
		}
	}
	if least.Sign() == 0 {
		least = calc.UsualWidth(q.Plan.Unit)
	}
	return calc.Figure{Length: least, Unit: q.Plan.Unit}.Shown()
}

type fabricPage struct {
	session.Snapshot
	Opens   opener
	Defs    template.HTML
	Pic     template.HTML // of the plan
	Strips  []stripsView
	Fabrics []fabricView
	// StripsFirst: before a fabric that leaves room for them, else after all.
	StripsFirst bool
	Next        []nextView
	Text        string // the shopping list, to paste
}

// fabricPage reads what all pages of fabric show; false when it was refused.
func (s *Server) fabricPage(w http.ResponseWriter, r *http.Request) (fabricPage, draw.Quilt, bool) {
	snap, err := s.Store.Get(chi.URLParam(r, "id"))
	if err != nil {
		s.refuse(w, r, err)
		return fabricPage{}, draw.Quilt{}, false
	}
	q := s.quiltOf(snap)
	p := fabricPage{Snapshot: snap, Opens: s.opener(r, snap.ID), Defs: template.HTML(q.Defs()),
		Pic: template.HTML(q.Draw(draw.Scene{Kind: draw.PlanScene})), Strips: stripsOf(q.Sheet), Fabrics: fabrics(q)}
	p.StripsFirst = p.Fabrics[0].Low
	var text strings.Builder
	fmt.Fprintf(&text, "%s: fabric to buy\n\n", snap.Title)
	for _, c := range p.Fabrics {
		fmt.Fprintf(&text, "- %s\n", c.Line())
	}
	if next, err := steps.Next(snap.Work); err == nil {
		p.Next = nexts(next.Next)
	}
	for _, n := range p.Next {
		fmt.Fprintf(&text, "- %s: %s\n", n.Name, n.line())
	}
	p.Text = text.String()
	return p, q, true
}

// cuttingPage is where to cut each fabric, to print and lay beside it; and whether a
// piece at hand does.
func (s *Server) cuttingPage(w http.ResponseWriter, r *http.Request) {
	var p fabricPage
	var q draw.Quilt
	var ok bool
	s.seated(func(w http.ResponseWriter, r *http.Request) { p, q, ok = s.fabricPage(w, r) })(w, r)
	if !ok {
		return
	}
	if err := codeFabrics(p.Fabrics, p.Opens); err != nil {
		s.refuse(w, r, err)
		return
	}
	asked := r.URL.Query()
	for i := range p.Fabrics {
		c := &p.Fabrics[i]
		if c.Border == 0 || asked.Get("border") != fmt.Sprint(c.Border) {
			continue
		}
		if err := s.inLane(r, func() {
			c.AtHand = newAtHand(r.Context(), q.Plan, c.Border, asked.Get("width"), asked.Get("length"))
		}); err != nil {
			s.refuse(w, r, err)
			return
		}
	}
	s.show(w, r, http.StatusOK, "cutting", p)
}

// shoppingPage is what to buy, to print or to copy.
func (s *Server) shoppingPage(w http.ResponseWriter, r *http.Request) {
	if p, _, ok := s.fabricPage(w, r); ok {
		s.show(w, r, http.StatusOK, "shopping", p)
	}
}

// shoppingText is the same as plain text.
func (s *Server) shoppingText(w http.ResponseWriter, r *http.Request) {
	if p, _, ok := s.fabricPage(w, r); ok {
		w.Header().Set("Content-Type", "text/plain; charset=utf-8")
		w.Header().Set("Cache-Control", "no-store")
		fmt.Fprint(w, p.Text)
	}
}
