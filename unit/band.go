package unit

import "math"

// Band is an estimate with its 10th and 90th percentile, all in one unit.
// Every answer that the program shows is a band.
type Band struct {
	Value float64 `json:"value"`
	Low   float64 `json:"low"`
	High  float64 `json:"high"`
}

// Exactly returns a band without width.
func Exactly(v float64) Band { return Band{v, v, v} }

// PlusMinus returns v ± half.
func PlusMinus(v, half float64) Band { return Band{v, v - half, v + half} }

// Widen returns the band with an independent half width added: each side grows
// to the root of the sum of squares.
func (b Band) Widen(half float64) Band {
	return Band{b.Value, b.Value - math.Hypot(b.Value-b.Low, half), b.Value + math.Hypot(b.High-b.Value, half)}
}
