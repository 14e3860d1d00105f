package steel

// Family groups steels that behave alike in the fire: which carbides they hold
// and so how long they soak, and how fast they must be cooled.
type Family int

// The families, by composition.
const (
	Mild            Family = iota // under 0.30 % C: hardens too little for an edge
	PlainCarbon                   // 1045 to 1095, W1
	LowAlloy                      // 4140, 5160, 6150, 9260: up to 0.75 % C with alloy
	AlloyTool                     // O1, O2, L6, 80CrV2: about 0.7 % C and more, a little Mn, Cr, W, V
	ChromiumBearing               // 52100: high carbon with 1 to 2.5 % Cr
	Tungsten                      // 1.2 % C and more with over 1 % W
	AirHardening                  // A2, D2, S7, H13: 3 % Cr and more
)

var familyNames = [...]string{"mild", "plain carbon", "low alloy", "alloy tool", "chromium bearing", "tungsten", "air hardening"}

// String returns the family's name.
func (f Family) String() string { return familyNames[f] }

// FamilyOf returns the family of a composition, so that a steel without a name has one too.
func FamilyOf(c Composition) Family {
	alloy := max(0, c[Mn]-0.9) + c[Cr] + c[Ni] + 2*c[Mo] + c[V] + c[W] + max(0, c[Si]-0.5)
	switch {
	case c[Cr] >= 2.5:
		return AirHardening
	case c[W] >= 1:
		return Tungsten
	case c[C] < 0.30 && alloy < 1.5:
		return Mild
	case alloy < 0.45:
		return PlainCarbon
	case c[C] >= 0.85 && c[Cr] >= 1:
		return ChromiumBearing
	case c[C] >= 0.68:
		return AlloyTool
	}
	return LowAlloy
}
