package steel

// Practice is what makers' sheets and the trade say of a steel, kept apart from
// what the models compute: windows to show beside an answer and to warn by.
type Practice struct {
	ForgeMax, ForgeStop float64    // [°C]
	Normalize           float64    // [°C]; 0: the sheets say not to
	Harden              [2]float64 // [°C]
	SoakMinutes         [2]float64
	Quench              string     // code: "fast-oil", "oil", "water", "brine", "air"
	Temper              [2]float64 // usual range [°C]
	Source              string
	ReadBy              string
}

func practiceOf(string) *Practice { return nil }
