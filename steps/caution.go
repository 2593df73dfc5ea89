package steps

// The cautions, by name: hazard, consequence, how to avoid it. Signal words by
// ANSI Z535.6. The maker's manual, local rules and a teacher's word go before
// them. Sources: rotary cutter, University of Kentucky Cooperative Extension
// 4JF-12PB; needle, UK Health and Safety Executive, Sewing machines; pins and
// iron, 4-H sewing safety rules; marker, common practice.
var cautions = map[string]*Caution{
	"iron":   {"CAUTION", "Hot iron and steam burn. Never leave it down or alone."},
	"cutter": {"WARNING", "The blade cuts to the bone. Fingers behind the ruler's edge, cut away from you, close it at once."},
	"needle": {"CAUTION", "The needle pierces fingers. Keep clear; power off to change it."},
	"pins":   {"CAUTION", "A pin under the needle can break and fly. Take each out before it gets there."},
	"marker": {"NOTICE", "Heat can set ink. Try the marker on a scrap first."},
}
