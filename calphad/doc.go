// Package calphad finds the phases of a steel at equilibrium by minimizing the
// Gibbs energy: which carbides stand beside the austenite at a hardening heat,
// what the austenite holds in solution, where phases come and go, and how hard
// the austenite is driven to become something else.
//
// Phases are described by the compound energy formalism: sublattices that mix
// ideally, Redlich–Kister interactions of two, three and two-by-two
// constituents, and the magnetic ordering of Inden, Hillert and Jarl. A solve has
// three parts. A global start samples every phase and takes the lower convex hull over
// the composition. Newton steps on the conditions of equilibrium refine it, with
// exact second derivatives and the site fractions eliminated phase by phase. A
// test of every phase against the final plane of the potentials, from several
// starts, brings in what would still form; only a state that passes it is
// returned. The temperature of a transition is an unknown of the same steps.
//
// Energies inside are J/mol, temperatures K, compositions at the doors wt %.
// Graphite is left aside, as in all heat treatment.
//
// What it was held against: an independent solver on the same parameters (96
// rows: phase fractions within 1e-4, austenite within 1e-3 wt %, Ae1 and Ae3
// within 0.1 K, other transitions within 0.13 K); pycalphad on the same
// parameters (96 equilibria of twelve steels, reference/calphad: fractions within
// 2e-5 and austenite within 4e-5 wt %, but for two points where the library stops
// in a local minimum); and itself from shuffled starts, with every phase sampled at
// random for 10,000 compositions. That proves the solver. How well the
// parameters describe steel shows in the spread between published databases: 3 K at
// Ae1 and Ae3 (8 K in steels with over 3 % Cr or with Ni, Cr and Mo together),
// 8 K at Acm (23 K with Ni, Cr and Mo). Below 400 °C all values are
// extrapolations.
package calphad
