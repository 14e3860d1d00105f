package sim

import (
	"fmt"
	"math"
	"strings"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/skin"
)

const (
	dipSpeed  = 0.5          // of a blade going under [m/s]; common practice
	blackHeat = 500 + kelvin // no glow in a dim shop [K]
	handWarm  = 50 + kelvin  // [K]
	atHeat    = 5            // every zone this close to its surrounding is at heat [K]
	kelvin    = medium.CelsiusZero
	longStay  = 7 * 24 * 3600. // no stage waits longer for its ending [s]
	patience  = 4 * 3600.      // nor so long without coming nearer to it [s]
)

// stay is the stage in progress.
type stay struct {
	place    shop.Equipment
	gas      medium.Atmosphere
	start    float64 // [s]
	waiting  bool    // its ending has not been met
	reached  float64 // when it was [s]
	end      float64 // when the stage is over, as far as known [s]
	joules   float64 // heat out of the whole piece so far [J]
	owedTime float64 // time [s] and
	owedHeat float64 // heat [J] that the equipment has not been told of
	wetting  bool    // in a liquid
	want     wanted
	zone     int
	target   float64 // [K]
	side     float64 // +1 when the target is approached from below
	last     float64 // gap before the present try
	tried    float64 // length of the step that is tried; 0 between steps [s]
	best     float64 // nearest that the ending has come, and
	bestAt   float64 // when that was [s]
	fine     float64 // gap over which an ending need not be met more exactly
	placeWas float64 // temperature of the place when the stage began [K]

	around  shop.Equipment // what surrounds the piece: the place, or the air where the place only touches it
	size    shop.Piece     // the piece and those that are in with it
	pieces  float64        // how many these are
	company []company      // what touches it beside
	mosaic  medium.Mosaic  // where
	plunge  plunge         // into a bath
	out     []bool         // the cells that lie outside the fire or at its door; nil: none
}

type wanted int

const (
	byTime wanted = iota
	temperature
	heatThrough
	magnetOff
	shadowOff
	colder
	filmed // a bright spot has come to a temper color
)

// enter begins the next stage.
func (m *March) enter() error {
	m.index++
	for m.index < len(m.setup.Stages) && m.stageNow().Role == route.Acting {
		if err := m.act(); err != nil {
			return err
		}
		m.index++
	}
	if m.index >= len(m.setup.Stages) {
		m.over = true
		return nil
	}
	st := m.stageNow()
	place, err := m.place(st)
	if err != nil {
		return err
	}
	m.stay = stay{place: place, gas: place.Atmosphere(), start: m.clock, placeWas: place.Temperature(), end: math.Inf(1), waiting: true, zone: m.core}
	_, m.stay.wetting = place.(*shop.Pool)
	if err := m.joinCompany(st); err != nil {
		return err
	}
	if m.stay.wetting {
		m.stay.plunge = m.plungeOf(st)
		m.rim.faces.Away = m.away()
	}
	switch st.Role {
	case route.Quenching:
		m.coat.SpallAll(m.now.skin, skin.AtQuench)
	case route.Working:
		if was := m.setup.Stages[max(m.index-1, 0)]; was.Role != route.Acting || was.Step != st.Step { // once in a heat
			m.coat.SpallAll(m.now.skin, skin.AtBlows)
		}
	}
	m.settleIn()
	if err := m.aim(st); err != nil {
		return err
	}
	if m.log != nil {
		m.log.begin(m)
		m.leave()
	}
	return m.turn()
}

// settleIn makes ready for the first step in a new surrounding.
func (m *March) settleIn() {
	clear(m.shell.epsRate)
	clear(m.shell.scaleRate)
	m.now.field.Forget()
	m.wrap()
	m.dt = m.firstTry()
}

// firstTry returns the length of the first try in a new surrounding [s]: it moves no
// surface cell by more than firstRise, were its heat not led away.
func (m *March) firstTry() float64 {
	if m.stay.wetting {
		return firstDt
	}
	field, r := m.now.field, &m.rim
	r.law = m.law(firstDt)
	r.Fill(r.q, r.dq, field.Ts)
	fastest := 0.0
	for i, c := range m.mesh.Faces.Cell {
		if w := math.Abs(r.q[i]) * m.mesh.Faces.Area[i] / field.Mass[c]; w > fastest {
			fastest = w
		}
	}
	return math.Max(firstDt, math.Min(firstRise*roughCp/math.Max(fastest, 1e-9), 1))
}

