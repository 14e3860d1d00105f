// Package steel knows what a bar is made of and what that means for heat.
//
// A Grade is a range of compositions with a nominal that carries the usual
// residuals of scrap; Find knows designations of several standards and asks back
// when a name stands for several steels. ParseAnalysis reads a composition
// written by hand or copied from a certificate.
//
// Thermal holds the one enthalpy of each constituent, from which every heat
// capacity and every latent heat in the program follows, with conductivity,
// density, strain and modulus, as tables for the solver's inner loop.
package steel
