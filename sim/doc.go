// Package sim marches one piece through its route: the only place where
// temperature, metal and skin meet. Conduction knows no metal, micro no space
// and skin no inside; the march holds all three and the shop, and writes the
// [History] from which everything else is read.
//
// A [Setup] is a job in SI with what was not said filled in. [Setup.March] lays
// the piece on the bench; [March.Step] makes one accepted time step; [March.Fork]
// makes a second march that goes its own way, exactly as the first would have
// gone. [Run] is a loop over it. A cross-section (2-D) and the whole piece (3-D) are
// the same code and agree at the cut within 3 K and 0.5 HRC.
//
// A step, in this order:
//
//	the surrounding hands out its law, with emissivity and scale from the skin
//	conduction carries enthalpy at frozen structure; martensite alone, which
//	  waits for no time, is part of the heat capacity
//	the metal changes at the temperatures that it ends with
//	temperature follows from the same enthalpy and the new structure: no joule is lost or made
//	the skin follows at the surface temperatures
//	the step is kept or taken back; what is kept warms the shop by exactly the joules that left
//
// Steps are as long as their error allows ([control.go] holds the limits). Energy, carbon,
// iron and the sum of fractions close to 1e-6 in every run, or the run fails.
//
// What is missing: pieces of several steels are marched as one; carbon that the skin
// loses is not taken from the cells below it; no stress, so no warp and no cracks
// but by the indicators of package safety.
package sim