// place sets up the equipment of a stage.
func (m *March) place(st *Stage) (shop.Equipment, error) {
	name := st.In
	if name == "" || st.Role == route.Working || st.Role == route.Carrying {
		name = shop.AirName
	}
	e, err := m.bench.Find(name)
	if err != nil {
		return nil, &Error{Step: st.Name, Err: err}
	}
	m.bench.Rejoin(name, m.clock)
	switch x := e.(type) {
	case *shop.Pool:
		tau := 0.1 // first contact: 0.05–0.15 s in oil, 0.02–0.05 s in water (from memory)
		if x.Liquid.Aqueous() {
			tau = 0.03
		}
		x.Move(stirs[st.Moved], tau, x.Wets.Or(0, 0).Value)
		x.Wash(m.cover != nil && m.cover.wash)
	case *shop.Chamber:
		if err := m.ramp(st, x); err != nil {
			return nil, &Error{Step: st.Name, Err: err}
		}
	case *shop.Burial:
		x.Empty()
	}
	if a, ok := e.(shop.Adjustable); ok && st.At.Is() && !st.Off && st.Ramp == 0 {
		if err := a.Set(float64(st.At.Value)); err != nil {
			return nil, &Error{Step: st.Name, Err: err}
		}
	}
	return e, nil
}

// ramp lets an oven climb to its dial with the piece in it, come down, or die down.
func (m *March) ramp(st *Stage, x *shop.Chamber) error {
	switch {
	case st.Off && st.Ramp > 0:
		return x.Ramp(roomOf(m.bench), st.Ramp)
	case st.Off:
		return x.Turn(0)
	case st.Ramp > 0 && st.At.Is():
		x.Cool()
		return x.Ramp(float64(st.At.Value), st.Ramp)
	}
	return nil
}

// stirs maps the job's words to the ways a liquid moves past the piece. A piece
// that is moved by hand is the usual case.
var stirs = map[string]medium.Stir{"": medium.Gentle, "moved": medium.Gentle, "still": medium.Still, "stirred": medium.Vigorous}

// aim finds out what ends the stage.
func (m *March) aim(st *Stage) error {
	s := &m.stay
	u := st.Until
	switch u.Kind {
	case route.ByTime:
		s.want, s.waiting, s.reached = byTime, false, s.start
		s.end = s.start + u.Time + st.Hold
		return nil
	case route.ByTemp:
		s.want, s.target, s.fine = temperature, float64(u.Temp), 0.02
		if u.Zone != "" {
			if s.zone = m.zone(u.Zone); s.zone < 0 {
				if !m.mesh.Flat {
					return &Error{Step: st.Name, Text: fmt.Sprintf("the piece has no zone %q", u.Zone), Limits: "it has " + m.zoneNames(), Remedy: "name one of these"}
				}
				s.zone = m.core
			}
		}
		s.side = 1
		// A piece that comes from the hammer hotter than a fire is to make it is there
		// at once; in a place that is colder than that it is waited for from above.
		if m.mesh.Parts[s.zone].Mean(m.now.field.T) > s.target && (st.Role != route.Heating || s.place.Temperature() < s.target) {
			s.side = -1
		}
	case route.ByColor:
		word, ok := color.ParseTemper(u.Sign)
		if s.zone = m.zone(u.Zone); s.zone < 0 {
			if !m.mesh.Flat {
				return &Error{Step: st.Name, Text: fmt.Sprintf("the piece has no zone %q", u.Zone), Limits: "it has " + m.zoneNames(), Remedy: "name one of these"}
			}
			s.zone = m.core
		}
		if !ok || m.log == nil {
			return &Error{Step: st.Name, Text: fmt.Sprintf("nobody can wait for %q here", u.Text), Remedy: "end it with a time or a temperature"}
		}
		s.want, s.target, s.fine = filmed, word.Film().Value, 0.05
	case route.AtHeat:
		s.want, s.fine, s.side = heatThrough, 0.05, 1
		for i := range m.mesh.Parts {
			if m.mesh.Parts[i].Mean(m.now.field.T) > s.goal() {
				s.side = 0 // it comes in hotter, and has to cool to it
			}
		}
	case route.BySign:
		switch u.Sign {
		case route.MagnetOff:
			s.want, s.fine = magnetOff, 0.005
		case route.ShadowOff:
			s.want, s.fine = shadowOff, 0.005
		case route.BlackHeat:
			s.want, s.target, s.fine = colder, blackHeat, 0.05
		case route.HandWarm:
			s.want, s.target, s.fine = colder, handWarm, 0.05
		case route.Cold:
			air, err := m.bench.Find(shop.AirName)
			if err != nil {
				return fmt.Errorf("sim: %w", err)
			}
			s.want, s.target, s.fine = colder, air.Temperature()+5, 0.05
		default:
			return &Error{Step: st.Name, Text: fmt.Sprintf("the sign %q is not known", u.Sign), Remedy: "take magnet off, shadow off, black, hand-warm or cold"}
		}
	default:
		return &Error{Step: st.Name, Text: "nothing ends it", Remedy: "say until when"}
	}
	s.end = s.start + longStay
	s.last = s.gap(m, m.now.cells)
	s.best, s.bestAt = s.last, s.start
	return nil
}

