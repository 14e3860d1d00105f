package plan

import (
	"math"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// Evening tells what a shop does in an evening of a length [s]: how long each fire
// takes from lighting and what it burns, what each flame does to steel and room,
// how long ovens take from cold, how hard each bath cools and how many pieces it
// bears. Notes are by equipment, in the order of the shop; a code begins with "evening.".
func Evening(s shop.Shop, length float64) ([]cite.Note, error) {
	bench, err := s.Start()
	if err != nil {
		return nil, err
	}
	var all []cite.Note
	for _, e := range bench.All() {
		switch x := e.(type) {
		case *shop.Fire:
			all = append(all, fireEvening(s, x, length)...)
		case *shop.Chamber:
			all = append(all, ovenEvening(x)...)
		case *shop.Pool:
			all = append(all, bathEvening(x)...)
		}
	}
	return append(all, s.CarbonMonoxide(nil, length).Notes...), nil
}

func note(code, where string, source cite.Key, args ...cite.Quantity) cite.Note {
	return cite.Note{Code: code, Where: where, Source: source, Args: args}
}

// fireEvening tells of the time and the gas to working heat, the gas of the evening,
// and of the three flames.
func fireEvening(s shop.Shop, f *shop.Fire, length float64) []cite.Note {
	heat, _, _ := f.HoldsBand()
	seconds, fuel, ok := f.FromCold(heat - 10)
	gas := f.Kind == shop.GasForge || f.Kind == shop.Muffle
	if !ok {
		return []cite.Note{note("evening.fire-never", f.Name(), "own-derivation", cite.Num("heat", heat, "K"))}
	}
	if !gas {
		return []cite.Note{note("evening.hearth", f.Name(), "common-practice", cite.Num("time", seconds, "s"), cite.Num("heat", heat, "K"))}
	}
	band := f.Session(heat, math.Max(length-seconds, 0), 0)
	all := []cite.Note{note("evening.fire", f.Name(), "own-derivation", cite.Num("heat", heat, "K"),
		cite.Num("time", seconds, "s"), cite.Num("fuel", fuel, "kg"),
		cite.Num("evening", length, "s"), cite.Num("low", band.Low, "kg"), cite.Num("high", band.High, "kg"))}
	if f.Kind != shop.GasForge {
		return all
	}
	for _, flame := range []shop.Flame{shop.LeanFlame, shop.NeutralFlame, shop.RichFlame} {
		all = append(all, flameEvening(s, f, flame, heat, length))
	}
	return all
}

// What a flame does is told for ten minutes at heat, as a forging heat has it.
const flameTime = 600

// flameEvening tells what a flame does to oxygen, scale, soft skin and the room.
func flameEvening(s shop.Shop, f *shop.Fire, flame shop.Flame, heat, length float64) cite.Note {
	forge := f.Forge
	forge.Flame = flame
	s.Forges = []shop.Forge{forge}
	room := s.CarbonMonoxide(nil, length)
	air := shop.Atmosphere(forge.Fuel, map[shop.Flame]float64{shop.LeanFlame: 1.12, shop.NeutralFlame: 1, shop.RichFlame: 0.82}[flame])
	scale, soft := scaled(heat, air)
	return note("evening."+string(flame), f.Name(), "lee-2005",
		cite.Num("oxygen", 100*air.O2, "%"), cite.Num("monoxide", 100*air.CO, "%"),
		cite.Num("time", flameTime, "s"), cite.Num("scale", scale, "m"), cite.Num("soft", soft, "m"),
		cite.Num("evening", length, "s"), cite.Num("low", shop.Rough(1e6*room.Peak.Low), "ppm"), cite.Num("high", shop.Rough(1e6*room.Peak.High), "ppm"))
}

// scaled returns the metal lost a side, and the skin that lost carbon, of plain
// steel of 0.84 % carbon in a gas [m].
func scaled(T float64, air medium.Atmosphere) (lost, soft float64) {
	var plain steel.Composition
	plain[steel.C], plain[steel.Mn], plain[steel.Si] = 0.84, 0.75, 0.2
	s := skin.New([]skin.Patch{{Steel: plain, Half: 3e-3}})
	st := s.Start()
	for range 60 {
		s.Step(st, st, []float64{T}, flameTime/60, air)
	}
	depth := make([]float64, 1)
	s.DecarbDepth(depth, st, 0.9)
	return st.Lost[0], depth[0]
}

// ovenEvening tells how long an oven takes from cold to its usual dials.
func ovenEvening(c *shop.Chamber) []cite.Note {
	dials := []float64{205}
	if c.Kind == shop.Kiln {
		dials = []float64{205, 800}
	}
	var all []cite.Note
	for _, dial := range dials {
		seconds, _, ok := c.FromCold(dial + medium.CelsiusZero)
		code := "evening.oven"
		if !ok {
			code = "evening.oven-never"
		}
		all = append(all, note(code, c.Name(), "own-derivation", cite.Num("dial", dial+medium.CelsiusZero, "K"), cite.Num("time", seconds, "s")))
	}
	return all
}

// Probed returns the curve that the standard probe would draw in a bath as it stands.
func Probed(p *shop.Pool) medium.ProbeCurve {
	size := shop.Piece{Length: 0.06, Width: 0.0125, Thickness: 0.0125, Lying: true}
	return medium.Probe{}.Quench(p.Law(&size, 0))
}

// bathEvening tells what the standard probe would draw in a bath, with the band
// that its coefficient carries, and how many blades of a quarter of a kilogram it bears.
func bathEvening(p *shop.Pool) []cite.Note {
	curve := Probed(p)
	half := medium.QuenchBand(p.Liquid, 1) - 1
	if p.Vigor.Known && p.Vigor.Value > 0 {
		half = math.Max(p.Vigor.High/p.Vigor.Value-1, 1-p.Vigor.Low/p.Vigor.Value)
	}
	args := []cite.Quantity{
		cite.Num("rate", curve.MaxRate, "K-step"), cite.Num("at", curve.AtMaxRate, "K"),
		cite.Num("half", half, "1"), cite.Num("thin", medium.QuenchBand(p.Liquid, 0)-1, "1"), cite.Num("edge", medium.ThinEdge, "m"),
	}
	if !math.IsNaN(curve.To400) {
		args = append(args, cite.Num("time", math.Round(10*curve.To400)/10, "s"))
	}
	all := []cite.Note{note("evening.bath", p.Name(), "astm-d6200", args...)}
	const blade, heat = 0.25, 550e3 // [kg], [J/kg] from 815 °C to the bath (en-1993-1-2)
	warm := p.Clone().(*shop.Pool)
	from := warm.Temperature()
	warm.Advance(0, blade*heat)
	rise := warm.Temperature() - from
	limit, known := p.Limit.Value, p.Limit.Known
	if flash, burns := p.FlashPoint(); !known && burns {
		limit, known = flash-60, true // our own margin: common practice for a small shop
	}
	if !known {
		return append(all, note("evening.bath-rise", p.Name(), "en-1993-1-2", cite.Num("mass", blade, "kg"), cite.Num("rise", rise, "K-step")))
	}
	count := math.Max(0, math.Floor((limit-from)/rise))
	return append(all, note("evening.bath-count", p.Name(), "en-1993-1-2",
		cite.Num("mass", blade, "kg"), cite.Num("rise", rise, "K-step"), cite.Num("count", count, "1"), cite.Num("limit", limit, "K")))
}
