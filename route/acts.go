package route

import (
	"errors"
	"fmt"
	"math"

	"github.com/heatwright/heatwright/shape"
	"github.com/heatwright/heatwright/unit"
)

// Body is the piece at a moment of the route: its measures as far as words have
// them, and its body, which also tells what was drawn, drilled and bent.
type Body struct {
	Piece  Piece
	Solid  *shape.Solid
	worked bool       // the body is no longer what the measures alone say
	span   [2]float64 // where the metal of the present pass lies, as U of the body
	pass   shape.Pass // what each of its turns makes of thickness and width
}

// Change is an act of a job: the stage that it happens in, and what it makes of the body.
type Change struct {
	Stage int
	*shape.Change
	Piece Piece // the measures after it
}

// Misfit is an act that the piece, as it then is, does not bear.
type Misfit struct {
	Step int    // index in the job
	Key  string // of the step, the one to change; empty: the step as a whole
	Err  error  // a *shape.Problem, where it has limits
}

// Error tells what does not fit.
func (m *Misfit) Error() string { return fmt.Sprintf("route: step %d: %v", m.Step+1, m.Err) }

// Unwrap returns the cause.
func (m *Misfit) Unwrap() error { return m.Err }

// Acts follows the body through the route: as it goes into the first step, and
// each change of it. Zones are throughout those of the form that the piece ends
// with: in the bar that a blade is forged from, edge is the metal that will be its edge.
func (j Job) Acts() (start Body, changes []Change, err error) {
	start.Piece = j.Piece
	if start.Solid, err = j.Piece.Solid(); err != nil {
		return start, nil, err
	}
	at := start
	for n, st := range j.Stages() {
		if st.Role != Acting || st.Coats {
			continue
		}
		next, change, err := at.after(st)
		if err != nil {
			return start, nil, misfit(st, err)
		}
		changes = append(changes, Change{n, change, next.Piece})
		at = next
	}
	start.Solid = nameBack(start.Solid, changes)
	return start, changes, nil
}

// Body returns the body of the piece as it goes into a step; after the last for
// a step past the end.
func (j Job) Body(step int) (*shape.Solid, error) {
	start, changes, err := j.Acts()
	if err != nil {
		return nil, err
	}
	at, stages := start.Solid, j.Stages()
	for _, c := range changes {
		if stages[c.Stage].Step < step {
			at = c.To
		}
	}
	return at, nil
}

// nameBack gives the bodies before a forging into another form the zones, the cut and
// the reading of the later ones, and returns the first body so.
func nameBack(start *shape.Solid, changes []Change) *shape.Solid {
	renamed := false
	for i := len(changes) - 1; i >= 0; i-- {
		c := changes[i]
		renamed = renamed || c.To.Form != c.From.Form
		cut := c.U(c.To.Cut)
		if !renamed && math.Abs(cut-c.From.Cut) < 1e-9 {
			continue
		}
		was := c.From.Clone()
		if was.Cut = cut; renamed {
			was.Zones, was.EndOn = c.Before(c.To.Zones), c.To.EndOn
		}
		changes[i].Change = c.With(was, c.To)
		if i > 0 {
			changes[i-1].Change = changes[i-1].With(changes[i-1].From, was)
		} else {
			start = was
		}
	}
	return start
}

// after does what an acting stage says.
func (b Body) after(st Stage) (Body, *shape.Change, error) {
	s := st.Act
	switch s.Do {
	case Grind:
		return b.ground(s)
	case Drill:
		return b.drilled(s)
	case Bend:
		return b.bent(s)
	}
	left := st.Turns - st.Turn // heats that the pass is still spread over, with this one
	if s.Into.Form != "" {
		return b.forgedInto(s, left)
	}
	return b.drawn(s, st.Turn == 0, st.Turns)
}

func (b Body) done(c *shape.Change, err error) (Body, *shape.Change, error) {
	if err != nil {
		return b, nil, err
	}
	b.Solid, b.worked = c.To, true
	return b, c, nil
}

