package evidence

// seen lists the sets whose open rows a model has been settled on, and what was:
// on those rows a figure says how well the law fits, not how well it foretells.
// Rows of the same name that were not open then are blind.
var seen = map[string]string{
	"ms":                        "all constants of the law (micro/fit)",
	"bs":                        "all constants of the law (micro/fit)",
	"tempering":                 "all constants of the law (micro/fit)",
	"tool_tempering":            "all constants of the law (micro/fit)",
	"temper_high":               "all constants of the law (micro/fit)",
	"martensite_hardness":       "the onset of self-tempering",
	"retained_austenite":        "the carbon that dissolves",
	"w_steel_critical_diameter": "the rate of pearlite",
	"jominy_bands":              "the rate of pearlite, and the weights of the end-quench reading",
	"quench_probe":              "the constants of fast oil",
	"heat_colors":               "where one word of glow gives way to the next",
	"temper_colors":             "the law of the film and where one word gives way to the next (skin/fit)",
}

// dagger marks a set that was seen.
func (c *Score) dagger() string {
	if c.Seen == "" {
		return ""
	}
	return " †"
}

const daggerMeans = `A dagger † marks sets whose open rows the models were settled on: there, a figure says how well a law
fits and not how well it foretells. With whole alloys left out of the fit the errors are a little larger; micro/fit
prints them. Of what was never looked at, only rows that were not open then can tell.

`
