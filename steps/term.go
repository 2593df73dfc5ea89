package steps

import (
	"cornerwise/calc"
	"cornerwise/steps/draw"
)

// A Term is a word of the trade: what it is in one sentence, at most 25 words, and a drawing of it
// in TermQuilt.
type Term struct {
	ID    string
	Word  string
	Forms []string // as the steps write it, each in small letters
	Say   string
	Scene draw.Scene
}

// Terms are all of them, in the order of the work.
var Terms = []Term{
	{"center", "quilt center", []string{"quilt center", "center"},
		"The middle of the quilt, pieced and whole, that the border is sewn to.", center("settle")},
	{"raw-edge", "raw edge", []string{"raw edge", "raw edges"},
		"The cut edge of fabric, not yet hidden in a seam or under binding.", edge("pin")},
	{"true-up", "true up", []string{"true up", "trued up", "square up", "squared"},
		"To trim only what sticks out, so that corners are square and opposite sides equal.", center("trim")},
	{"border", "border", []string{"border", "borders"},
		"A frame of fabric round the quilt center: four strips that meet at its corners.", draw.Scene{Kind: draw.PlanScene}},
	{"selvage", "selvage", []string{"selvage", "selvages"},
		"The woven edge along either side of the fabric; it is tighter than the rest and is cut off.", fabric("square")},
	{"lengthwise", "lengthwise grain", []string{"lengthwise grain", "lengthwise", "grain"},
		"The threads along the selvage, with the arrow: a strip cut so hardly stretches.", fabric("ready")},
	{"crosswise", "crosswise grain", []string{"crosswise grain", "crosswise"},
		"The threads from selvage to selvage, across the arrow: a strip cut so stretches a little.", fabric("ready")},
	{"stripe", "stripe", []string{"stripe", "stripes"},
		"Lines of color along the strip, side by side; every strip is cut from the same place of them.", fabric("line")},
	{"motif", "motif", []string{"motif", "motifs"},
		"The figure that a print repeats along the strip; it, or the gap beside it, lies on the strip’s middle.",
		strip("print-middle", 2)},
	{"repeat", "repeat", []string{"repeat", "repeats"},
		"The length after which a stripe or a print begins anew.", draw.Scene{Kind: draw.CornersScene, Border: 2}},
	{"strip", "strip", []string{"strip", "strips"},
		"One long piece of a border, for one edge of the center, with a tail at either end.", strip("cut", 2)},
	{"coping", "coping strip", []string{"coping strip", "coping strips"},
		"One of two strips sewn to opposite edges of the center, so that the print along the border comes out even.",
		draw.Scene{Kind: draw.CopingScene, Act: "size"}},
	{"scant-seam", "scant seam", []string{"scant seam", "scant"},
		"A seam a thread or two narrower than the allowance: the fold takes up the rest.",
		draw.Scene{Kind: draw.MachineScene, Act: "ready"}},
	{"seam-allowance", "seam allowance", []string{"seam allowance", "seam allowances", "allowance"},
		"The fabric between the stitches and the raw edge.", draw.Scene{Kind: draw.TestScene, Act: "measure"}},
	{"band", "band", []string{"band", "bands"},
		"The strips of one edge, of all borders, sewn side by side and then used as one.",
		draw.Scene{Kind: draw.BandScene, Act: "press", Edge: "left", Border: 1}},
	{"right-side", "right side", []string{"right side", "right sides"},
		"The printed side of the fabric, the one that is seen on the quilt.", corner(draw.CornerScene, "front")},
	{"wrong-side", "wrong side", []string{"wrong side", "wrong sides"},
		"The back of the fabric, hidden in the quilt; drawings show it hatched.", corner(draw.CornerScene, "behind")},
	{"dot", "dot", []string{"dot", "dots"},
		"A mark on the wrong side, a seam allowance in from both edges, where stitching starts and stops.",
		corner(draw.CenterScene, "dot")},
	{"ease", "ease", []string{"ease", "eased", "easing"},
		"To spread a little too much fabric evenly between pins, so that it is sewn in without a pleat.", edge("pin")},
	{"backstitch", "backstitch", []string{"backstitch", "backstitches"},
		"A few stitches back and forward again at the end of a seam, so that it holds.", edge("sew")},
	{"tail", "tail", []string{"tail", "tails"},
		"What of a strip reaches past the dot: it hangs free until the corner is mitered.",
		corner(draw.CornerScene, "fold")},
	{"unpick", "unpick", []string{"unpick", "unpicked"},
		"To take stitches out again, every few cut and the thread drawn, without pulling at the fabric.", edge("check")},
	{"press", "press", []string{"press", "pressed"},
		"To set the iron down and lift it again; sliding it stretches the fabric.", edge("press")},
	{"miter", "miter", []string{"miter", "miters", "mitered"},
		"The seam on the diagonal where two borders meet at a corner.", corner(draw.CornerScene, "open")},
}

func center(act string) draw.Scene { return draw.Scene{Kind: draw.CenterScene, Act: act} }

func corner(kind, act string) draw.Scene { return draw.Scene{Kind: kind, Act: act, Corner: 1} }

func fabric(act string) draw.Scene { return draw.Scene{Kind: draw.FabricScene, Act: act, Border: 1} }

func strip(act string, border int) draw.Scene {
	return draw.Scene{Kind: draw.StripScene, Act: act, Edge: "left", Border: border}
}

func edge(act string) draw.Scene { return draw.Scene{Kind: draw.EdgeScene, Act: act, Edge: "left"} }

// TermQuilt is the small quilt in which the terms are drawn: a stripe, a print and coping strips.
func TermQuilt() draw.Quilt {
	plan, err := calc.ParsePlan([]byte(`{"center": {"width": "20", "length": "22"},
		"borders": [{"name": "stripe", "cut": "4 1/2", "stripe": "1"}, {"name": "print", "cut": "4 1/2", "motif": "6"}],
		"coping": {"edges": "sides", "cut": "1 1/2"}}`))
	if err != nil {
		panic(err) // the plan is written here
	}
	return draw.Quilt{Plan: plan, Sheet: calc.NewSheet(plan)}
}