// goal is what a piece comes to in this place: of an oven what its dial asks for.
func (s *stay) goal() float64 {
	if x, ok := s.place.(*shop.Chamber); ok {
		return x.Goal()
	}
	return s.place.Temperature()
}

// gap returns how far past its ending the stage is: negative before it is met.
// For temperatures in K, for signs as a share. c is the metal at the
// temperatures of the field: during a try that of the step that is tried.
func (s *stay) gap(m *March, c *micro.Cells) float64 {
	T := m.now.field.T
	switch s.want {
	case temperature:
		return s.side * (m.meanInside(s.zone, T) - s.target)
	case heatThrough:
		// What warms up is at heat once it lacks no more than that: where elements or
		// walls glow, it may come to stand above the air around it.
		worst, place := 0.0, s.goal()
		for i := range m.mesh.Parts {
			lacks := place - m.meanInside(i, T)
			if s.side == 0 {
				lacks = math.Abs(lacks)
			}
			worst = math.Max(worst, lacks)
		}
		return atHeat - worst
	case filmed:
		if m.log == nil {
			return 0
		}
		return m.log.film(m, s.zone, s.tried) - s.target
	case colder:
		hottest := 0.0
		for i := range m.mesh.Parts {
			hottest = math.Max(hottest, m.mesh.Parts[i].Mean(T))
		}
		return s.target - hottest
	case magnetOff:
		worst := 0.0
		for i := range T {
			if m.mesh.Volume[i] > 0 && !s.sticksOut(i) {
				worst = math.Max(worst, m.metal.PullCell(c, i, T[i]))
			}
		}
		return micro.MagnetLost - worst
	case shadowOff:
		worst := 0.0
		for i := range T {
			if m.mesh.Volume[i] > 0 && !s.sticksOut(i) {
				worst = math.Max(worst, untransformed(c, i))
			}
		}
		return shadowLeft - worst
	}
	return -1
}

// turn follows the stage: from waiting to holding, and to the next.
func (m *March) turn() error {
	s := &m.stay
	if s.waiting {
		g := s.gap(m, m.now.cells)
		if g < 0 {
			if g > s.best+s.headway() {
				s.best, s.bestAt = g, m.clock
			}
			if m.clock >= s.end || m.clock-s.bestAt > patience {
				return m.stuck()
			}
			s.last = g
			return nil
		}
		s.waiting, s.reached = false, m.clock
		s.end = m.clock + m.stageNow().Hold
	}
	if m.clock < s.end {
		return nil
	}
	m.settleUp()
	m.settleSkin()
	m.leaveCompany()
	if m.log != nil {
		m.log.finish(m)
	}
	if e, ok := s.place.(*shop.Burial); ok {
		e.Empty()
	}
	return m.enter()
}

// headway is what counts as coming nearer to an ending.
func (s *stay) headway() float64 {
	switch s.want {
	case magnetOff, shadowOff:
		return 0.002
	case filmed:
		return 0.01 // nm
	}
	return 0.2 // K
}

// stuck is the error of a stage that never ends.
func (m *March) stuck() error {
	st := m.stageNow()
	T := m.mesh.Parts[m.stay.zone].Mean(m.now.field.T)
	return &Error{
		Step:   st.Name,
		Text:   fmt.Sprintf("%q is never met: after %s in %s the piece stands at %.0f °C", st.Until.Text, hours(m.clock-m.stay.start), m.stay.place.Name(), T-kelvin),
		Remedy: "let it end earlier, or set the equipment hotter or colder",
	}
}

func hours(s float64) string { return fmt.Sprintf("%.0f h", math.Ceil(s/3600)) }

func (m *March) zoneNames() string {
	var names []string
	for i := range m.mesh.Parts {
		names = append(names, m.mesh.Parts[i].Name)
	}
	return strings.Join(names, ", ")
}