// ground takes metal off: by the measures of the piece while they tell all, else off the body.
func (b Body) ground(s Step) (Body, *shape.Change, error) {
	next, err := b.Piece.Ground(s)
	if !b.worked {
		if err != nil {
			return b, nil, err
		}
		to, err := next.Solid()
		if err != nil {
			return b, nil, err
		}
		c, err := shape.Grind(b.Solid, to)
		return Body{Piece: next, Solid: to}, c, err
	}
	if err == nil {
		b.Piece = next
	}
	to := b.Solid
	if s.Off.Is() {
		flat := to.Form == shape.Knife || to.Form == shape.DrawknifeForm || to.Form == shape.FroeForm
		if off := float64(s.Off.Value); flat {
			to, err = to.Thinned(off)
		} else {
			to, err = to.Ground(off)
		}
		if err != nil {
			return b, nil, err
		}
	}
	if s.Edge.Is() {
		heel := 0.0
		if z, ok := to.Zone("heel"); ok {
			heel = z.Boxes[0].U0
		}
		if to, err = to.Edged(float64(s.Edge.Value), heel); err != nil {
			return b, nil, err
		}
	}
	c, err := shape.Grind(b.Solid, to)
	return b.done(c, err)
}

func (b Body) drilled(s Step) (Body, *shape.Change, error) {
	h := shape.Hole{At: float64(s.From.Value), Across: 0.5, Diameter: float64(s.Diameter.Value)}
	width := b.Solid.WidthAt(h.At)
	if s.Across.Is() {
		h.Across = float64(s.Across.Value) / width
	}
	c, err := shape.Drill(b.Solid, h)
	var bad *shape.Problem
	if errors.As(err, &bad) && bad.Key == "share" { // say it in the measures of the piece
		err = &shape.Problem{Key: "across", Value: h.Across * width, Limits: bad.Limits, Remedy: bad.Remedy, Low: bad.Low * width, High: bad.High * width}
		if bad.High < bad.Low {
			err = &shape.Problem{Key: "diameter", Value: h.Diameter, Remedy: "take a smaller drill", Low: 0.5e-3, High: 0.9 * width}
		}
	}
	return b.done(c, err)
}

func (b Body) bent(s Step) (Body, *shape.Change, error) {
	c, err := shape.Bend(b.Solid, shape.Turn{
		From: float64(s.From.Value), To: float64(s.From.Value + s.Over.Value), Angle: float64(s.Angle.Value), Hard: s.Way == HardWay,
	})
	return b.done(c, err)
}

// drawn is a pass that leaves a stretch with a thickness and a width, in so many
// turns of which each does the same share.
func (b Body) drawn(s Step, first bool, turns int) (Body, *shape.Change, error) {
	if first {
		length := b.Solid.Length()
		from, to := float64(s.From.Value), length
		if s.Over.Is() {
			to = from + float64(s.Over.Value)
		}
		if from >= length || to > length*(1+1e-6) {
			return b, nil, outside(s, length)
		}
		b.span = [2]float64{b.Solid.UAt(from), b.Solid.UAt(to)}
		thick, wide := b.Solid.Largest(from, to)
		var err error
		if b.pass.Thickness, err = factor("thickness", s.Thickness, thick, turns); err == nil {
			b.pass.Width, err = factor("width", s.Width, wide, turns)
		}
		if err != nil {
			return b, nil, err
		}
	}
	p := b.pass
	p.From, p.To = b.Solid.LengthTo(b.span[0]), b.Solid.LengthTo(b.span[1])
	c, err := shape.Draw(b.Solid, p)
	var bad *shape.Problem
	if errors.As(err, &bad) && bad.Key == "thickness" && bad.Value > 0 && s.Thickness.Is() {
		// What is too thin is the edge; what is given is the thickest there.
		thick, _ := b.Solid.Largest(p.From, p.To)
		bad.Value, bad.Low, bad.High = float64(s.Thickness.Value), float64(s.Thickness.Value)*bad.Low/bad.Value, thick*shape.MostUpset
	}
	return b.done(c, err)
}

