package steps

// The cautions, by name: hazard, consequence, how to avoid it. Signal words by
// ANSI Z535.6. The maker's manual, local rules and a teacher's word go before
// them. Sources: rotary cutter, University of Kentucky Cooperative Extension
// 4JF-12PB; needle, UK Health and Safety Executive, Sewing machines; pins and
// iron, 4-H sewing safety rules; mat, what lies under the blade, marker and starch,
// common practice.
var cautions = map[string]*Caution{
	"iron":       {"CAUTION", "Hot iron and steam burn. Pins out; never face down or alone; off when you go."},
	"cutter":     {"WARNING", "A blade cuts deep. Mat below, fingers behind the ruler, cut away from you, close it."},
	"underBlade": {"WARNING", "Nothing of the quilt under ruler or blade. Mat below, fingers clear, cut away, close it."},
	"needle":     {"CAUTION", "The needle pierces fingers. Keep clear; power off to change it."},
	"pinning":    {"CAUTION", "A lost pin finds a foot. Count them in and out; never in the mouth."},
	"pins":       {"CAUTION", "A pin under the needle can break and fly. Take each out before it gets there."},
	"marker":     {"NOTICE", "Heat can set ink. Try the marker on a scrap first."},
	"starch":     {"NOTICE", "Starch can stain. Try it on a scrap first."},
}
