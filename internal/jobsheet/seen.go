package jobsheet

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
)

// Seen is what somebody saw of a piece, with what it comes to in words.
type Seen struct {
	Style   words.Style
	Account observe.Account
}

// SeenOf begins an account of a piece of this steel.
func SeenOf(style words.Style, s observe.Setting) (*Seen, error) {
	limits, err := micro.Equilibrium(s.Steel)
	if err != nil {
		return nil, err
	}
	s.Changes = observe.ChangesOf(limits, s.Steel[steel.C])
	return &Seen{Style: style, Account: observe.Account{Setting: s}}, nil
}

// Tell takes in one thing; the error is a sentence for whoever said it.
func (s *Seen) Tell(thing, said string) error {
	if s.Style.Language == words.British {
		said = strings.ReplaceAll(strings.ToLower(said), "skid", "skate") // as the sheet has it there
	}
	err := s.Account.Tell(thing, said)
	var m *observe.Misread
	if !errors.As(err, &m) {
		return err
	}
	code := "observe.not-a-word"
	if m.Said == "" {
		code = "observe.not-a-thing"
	}
	t := s.Style.Of(code, cite.Txt("thing", m.Thing), cite.Txt("said", fmt.Sprintf("%q", m.Said)), cite.Txt("legal", orList(m.Legal)))
	return errors.New(strings.TrimSuffix(t.Say+": "+t.Limits+". "+t.Remedy, ". "))
}

// orList lists words; those that hold commas are set apart by more.
func orList(all []string) string {
	by := ", "
	for _, w := range all {
		if strings.Contains(w, ",") {
			by = "; "
		}
	}
	return strings.Join(all, by)
}

// Found is one finding in words.
type Found struct {
	What    string // "Temperature"
	Range   string // "755–820 °C, most likely 785 °C"
	By      string // "by magnet=off, glow=cherry"
	Against string // a warning, or nothing
}

// Found returns what the account comes to.
func (s *Seen) Found() []Found {
	var all []Found
	say := func(code string, args ...cite.Quantity) string { return s.Style.Of("seen."+code, args...).Say }
	for _, f := range s.Account.Findings() {
		x := Found{What: say(strings.ReplaceAll(f.About, " ", "-")), By: say("from", cite.Txt("list", strings.Join(f.From, ", ")))}
		if f.Against[0].Said != "" {
			a, b := f.Against[0], f.Against[1]
			x.Range = say("no-answer")
			x.Against = say("against", cite.Txt("a", a.Said), cite.Txt("b", b.Said), cite.Txt("x", s.span(a.Range, f.Unit)), cite.Txt("y", s.span(b.Range, f.Unit)))
		} else {
			x.Range = s.span(f.Range, f.Unit)
		}
		all = append(all, x)
	}
	return all
}

// span says a range.
func (s *Seen) span(r observe.Range, u string) string {
	b := r.Band
	say := func(code string, args ...cite.Quantity) string { return s.Style.Of("seen."+code, args...).Say }
	switch {
	case r.Above:
		return say("at-least", cite.Num("low", b.Low, u))
	case r.Below:
		return say("at-most", cite.Num("high", b.High, u))
	}
	return say("likely", cite.Txt("low", s.Style.Range(b.Low, b.High, u)), cite.Num("value", b.Value, u))
}

// Notes are what has to be borne in mind with what was told.
func (s *Seen) Notes() []string {
	say := func(code string, args ...cite.Quantity) string { return s.Style.Of("seen."+code, args...).Say }
	found := s.Account.Findings()
	if len(found) == 0 {
		return []string{say("nothing")}
	}
	notes := []string{say("bands")}
	told := map[string]bool{}
	for _, f := range found {
		for _, line := range f.From {
			thing, _, _ := strings.Cut(line, "=")
			told[thing] = true
		}
	}
	for _, thing := range observe.Things {
		if !told[thing] {
			continue
		}
		switch {
		case thing == "glow" && s.Account.Light == nil:
			notes = append(notes, say("which-light"))
		case thing == "glow":
			notes = append(notes, s.keeps(found[0].Band.Value)...)
		case thing == "film":
			seconds := s.Account.Seconds
			if seconds <= 0 {
				seconds = 300
			}
			notes = append(notes, say("film", cite.Num("time", seconds, "s")))
		case thing == "file":
			notes = append(notes, say("file"))
		}
		if thing == "glow" && found[0].Below && found[0].Against[0].Said == "" {
			notes = append(notes, say("glow-is-hot", cite.Num("T", 500+273.15, "K")))
		}
	}
	return notes
}

