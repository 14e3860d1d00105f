// Package unit holds quantities as people write them: it reads "1475 F",
// "1/4 x 1-1/2 in", "two hours twice" and "58-60 HRC", converts them, and prints
// them again with the digits that can be used at an anvil.
//
// Inside the program numbers are plain SI float64. The types here stand at the
// rim, where people mix things up: a reading of temperature (Temp) and a step of
// temperature (TempDiff) are joined only by Add and Sub.
//
// Every parser has the form
//
//	ParseTemp(text string, def ...string) (Temp, error)
//
// where def is the unit to assume for a number without one. A number without
// a unit and without a default is refused (NeedsUnit tells so): guessing between
// °F and °C ruins a blade. Errors are of type *Error, with limits and remedy.
//
// Text prints for the eye, Exact so that the parser gives the same value back.
package unit
