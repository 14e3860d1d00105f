package web

import (
	"context"
	"fmt"
	"math"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/observe"
	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// rule is a rule of the trade with what this piece's numbers say of it.
type rule struct {
	Said   string
	Answer []said
}

// rules answers the rules of the trade that bear on this piece, each with the
// piece's own numbers: what the rule is good for, and where it stops.
func (who reader) rules(ctx context.Context, a *worked, light color.Light, by *sayer) []rule {
	r := &ruling{who: who, by: by, a: a, h: a.history, light: light}
	setup, err := sim.Prepare(a.job)
	if err != nil {
		return nil
	}
	r.setup = setup
	r.heats()
	r.glow()
	r.quench()
	r.tempers()
	r.skin(ctx)
	r.charcoal()
	r.packing()
	r.forged(ctx)
	r.springs(ctx)
	r.habits()
	return r.all
}

// ruling gathers the rules that bear.
type ruling struct {
	who   reader
	by    *sayer
	a     *worked
	h     *sim.History
	setup *sim.Setup
	light color.Light
	all   []rule
}

func (r *ruling) tell(code string, args ...cite.Quantity) {
	code = "bench.rule-" + code
	t := r.who.Of(code, args...)
	r.all = append(r.all, rule{t.Short, r.by.say(r.who.Parts(tied(sentenceOf(t.Say)), code, args...))})
}

// heats: what is said of magnet, critical, soaking and repeats.
func (r *ruling) heats() {
	heat := hardening(r.h)
	if heat == nil {
		return
	}
	hot := kelvin("hot", heat.Peak.Temperature)
	if off, ok := signOf(r.h, string(sim.MagnetLetsGo)); ok {
		more := math.Max(0, heat.End-off.Time.Value)
		r.tell("magnet", kelvin("off", off.Temperature.Value), hot, secs("more", more))
	}
	if metal, err := micro.New(r.setup.Steel, r.setup.Limits); err == nil {
		start, end := metal.Limits().Ae1()
		r.tell("critical", cite.Num("start", start, "K"), cite.Num("end", math.Max(end, metal.Limits().Upper()), "K"), hot)
		if off, ok := signOf(r.h, string(sim.MagnetReturns)); ok && off.Temperature.Value > 400 {
			r.tell("falling", kelvin("back", off.Temperature.Value), cite.Num("end", end, "K"))
		}
	}
	if thick := float64(r.a.job.Finished().Thick().Value); thick > 0 {
		r.tell("hour-per-inch", secs("rule", 3600*thick/0.0254), secs("through", heat.Reached-heat.Start), secs("hold", heat.End-heat.Reached))
	}
	var grains []string
	heated := 0
	for i := range r.h.Steps {
		s := &r.h.Steps[i]
		if s.Role != sim.Heating {
			continue
		}
		heated++
		if z := zoneOf(s.Zones, "core", "edge", "point", "surface"); z != nil && z.Grain.Value > 0 {
			grains = append(grains, fmt.Sprintf("%.0f", z.Grain.Value))
		}
	}
	if z := zoneOf(r.h.Zones, workingZones...); z != nil && heated > 1 {
		r.tell("so-many-heats", cite.Txt("heats", fmt.Sprint(heated)), r.who.thin("loss", z.MetalLoss.Value), r.who.thin("skin", z.Decarb.Value))
	}
	if len(grains) > 1 {
		r.tell("thrice", cite.Txt("grains", strings.Join(grains, " → ")+" µm"))
	} else if len(grains) == 1 {
		r.tell("grain", cite.Txt("grain", grains[0]+" µm"))
	}
	r.salt(heat)
}

// salt: at the moment when salt melts on the surface, how far the core is.
func (r *ruling) salt(heat *sim.Step) {
	const melts = 801 // °C, of sodium chloride; from memory
	step := -1
	for i := range r.h.Steps {
		if &r.h.Steps[i] == heat {
			step = i
		}
	}
	outer, core := seriesOf(r.h, "edge", "point", "face", "surface"), seriesOf(r.h, "core", "spine", "shank", "blade")
	if outer == nil || core == nil || outer == core || heat.Peak.Temperature < melts {
		return
	}
	for i := range r.h.Series.Time {
		if r.h.Series.Step[i] == step && outer.Temperature[i] >= melts {
			r.tell("salt", cite.Txt("outer", outer.Name), cite.Txt("inner", core.Name), kelvin("core", core.Temperature[i]), secs("more", heat.End-r.h.Series.Time[i]))
			return
		}
	}
}

func seriesOf(h *sim.History, names ...string) *sim.ZoneSeries {
	for _, n := range names {
		for i := range h.Series.Zones {
			if h.Series.Zones[i].Name == n {
				return &h.Series.Zones[i]
			}
		}
	}
	return nil
}

// glow: what is said of colors that shine.
func (r *ruling) glow() {
	heat := hardening(r.h)
	if heat == nil {
		return
	}
	T := heat.Peak.Temperature + 273.15
	eye := color.NewEye(r.light, color.NoGlasses)
	word := eye.HeatOf(T)
	if b, ok := eye.Band(word); ok {
		r.tell("glow", cite.Txt("word", word.String()), cite.Txt("where", r.light.Where), cite.Txt("range", r.who.Range(b.Low, b.High, "K")), cite.Num("hot", T, "K"))
	}
	dark, sun := color.NewEye(color.Dark, color.NoGlasses), color.NewEye(color.Sun, color.NoGlasses)
	chart := observe.TemperChart(r.setup.Steel, 300)
	for _, row := range chart {
		if row.Word == color.GreyFilm {
			r.tell("where-glow-begins", cite.Num("grey", row.T.Value, "K"), cite.Num("dark", dark.Threshold(), "K"), cite.Num("sun", sun.Threshold(), "K"))
		}
	}
}

// quench: what is said of the way to the bath, of the bath and of what comes out.
func (r *ruling) quench() {
	q := lastQuenching(r.h)
	if q < 0 {
		r.slow()
		return
	}
	s := &r.h.Steps[q]
	if latest, ok := signOf(r.h, string(sim.LatestForOil)); ok {
		r.tell("second-lost", secs("latest", latest.Since.Value))
	}
	if q > 0 && r.h.Steps[q-1].Role == sim.Carrying {
		c := &r.h.Steps[q-1]
		if z := zoneOf(c.Zones, workingZones...); z != nil {
			r.tell("as-fast-as-you-can", secs("carry", c.End-c.Start), cite.Txt("zone", z.Name), kelvin("in", z.Temperature.Value), share("soft", z.Constituents.Pearlite))
		}
	}
	r.tell("oil-warms", cite.Txt("bath", s.Where.Name), kelvin("from", s.Where.Start), cite.Num("rise", s.Where.Peak-s.Where.Start, "K-step"))
	if r.a.spread != nil {
		for _, m := range r.a.spread.Moves {
			if m.Name != "bath_temperature" || len(m.Runs) < 2 {
				continue
			}
			cold, warm := zoneOf(m.Runs[0].Zones, workingZones...), zoneOf(m.Runs[1].Zones, workingZones...)
			if cold != nil && warm != nil {
				r.tell("warm-oil", kelvin("low", m.Runs[0].Steps[q].Where.Start), hardness("cold", cold), kelvin("high", m.Runs[1].Steps[q].Where.Start), hardness("warm", warm))
			}
		}
	}
	outer, end := zoneOf(s.Zones, "edge", "point", "face", "surface"), zoneOf(r.h.Zones, "edge", "point", "face", "surface")
	if outer != nil && end != nil {
		r.tell("file-skates", hardness("now", outer), r.who.thin("skin", outer.Decarb.Value), hardness("after", end))
		if c := outer.DissolvedC.Value; c < 0.6 {
			r.tell("ceiling", cite.Num("carbon", c, "wt%"), hardness("now", outer))
		}
		r.freezer(outer)
	}
}

// slow: what is said of a slow cooling.
func (r *ruling) slow() {
	for i := range r.h.Steps {
		s := &r.h.Steps[i]
		if s.Role != sim.Burying {
			continue
		}
		if z := zoneOf(s.Zones, "core", "surface", "edge"); z != nil {
			r.tell("buried", cite.Txt("box", s.Where.Name), share("pearlite", z.Constituents.Pearlite), hardness("hard", z))
		}
		return
	}
}

func lastQuenching(h *sim.History) int {
	for i := len(h.Steps) - 1; i >= 0; i-- {
		if h.Steps[i].Role == sim.Quenching {
			return i
		}
	}
	return -1
}

// tempers: what is said of tempering and its colors.
func (r *ruling) tempers() {
	var first, last *sim.Step
	for i := range r.h.Steps {
		if s := &r.h.Steps[i]; s.Role == sim.Tempering {
			if first == nil {
				first = s
			}
			last = s
		}
	}
	if first == nil {
		return
	}
	z1, z2 := zoneOf(first.Zones, workingZones...), zoneOf(last.Zones, workingZones...)
	if last != first && z1 != nil && z2 != nil {
		r.tell("twice", hardness("once", z1), hardness("again", z2))
	}
	r.tell("temper-through", secs("through", first.Reached-first.Start), secs("hold", first.End-first.Reached))
	if word, now, ok := temperColor(r.setup.Steel, last); ok {
		for _, row := range observe.TemperChart(r.setup.Steel, 300) {
			if row.Word == word && !math.IsInf(row.T.High, 0) {
				r.tell("temper-color", cite.Txt("word", word.String()), cite.Num("held", now, "K"), cite.Num("chart", row.T.Value, "K"))
			}
		}
	}
	if strings.Contains(r.a.job.Aim.Use, "spring") || r.a.job.Piece.Form == route.Spring {
		for _, row := range observe.TemperChart(r.setup.Steel, 300) {
			if row.Word.String() == "blue" || row.Word.String() == "full blue" {
				hv := micro.TemperedHardness(r.setup.Steel, []micro.Hold{{T: row.T.Value, Time: 300}})
				r.tell("blue-spring", cite.Num("blue", row.T.Value, "K"), cite.Num("hard", rockwell(hv), "HRC"))
				break
			}
		}
	}
	if a := r.h.Verdict.Aim; len(a) > 0 {
		r.tell("harder-is-better", cite.Txt("zone", a[0].Zone), cite.Txt("low", tens(a[0].Low)), cite.Txt("high", tens(a[0].High)), cite.Num("found", rockwell(a[0].Found.Value), "HRC"))
	}
}

// temperColor returns the color that bright steel shows after a temper, and the
// temperature that the temper was held at [K].
func temperColor(c steel.Composition, s *sim.Step) (color.Temper, float64, bool) {
	T := s.Peak.Temperature + 273.15
	best, gap := color.Temper(0), math.Inf(1)
	for _, row := range observe.TemperChart(c, math.Max(60, s.End-s.Reached)) {
		if d := math.Abs(row.T.Value - T); d < gap {
			best, gap = row.Word, d
		}
	}
	return best, T, gap < 20
}

// skin: what is said of scale, flames and charcoal.
func (r *ruling) skin(ctx context.Context) {
	z := zoneOf(r.h.Zones, workingZones...)
	if z != nil && z.Decarb.Value > 0.01 {
		r.tell("skin", r.who.thin("skin", z.Decarb.Value))
	}
	gas := false
	for i := range r.setup.Shop.Forges {
		gas = gas || strings.Contains(string(r.setup.Shop.Forges[i].Kind), "gas")
	}
	if !gas || r.setup.Steel[steel.C] < 0.3 {
		return
	}
	var said []cite.Quantity
	for _, flame := range []string{"rich", "lean"} {
		c := r.setup.Clone()
		for i := range c.Shop.Forges {
			c.Shop.Forges[i].Flame = shop.Flame(flame)
		}
		h, err := c.Run(ctx, sim.Options{Section: true, Across: 8, Through: 4, Quick: true, NoSeries: true}, nil)
		if err != nil {
			return
		}
		if z := zoneOf(h.Zones, workingZones...); z != nil {
			said = append(said, r.who.thin(flame+"-skin", z.Decarb.Value), r.who.thin(flame+"-loss", z.MetalLoss.Value))
		}
	}
	r.tell("rich-flame", said...)
}

// freezer: what the cold makes of what has stayed at the working zone, at once and
// after an hour.
func (r *ruling) freezer(z *sim.Zone) {
	heat := hardening(r.h)
	metal, err := micro.New(r.setup.Steel, r.setup.Limits)
	if kept := z.Constituents.RetainedAustenite; kept < 0.02 || heat == nil || err != nil {
		return
	}
	x := plan.Freeze(metal, r.setup.Start, heat.Peak.Temperature+273.15, heat.End-heat.Reached)
	kept := z.Constituents.RetainedAustenite // the cell stands for the piece by its share
	code := "freezer"
	if x.Restart == 0 {
		code = "freezer-late"
	}
	r.tell(code, share("kept", kept), share("after", kept*x.After/math.Max(x.Kept, 1e-9)), r.who.freezing(),
		cite.Txt("more", fmt.Sprintf("%.1f HRC", math.Max(0, rockwell(x.AfterHV)-rockwell(x.HV)))), cite.Num("again", x.Restart, "K"))
}

// freezing is what a home freezer holds, which is not said to the nearest five degrees.
func (who reader) freezing() cite.Quantity {
	if who.Units == unit.Imperial {
		return cite.Txt("freezer", "0 °F (−18 °C)")
	}
	return cite.Txt("freezer", "−18 °C (0 °F)")
}

// charcoal: how deep carbon could get into this piece at the very best. It bears on
// a fire of charcoal or coke and on oil.
func (r *ruling) charcoal() {
	heat, q := hardening(r.h), lastQuenching(r.h)
	if heat == nil {
		return
	}
	solid := false
	if f, ok := r.a.job.Shop.Forge(heat.Where.Name); ok {
		solid = f.Kind == "charcoal" || f.Kind == "coke"
	}
	oil := q >= 0 && strings.Contains(r.h.Steps[q].Where.Kind, "oil")
	if !solid && !oil {
		return
	}
	T := heat.Peak.Temperature + 273.15
	reach := 1000 * micro.CarbonReach(T, heat.End-heat.Start)
	if z := zoneOf(r.h.Zones, workingZones...); z != nil {
		args := []cite.Quantity{r.who.thin("reach", reach), secs("time", heat.End-heat.Start), cite.Num("hot", T, "K"), r.who.thin("lost", z.Decarb.Value)}
		if oil {
			args = append(args, cite.Txt("oil", fmt.Sprintf("%.1f µm", 1e6*micro.CarbonReach(1023.15, 2))), cite.Num("two", 2, "s"), cite.Num("at", 1023.15, "K"))
		}
		r.tell("charcoal", args...)
	}
}

// packing: how long the edge gives for it, and what the hardening heat makes of it.
func (r *ruling) packing() {
	heat, p := hardening(r.h), r.a.job.Piece
	if heat == nil || !p.Edge.Is() || lastQuenching(r.h) < 0 {
		return
	}
	edge, back := float64(p.Edge.Value), float64(p.Thick().Value)
	b, err := plan.Packing(r.setup.Steel, edge+(back-edge)/6, 0.01)
	z := zoneOf(heat.Zones, workingZones...)
	if err != nil || z == nil {
		return
	}
	r.tell("packing", cite.Num("from", plan.PackFrom, "K"), cite.Num("to", plan.PackTo, "K"), cite.Txt("seconds", r.who.TimeRange(b.Low, b.Value, b.High)), micron("grain", z.Grain.Value))
}

// forged: the same ending with and without forging heats.
func (r *ruling) forged(ctx context.Context) {
	z := zoneOf(r.h.Zones, workingZones...)
	switch r.a.job.Piece.Form {
	case route.Flat, route.Round, route.Square, route.Hex, route.Octagon:
		return
	}
	if z == nil || lastQuenching(r.h) < 0 {
		return
	}
	f, ok, err := plan.ForgedOrNot(ctx, r.a.job, z.Name)
	if err != nil || !ok {
		return
	}
	r.tell("forged", cite.Txt("zone", z.Name), micron("forged-grain", f.With.Grain.Value), hardness("forged", &f.With), r.who.thin("forged-skin", f.With.Decarb.Value),
		micron("ground-grain", f.Without.Grain.Value), hardness("ground", &f.Without), r.who.thin("ground-skin", f.Without.Decarb.Value))
}

// springs: what tells the steels of old springs apart. It bears where the steel is
// not known, or goes by the name that every spring is given.
func (r *ruling) springs(ctx context.Context) {
	m := r.a.job.Steel[0]
	if !m.Unknown && (m.Grade != "5160" || m.Certificate != "" || m.Composition != "") {
		return
	}
	all, err := plan.Coupons(ctx)
	if err != nil {
		return
	}
	var list []string
	say := func(x float64) string {
		if math.IsNaN(x) {
			return "<20"
		}
		return fmt.Sprintf("%.0f", x)
	}
	for _, c := range all {
		list = append(list, fmt.Sprintf("%s %s/%s", c.Steel, say(c.Oil), say(c.Water)))
	}
	r.tell("springs", cite.Txt("list", strings.Join(list, ", ")), cite.Num("thick", 0.005, "m"))
}

// habits: what repeats is what helps, and of all that may differ this moves the piece most.
func (r *ruling) habits() {
	if lastQuenching(r.h) < 0 {
		return
	}
	if t := r.who.moves(r.a, r.by); len(t.Rows) > 0 {
		what := t.Rows[0][0][0].Text
		r.tell("north", cite.Txt("what", strings.ToLower(what[:1])+what[1:]), cite.Txt("span", t.Rows[0][1][0].Text))
	}
}

func signOf(h *sim.History, name string) (sim.Sign, bool) {
	for i := len(h.Signs) - 1; i >= 0; i-- {
		if string(h.Signs[i].Name) == name {
			return h.Signs[i], true
		}
	}
	return sim.Sign{}, false
}

// hardening returns the last heating before a quench.
func hardening(h *sim.History) *sim.Step {
	var heat *sim.Step
	for i := range h.Steps {
		switch h.Steps[i].Role {
		case sim.Heating:
			heat = &h.Steps[i]
		case sim.Quenching:
			return heat
		}
	}
	return heat
}

func zoneOf(zones []sim.Zone, names ...string) *sim.Zone {
	for _, n := range names {
		for i := range zones {
			if zones[i].Name == n {
				return &zones[i]
			}
		}
	}
	return nil
}
