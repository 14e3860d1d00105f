package shop

import (
	"math"

	"github.com/heatwright/heatwright/medium"
)

// Torch is a flame held by hand and moved along the piece.
type Torch struct {
	Name  string
	Power Estimate // heat of its gas [W]
	Spot  Estimate // width of the flame where it strikes [m]; not known: 20 mm
}

// caught is the part of its heat that a torch leaves on a broad face: 0.2–0.35, from memory.
const caught = 0.27

// Flare is a torch at work. It plays along the whole length of a side of the piece:
// each place gets its mean over a stroke.
type Flare struct {
	Torch
	law  medium.Torch
	air  *medium.Air
	room float64
	size Piece
}

func newFlare(t Torch, room float64) *Flare { return &Flare{Torch: t, room: room} }

// Name implements [Equipment].
func (f *Flare) Name() string { return f.Torch.Name }

// Point says from where it plays on the piece: at is a place on the line that it
// is moved along, toward the unit vector from there to the torch.
func (f *Flare) Point(at, toward [3]float64) { f.law.At, f.law.Toward = at, toward }

// Law implements [Equipment].
func (f *Flare) Law(p *Piece, _ float64) medium.Law {
	if f.air == nil || f.size != *p {
		f.air, f.size = medium.StillAir(f.room, p.height(), p.orientation()), *p
	}
	f.law.Rest = f.air
	f.law.Radius = 0.5 * f.Spot.Or(0.020, 0.006).Value
	f.law.Along = true
	// A stroke along the length l: ∫∫ Peak exp(−r²/R²) dr dx = Peak √π R l.
	f.law.Peak = caught * f.Power.Or(1500, 500).Value / (math.Sqrt(math.Pi) * f.law.Radius * math.Max(p.Length, 4*f.law.Radius))
	return &f.law
}

// Atmosphere implements [Equipment]: a flame in the open.
func (f *Flare) Atmosphere() medium.Atmosphere { return medium.OpenAir }

// Advance implements [Equipment]: the bottle does not notice.
func (f *Flare) Advance(float64, float64) {}

// Temperature implements [Equipment]: of the room; a flame holds nothing at a temperature.
func (f *Flare) Temperature() float64 { return f.room }

// Save implements [Equipment].
func (f *Flare) Save(dst []float64) []float64 {
	return append(dst, f.law.At[0], f.law.At[1], f.law.At[2], f.law.Toward[0], f.law.Toward[1], f.law.Toward[2])
}

// Restore implements [Equipment].
func (f *Flare) Restore(src []float64) []float64 {
	f.law.At, f.law.Toward = [3]float64(src[:3]), [3]float64(src[3:6])
	return src[6:]
}

// Clone implements [Equipment].
func (f *Flare) Clone() Equipment { c := *f; return &c }
