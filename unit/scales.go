package unit

import (
	_ "embed"
	"fmt"
	"math"
	"sort"
	"sync"

	"github.com/pelletier/go-toml/v2"
)

//go:embed hardness.toml
var hardnessFile []byte

// Conversions of hardness go by the table of ASTM E140 (rows in hardness.toml),
// linear between its rows. They are readings between scales that press
// different shapes, not a change of units: see ConversionHalf.
type hardnessTable struct {
	HRC, HV []float64 // ascending
	HVB, HB []float64 // Vickers and Brinell, ascending
}

// ConversionHalf is half the width of the 80 % band of a converted hardness
// [HRC]. The standard rounds to whole numbers, and the German and American
// tables differ by up to 1 HRC for hardened tool steel.
const ConversionHalf = 0.8

var conversion = sync.OnceValue(func() hardnessTable {
	var file struct {
		Source, Where, ReadBy, Error string `toml:"-"`
		Row                          []struct {
			HRC    float64 `toml:"hrc"`
			HV     float64 `toml:"hv"`
			HBW    float64 `toml:"hbw"`
			Memory bool    `toml:"memory"`
		} `toml:"row"`
	}
	if err := toml.Unmarshal(hardnessFile, &file); err != nil {
		panic(fmt.Sprintf("unit: hardness.toml: %v", err)) // embedded: a fault in it is ours
	}
	sort.Slice(file.Row, func(i, j int) bool { return file.Row[i].HRC < file.Row[j].HRC })
	var t hardnessTable
	for _, r := range file.Row {
		t.HRC = append(t.HRC, r.HRC)
		t.HV = append(t.HV, r.HV)
		if r.HBW > 0 {
			t.HVB = append(t.HVB, r.HV)
			t.HB = append(t.HB, r.HBW)
		}
	}
	return t
})

// between interpolates linearly; xs ascends. Outside it goes on with the slope of the last piece.
func between(xs, ys []float64, x float64) float64 {
	i := sort.SearchFloat64s(xs, x)
	i = min(max(i, 1), len(xs)-1)
	return ys[i-1] + (ys[i]-ys[i-1])*(x-xs[i-1])/(xs[i]-xs[i-1])
}

// The HRC scale is not used below 20 and hardly above 70.
const (
	lowestHRC  = 20
	highestHRC = 70
)

// HRCofHV converts a Vickers hardness to Rockwell C. ok is false below 20 HRC
// (238 HV), where the scale is not used, and above 70. From 68 to 70 HRC the
// table is continued with its last slope.
//
// Source: astm-e140, Table 1.
func HRCofHV(hv float64) (hrc float64, ok bool) {
	t := conversion()
	hrc = between(t.HV, t.HRC, hv)
	if !(hrc >= lowestHRC && hrc <= highestHRC) {
		return 0, false
	}
	return hrc, true
}

// HVofHRC converts Rockwell C, 20 to 70, to Vickers. Outside it panics: check the reading first.
//
// Source: astm-e140, Table 1.
func HVofHRC(hrc float64) float64 {
	if !(hrc >= lowestHRC && hrc <= highestHRC) {
		panic(fmt.Sprintf("unit: HRC %g lies outside 20 to 70", hrc))
	}
	t := conversion()
	return between(t.HRC, t.HV, hrc)
}

// HBofHV converts Vickers to Brinell (HBW 10/3000). Below the table (238 HV)
// HB = 0.95·HV, which meets it there.
//
// Source: astm-e140, Table 1; the factor is the usual one of ISO 18265 (from memory).
func HBofHV(hv float64) float64 {
	t := conversion()
	if hv <= t.HVB[0] {
		return hv * t.HB[0] / t.HVB[0]
	}
	return between(t.HVB, t.HB, hv)
}

// HVofHB converts Brinell (HBW 10/3000) to Vickers.
func HVofHB(hb float64) float64 {
	t := conversion()
	if hb <= t.HB[0] {
		return hb * t.HVB[0] / t.HB[0]
	}
	return between(t.HB, t.HVB, hb)
}

// tensilePerHV is the tensile strength [N/mm²] of soft steel per point of
// Vickers hardness. ISO 18265 Table A.1 gives 3.2 to 3.25 from 100 to 400 HV (from memory).
const tensilePerHV = 3.2

// HRCText returns a hardness as it is shown: whole HRC, or HV to two digits where HRC is not used.
func HRCText(hv float64) string {
	if hrc, ok := HRCofHV(hv); ok {
		return fmt.Sprintf("%.0f HRC", hrc)
	}
	return fmt.Sprintf("%.0f HV", math.Round(hv/10)*10)
}
