// Package micro carries the state of the metal: what austenite, carbide,
// pearlite, bainite, martensite and ferrite there is in each cell, what the
// austenite holds in solution, how far martensite has been tempered, and how
// hard all of it is. It knows no space: a cell is a temperature history.
//
// A Metal is a composition with its phase limits and rate tables; Cells is the
// state, one []float64 per quantity. Step advances the state at given
// temperatures; hardness, magnet pull and the like are readings of the state.
//
// Order of a step: limits at T; above Ae1 the change to austenite, dissolution
// of carbide and grain growth; below it pro-eutectoid ferrite and cementite,
// pearlite, bainite, martensite; then tempering and softening of what is there.
//
// Temperatures are in K, compositions in wt %, fractions by mass, hardness in
// HV, lengths in m unless a name says µm. Ferrite is taken as free of carbon
// and carbide as 6.67 wt % C, so that carbon balances to rounding.
package micro
