package route

import "github.com/heatwright/heatwright/steel"

// What an analysis may be off by: a share of the content, and at least a digit
// [wt %]. From memory.
const (
	analysisShare = 0.02
	analysisLeast = 0.01
)

// analysis reads a composition and the band that its digits allow. What it
// leaves out has the residuals of common steel, with their band.
func analysis(text string) (nominal, low, high steel.Composition, err error) {
	a, err := steel.ParseAnalysis(text)
	if err != nil {
		return nominal, low, high, err
	}
	low, high = steel.Grade{}.Spread() // a standard that is silent on everything
	for e, x := range a.Composition {
		if a.Given[e] {
			half := max(analysisShare*x, analysisLeast)
			low[e], high[e] = max(0, x-half), x+half
		}
	}
	return a.Composition, low, high, nil
}
