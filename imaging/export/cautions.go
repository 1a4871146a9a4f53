package export

// Cautions are the standing cautions of every burn, in full sentences, the one
// that defers to others last. They go on every note and sheet and are shown
// before a hand-off. The slice is the caller's own.
//
// The class of lasers above 0.5 W is from IEC 60825-1; the rest is common practice.
func Cautions() []string {
	return []string{
		"A laser above 0.5 W is class 4 (IEC 60825-1): its beam and even its stray light blind. Everyone in the room wears eyewear made for its wavelength.",
		"Never leave a burn unattended, and keep a means to put out a fire at hand.",
		"Lead the fumes outdoors, or filter them; do not breathe them.",
		"Never burn PVC, vinyl or anything of unknown make: it may give off poisonous, corrosive gas.",
		"Let solvent paints cure fully before burning.",
		"Keep aerosols away from flame and heat guns.",
		"Old paint may hold lead: do not burn, sand or scrape it.",
		"Know who holds the rights in the picture before you use it.",
		"The maker's instructions, local codes and licensed practice come before anything said here.",
	}
}
