// Package conduction marches the temperature of a body by implicit finite
// volumes on a body-fitted structured mesh (length × width × thickness). A
// cross-section and a rod are the same code with fewer cells.
//
// The conserved unknown is the specific enthalpy H of each cell [J/kg];
// temperature follows from it. What leaves through each face is reported in
// joules and equals the change of the cells to rounding, so that a bath can be
// warmed by exactly the heat taken. The package knows no metal: properties and
// surface laws come in through two small interfaces.
//
//	m dH/dt = Σ_faces k A ∂T/∂n + source,   H = h(T) at frozen structure
//
// Time: a second-order Rosenbrock method with two stages that share one matrix
// (γ = 1 − 1/√2, L-stable, order two with an inexact matrix), source
// verwer-1999. The matrix is a banded factor per cross-section times a
// tridiagonal one along the length: every direction is implicit, a cell costs
// the same in any number of cells, and 0.3 mm edges on 5 mm slabs are no trouble.
// Space: fluxes exact for linear fields on skewed cells, the skewed part taken
// explicitly under a matrix stiff enough for it.
//
// Held against exact solutions, NAFEMS benchmarks, a manufactured solution on a
// tapered and bent body (order 2.0 in space and time) and a general-purpose
// finite-element library (within 1 % of the span): docs/verification.md, reference/field.
package conduction

// Material fills the properties of all cells at temperatures T [K] and the
// structure they have now: specific enthalpy h [J/kg], its derivative cp
// [J/kgK] and conductivity k [W/mK].
type Material interface {
	Fill(h, cp, k, T []float64)
}

// Boundary fills, for all faces in mesh order, the heat flux out of the body q
// [W/m²] at surface temperature Ts [K] and dq = ∂q/∂Ts [W/m²K].
type Boundary interface {
	Fill(q, dq, Ts []float64)
}

// Report is what one step did.
type Report struct {
	Error     float64 // distance to the first-order result, the largest of all cells: errs on the safe side [K]
	Kept      float64 // estimate of the error of the second-order result that is kept, of all cells [K]
	MaxChange float64 // largest temperature change of a cell [K]
	Joules    float64 // heat out of the body in this step [J]; per face in Field.Out
}
