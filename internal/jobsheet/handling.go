package jobsheet

import (
	"strconv"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/unit"
)

// handle adds to the line of each step what holds, touches and covers the piece there.
func (c *composer) handle() {
	for i, s := range c.job.Steps {
		l := c.lines[step(i)]
		if l == nil {
			continue
		}
		all := c.handling(s)
		if i == c.fire.cool {
			all = append(all, c.nextBaths(i)...)
		}
		for _, more := range all {
			l.add(more)
		}
	}
	for i := range c.job.Steps {
		key, code := "hand-warm", "jobsheet.strip-cold"
		if i < c.fire.cool {
			key, code = step(c.fire.cool), "jobsheet.strip-on-the-way"
		}
		if l := c.lines[key]; l != nil && c.strips(i) {
			l.add(c.line(code, txt("coat", c.coatAt(i))))
		}
	}
}

// add goes on with what a line says.
func (l *Line) add(more Line) {
	l.Text += " " + more.Text
	l.Parts = append(append(l.Parts, words.Part{Text: " "}), more.Parts...)
}

// strips reports whether step i takes off what lay on the piece in its last heat,
// before it is tempered: the box says that.
func (c *composer) strips(i int) bool {
	last := c.fire.temper
	if last < 0 {
		last = len(c.job.Steps)
	}
	return c.job.Steps[i].Do == route.Strip && c.fire.cool >= 0 && i > c.fire.heat && i < last
}

// coatAt says what lies on the piece before step i.
func (c *composer) coatAt(i int) string {
	for k := i - 1; k >= 0; k-- {
		if s := c.job.Steps[k]; s.Do == route.Coat {
			return s.With
		}
	}
	return "coat"
}

// handling says how a piece is handled in a step, apart from how it goes into a bath.
func (c *composer) handling(s route.Step) []Line {
	var all []Line
	say := func(code string, there bool, texts ...string) {
		if !there {
			return
		}
		l := c.line("jobsheet."+code, txt("a", texts[0]), txt("b", texts[len(texts)-1]))
		all = append(all, l)
	}
	say("handle-inside", s.Inside.Is(), c.lengthIf(s.Inside))
	say("handle-pieces", s.Pieces > 1, strconv.Itoa(s.Pieces))
	say("handle-rise", s.Rise.Is(), s.Rise.Text)
	say("handle-fall", s.Fall.Is(), s.Fall.Text)
	say("handle-on", s.On != "", s.On)
	say("handle-tongs", s.Tongs != "", s.Tongs, c.lengthIf(s.Grip))
	if s.EdgeIn != "" {
		deep := c.lengthIf(s.Under)
		if deep == "" {
			deep = c.length(usualEdge)
		}
		say("handle-edge-in", true, s.EdgeIn, deep)
	}
	return all
}

// usualEdge is how deep an edge stands in water where the job does not say; as package sim takes it.
const usualEdge = unit.Length(10e-3)

// lengthIf says a length as typed, or nothing where none was.
func (c *composer) lengthIf(l route.Length) string {
	if !l.Is() {
		return ""
	}
	return c.typedLength(l)
}

// nextBaths says into what a piece goes on from the bath of step i.
func (c *composer) nextBaths(i int) []Line {
	var all []Line
	out := c.job.Steps[i].Until
	for k := i + 1; k < len(c.job.Steps); k++ {
		if s := c.job.Steps[k]; goesOn(c.job, c.fire, k) {
			all = append(all, c.line("jobsheet.then-bath", txt("out", c.until(out)), txt("name", s.In)))
			out = s.Until
		}
	}
	return all
}

// plunge says how a piece goes into its bath when it does not go straight in, all
// under; ok is false when it does.
func (c *composer) plunge(s route.Step, carry string) (l Line, ok bool) {
	if _, plates := c.job.Shop.Plate(s.In); plates {
		return c.line("jobsheet.to-plates", txt("name", s.In), txt("carry", carry)), true
	}
	if s.First == "" && !s.Under.Is() {
		return l, false
	}
	first, rest := s.First, ""
	if first == "" {
		first = "tip"
		if !c.job.Piece.OnEdge() {
			first = "edge end"
		}
	}
	if s.UnderFor.Is() {
		rest = c.time(float64(s.UnderFor.Value))
	}
	return c.line("jobsheet.to-bath-part", txt("name", s.In), txt("carry", carry), txt("first", first), txt("under", c.lengthIf(s.Under)), txt("rest", rest)), true
}

// letDown says how a spine is let down on a block, a plate or under a torch.
func (c *composer) letDown(s route.Step) Line {
	side := s.Touches
	if side == "" {
		side = route.FlatSide
		if c.job.Piece.OnEdge() {
			side = route.SpineSide
		}
	}
	code := "jobsheet.temper-block"
	if _, torch := c.job.Shop.Torch(s.In); torch {
		code = "jobsheet.temper-torch"
	}
	return c.line(code, txt("name", capital(s.In)), txt("side", side), txt("until", c.until(s.Until)))
}

// coatLine says what is laid on, or taken off.
func (c *composer) coatLine(s route.Step) Line {
	if s.Do == route.Strip {
		return c.line("jobsheet.strip")
	}
	if s.With == route.FoilCoat {
		return c.line("jobsheet.coat-foil")
	}
	return c.line("jobsheet.coat", txt("with", s.With), txt("layer", c.lengthIf(s.Layer)), txt("bare", c.lengthIf(s.Bare)))
}