// keeps says which step in temperature the eye tells from memory at T [K].
func (s *Seen) keeps(T float64) []string {
	glasses := color.NoGlasses
	if s.Account.Glasses != nil {
		glasses = *s.Account.Glasses
	}
	eye := color.NewEye(*s.Account.Light, glasses)
	for step := 5.0; step < 100; step += 5 {
		if observe.ToldApart(eye, T, T+step, true) {
			where := eye.Light.Where
			return []string{s.Style.Of("seen.keeps", cite.Txt("where", strings.ToUpper(where[:1])+where[1:]), cite.Num("step", step, "K-step")).Say}
		}
	}
	return nil // it does not glow there
}

// Beside compares the temperature that was seen with that of the plan at the end of
// a step.
func (s *Seen) Beside(step sim.Step) []string {
	low, high := spanOf(step)
	lines := []string{s.Style.Of("seen.plan-at", cite.Txt("step", step.Name), cite.Txt("range", s.Style.Range(low, high, "K"))).Say}
	for _, f := range s.Account.Findings() {
		switch {
		case f.About != "temperature":
		case f.Band.Low > high:
			lines = append(lines, s.Style.Of("seen.hotter").Say)
		case f.Band.High < low:
			lines = append(lines, s.Style.Of("seen.cooler").Say)
		default:
			lines = append(lines, s.Style.Of("seen.fits").Say)
		}
	}
	return lines
}

// spanOf returns the coldest and the hottest zone at the end of a step [K].
func spanOf(step sim.Step) (low, high float64) {
	low, high = math.Inf(1), math.Inf(-1)
	for _, z := range step.Zones {
		low, high = min(low, z.Temperature.Value+273.15), max(high, z.Temperature.Value+273.15)
	}
	return low, high
}

// Expected is what there is to see of a piece at the end of a step.
type Expected struct{ Step, Zone, Temperature, Looks, Magnet, File string }

// ExpectedOf tells of every step that takes time what eye, magnet and file would
// find at its end, at the first zone of the piece.
func ExpectedOf(style words.Style, h *sim.History, eye *color.Eye) []Expected {
	say := func(code string, args ...cite.Quantity) string { return style.Of("seen."+code, args...).Say }
	var all []Expected
	for _, st := range h.Steps {
		if len(st.Zones) == 0 || st.End <= st.Start {
			continue
		}
		z := st.Zones[0]
		T := z.Temperature.Value + 273.15
		x := Expected{Step: st.Name, Zone: z.Name, Temperature: style.Quantity(cite.Num("", T, "K"), ""), Looks: eye.HeatOf(T).String()}
		if film := color.TemperOf(z.Film.Value); x.Looks == color.NoGlow.String() && film > color.Bright && film < color.GreyFilm {
			x.Looks = say("polished", cite.Txt("film", film.String()))
		}
		x.Magnet = say("holds")
		if pull(h, z.Name, st.End) < micro.MagnetLost {
			x.Magnet = say("lets-go")
		}
		if T < 60+273.15 {
			hrc := math.NaN()
			if z.HardnessHRC != nil {
				hrc = z.HardnessHRC.Value
			}
			f, strokes := observe.FileWould(hrc, z.SoftSkin.Value*1e-3)
			x.File = say("file-at-once", cite.Txt("verdict", f.After.String()))
			if f.First != f.After {
				x.File = say("file-after", cite.Txt("first", f.First.String()), cite.Txt("verdict", f.After.String()), cite.Txt("strokes", fmt.Sprintf("%.0f–%.0f", strokes.Low, strokes.High)))
			}
		}
		all = append(all, x)
	}
	return all
}

// pull returns the pull of a magnet on a zone at a time, 1 = cold ferrite.
func pull(h *sim.History, zone string, t float64) float64 {
	for _, z := range h.Series.Zones {
		if z.Name != zone {
			continue
		}
		at := 1.0
		for i, s := range h.Series.Time {
			if s > t+1e-6 {
				break
			}
			at = z.Magnet[i]
		}
		return at
	}
	return 1
}