// factor returns what one of so many turns makes of a measure that is to be left at want.
func factor(key string, want Length, is float64, turns int) (float64, error) {
	if !want.Is() {
		return 1, nil
	}
	w := float64(want.Value)
	if low, high := is*shape.MostDrawn, is*shape.MostUpset; w < low || w > high {
		return 1, &shape.Problem{Key: key, Value: w, Remedy: "forge it in two steps", Low: low, High: high}
	}
	return math.Pow(w/is, 1/float64(turns)), nil
}

func outside(s Step, length float64) error {
	if float64(s.From.Value) >= length {
		return &shape.Problem{Key: "from", Value: float64(s.From.Value), Remedy: "begin on the piece", Low: 0, High: length - 1e-3}
	}
	return &shape.Problem{Key: "over", Value: float64(s.Over.Value), Remedy: "end on the piece, or leave it out for all of it", Low: 1e-3, High: length - float64(s.From.Value)}
}

// forgedInto brings the piece to another form, in so many turns.
func (b Body) forgedInto(s Step, left int) (Body, *shape.Change, error) {
	to, err := s.Into.Solid()
	if err != nil {
		return b, nil, inTable(err)
	}
	c, err := shape.Into(b.Solid, to, 1/float64(left))
	if err != nil {
		var bad *shape.Problem
		if errors.As(err, &bad) && bad.Key == "length" { // the limits of its own measure: a taper does not grow with the length
			bad.Value = float64(s.Into.Length.Value)
			const inside = 0.99 * shape.ForgingSlack // so that the limits themselves go
			bad.Low, bad.High = s.Into.lengthFor(b.Solid.Volume()*(1-inside)), s.Into.lengthFor(b.Solid.Volume()*(1+inside))
			if bad.Low == bad.High {
				bad.Limits = "a form that there is metal for"
			}
		}
		return b, nil, inTable(err)
	}
	next, c, err := b.done(c, nil)
	next.Piece = s.Into
	return next, c, err
}

// longestPiece that is built [m], with room for a tang.
const longestPiece = 2.5

// lengthFor returns the length with which the piece has a volume [m], 0 where no
// length from a tenth to ten times its own does.
func (p Piece) lengthFor(volume float64) float64 {
	holds := func(length float64) float64 {
		p.Length.Value = unit.Length(length)
		s, err := p.Solid()
		if err != nil {
			return 0 // too short for its taper
		}
		return s.Volume()
	}
	low, high := 0.1*float64(p.Length.Value), min(10*float64(p.Length.Value), longestPiece)
	if holds(low) > volume || holds(high) < volume {
		return 0
	}
	for range 40 {
		if mid := (low + high) / 2; holds(mid) < volume {
			low = mid
		} else {
			high = mid
		}
	}
	return high
}

// inTable puts the keys of what is wrong into the step's table.
func inTable(err error) error {
	var bad *shape.Problem
	if !errors.As(err, &bad) {
		return err
	}
	p := *bad
	if p.Key = "into, " + bad.Key; bad.Key == "count" {
		p.Key = "into, form"
	}
	return &p
}

func misfit(st Stage, err error) error {
	m := &Misfit{Step: st.Step, Err: err}
	var bad *shape.Problem
	if errors.As(err, &bad) {
		m.Key = bad.Key
		switch bad.Key {
		case "to":
			m.Key = "over"
		case "at":
			m.Key = "from"
		}
	}
	return m
}

// PieceBefore returns the measures of the piece as it goes into a step, by the
// forms that it was forged to and what was ground off. What was drawn, drilled or
// bent is in its body alone.
func (j Job) PieceBefore(step int) Piece {
	p := j.Piece
	for _, s := range j.Steps[:min(step, len(j.Steps))] {
		switch {
		case s.Do == Grind:
			if next, err := p.Ground(s); err == nil {
				p = next
			}
		case s.Do == Forge && s.Into.Form != "":
			p = s.Into
		}
	}
	return p
}

// Finished returns the measures of the piece at the end of the route.
func (j Job) Finished() Piece { return j.PieceBefore(len(j.Steps)) }

// Zones returns the names of the zones that endings and aims use: those of the
// form that the piece ends with.
func (j Job) Zones() []string { return j.Finished().Zones() }
