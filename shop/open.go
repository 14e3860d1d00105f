package shop

import "github.com/heatwright/heatwright/medium"

// Open is the air of the shop, still or moved.
type Open struct {
	name  string
	T     float64 // [K]
	Speed float64 // of the air past the piece [m/s]
	law   *medium.Air
	piece Piece
}

func newOpen(name string, T, speed float64) *Open { return &Open{name: name, T: T, Speed: speed} }

// Name implements [Equipment].
func (o *Open) Name() string { return o.name }

// Law implements [Equipment]. Tables are made once per piece.
func (o *Open) Law(p *Piece, _ float64) medium.Law {
	if o.law == nil || o.piece != *p || o.law.T != o.T {
		o.law, o.piece = medium.MovingAir(o.T, p.height(), p.orientation(), o.Speed), *p
	}
	return o.law
}

// Move sets the speed of the air past the piece [m/s]: 1–2 waved by hand.
func (o *Open) Move(speed float64) {
	if speed != o.Speed {
		o.Speed, o.law = speed, nil
	}
}

// Atmosphere implements [Equipment].
func (o *Open) Atmosphere() medium.Atmosphere { return medium.OpenAir }

// Advance implements [Equipment]: the room does not notice one piece.
func (o *Open) Advance(float64, float64) {}

// Temperature implements [Equipment].
func (o *Open) Temperature() float64 { return o.T }

// Save implements [Equipment].
func (o *Open) Save(dst []float64) []float64 { return append(dst, o.Speed) }

// Restore implements [Equipment].
func (o *Open) Restore(src []float64) []float64 { o.Move(src[0]); return src[1:] }

// Clone implements [Equipment].
func (o *Open) Clone() Equipment { c := *o; return &c }
