package evidence

import (
	"context"
	"io/fs"
	"strings"

	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/medium"
	"github.com/heatwright/heatwright/skin"
	"github.com/heatwright/heatwright/steel"
)

// probeSet holds the fast oil against the precision table of the standard probe.
func probeSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("quantity", "low", "high", "scatter"); err != nil {
		return nil, err
	}
	c := medium.Probe{}.Quench(medium.Immersion{Kind: medium.FastOil, T: 50 + zero}.Law())
	get := map[string]float64{
		"max cooling rate": c.MaxRate, "temperature of max rate": c.AtMaxRate - zero, "rate at 300 C": c.Rate300,
		"time to 600 C": c.To600, "time to 400 C": c.To400, "time to 200 C": c.To200,
	}
	labs := newSample("quench_probe", "fast oil, between laboratories", "factor", "medium, fast oil at 50 °C")
	one := newSample("quench_probe", "fast oil, single operator", "factor", "medium, fast oil at 50 °C")
	for _, s := range []*sample{labs, one} {
		s.score.Factor = true
		s.score.Remark = "against the middle of the printed 2-sigma limits; errors are logarithms of ratios; the constants were fitted to this table"
	}
	for _, r := range t.rows {
		low, ok := r.num("low")
		high, ok2 := r.num("high")
		got, known := get[r.text("quantity")]
		s := labs
		if strings.HasPrefix(r.text("scatter"), "single") {
			s = one
		}
		if !ok || !ok2 || !known {
			s.leave("the quantity is not one of the probe's")
			continue
		}
		s.add(got, (low+high)/2)
		s.hit(got >= low && got <= high)
	}
	list := finish(labs, one)
	for i := range list {
		if s := &list[i]; s.Subset == labs.score.Subset && s.Within != nil {
			s.aim("all inside the limits between laboratories", *s.Within == 1)
		}
	}
	return list, nil
}

// transferSet sets our oils beside coefficients of two oils found by inverse
// analysis. The oils have no class, so this is no test of one of ours: it says
// whether ours are of the size of oils.
func transferSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("medium", "surface_c", "htc_w_m2k"); err != nil {
		return nil, err
	}
	s := newSample("quench_htc", "two mineral oils, fast oil of ours", "factor", "medium, fast oil at 50 °C")
	s.score.Factor = true
	s.score.Remark = "oils of unknown class, read in an abstract; errors are logarithms of ratios"
	at := func(k medium.Quenchant, T float64) float64 {
		f := &medium.Faces{T: []float64{T}, Eps: []float64{0.8}, R: []float64{0}, Wet: []float64{10}}
		q, dq := []float64{0}, []float64{0}
		medium.Immersion{Kind: k, T: 50 + zero}.Law().Fill(q, dq, f)
		return q[0] / (T - 50 - zero)
	}
	for _, r := range t.rows {
		T, ok := r.num("surface_c")
		h, ok2 := r.num("htc_w_m2k")
		if !ok || !ok2 || !strings.Contains(r.text("medium"), "oil") {
			s.leave("a liquid that this program does not have")
			continue
		}
		s.add(at(medium.FastOil, T+zero), h)
	}
	return finish(s), nil
}

// mediaSet holds all liquids against the probe ranges of their class, recalled.
func mediaSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("medium", "quantity", "low", "high"); err != nil {
		return nil, err
	}
	s := newSample("quench_media_ranges", "max cooling rate of the probe", "factor", "medium")
	s.score.Factor, s.score.Memory = true, true
	s.score.Remark = "ranges by class, recalled: order and rough size only"
	for _, r := range t.rows {
		law, ok := mediumNamed(r.text("medium"))
		low, ok2 := r.num("low")
		high, ok3 := r.num("high")
		if !ok || !ok2 || !ok3 || !strings.HasPrefix(r.text("quantity"), "max cooling rate") {
			s.leave("another probe, or a medium that this program does not have")
			continue
		}
		got := medium.Probe{}.Quench(law).MaxRate
		s.add(got, (low+high)/2)
		s.hit(got >= low && got <= high)
	}
	return finish(s), nil
}

func mediumNamed(name string) (medium.Law, bool) {
	at := func(k medium.Quenchant, c float64) (medium.Law, bool) {
		return medium.Immersion{Kind: k, T: c + zero, Salt: 10}.Law(), true
	}
	switch {
	case strings.HasPrefix(name, "slow"):
		return at(medium.SlowOil, 40)
	case strings.HasPrefix(name, "medium"):
		return at(medium.MediumOil, 50)
	case strings.HasPrefix(name, "fast"):
		return at(medium.FastOil, 50)
	case strings.HasPrefix(name, "canola"):
		return at(medium.VegetableOil, 60)
	case strings.HasPrefix(name, "water") && strings.Contains(name, "60 C"):
		return at(medium.Water, 60)
	case strings.HasPrefix(name, "water"):
		return at(medium.Water, 25)
	case strings.HasPrefix(name, "brine"):
		return at(medium.Brine, 20)
	}
	return nil, false
}

// chart is one published row of a color word.
type chart struct {
	source, word string // the word of package color
	at           float64
}

// others returns the mean over the charts of other authors for the word: how
// well people do who look into a book. ok is false where no other has it.
func others(all []chart, of chart) (at float64, ok bool) {
	n := 0
	for _, c := range all {
		if c.word == of.word && c.source != of.source {
			at += c.at
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	return at / float64(n), true
}

func wordsOf(list []color.Published) map[string]string {
	m := map[string]string{}
	for _, p := range list {
		if p.Word != "" {
			m[strings.ToLower(p.Printed)] = p.Word
		}
	}
	return m
}

// heatSet holds the words for glow against the published charts.
func heatSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("source", "colour", "from_c"); err != nil {
		return nil, err
	}
	make := func(subset string) *sample {
		s := newSample("heat_colors", subset, "°C", "color.HeatBand", rival{"mean of the other charts", "common-practice"})
		s.score.Band = "the band of each word, from a dark shop to a shady door"
		s.score.Remark = "authors differ by 100 °C on the same word, mostly because of a light that none of them states"
		return s
	}
	read, memory := make("charts read"), make("charts recalled")
	memory.score.Memory = true
	word := wordsOf(color.PublishedHeats())
	var all []chart
	for _, r := range t.rows {
		if w := word[strings.ToLower(r.text("colour"))]; w != "" {
			all = append(all, chart{r.text("source"), w, mid(r)})
		}
	}
	for _, r := range t.rows {
		w := word[strings.ToLower(r.text("colour"))]
		h, ok := color.ParseHeat(w)
		s := read
		if r.fromMemory() {
			s = memory
		}
		if !ok {
			s.leave("no word of ours")
			continue
		}
		b := color.HeatBand(h)
		addChart(s, all, chart{r.text("source"), w, mid(r)}, b.Value-zero, b.Low-zero, b.High-zero)
	}
	return finish(read, memory), nil
}

func addChart(s *sample, all []chart, c chart, value, low, high float64) {
	if o, ok := others(all, c); ok {
		s.addBand(value, low, high, c.at, o)
	} else {
		s.addBand(value, low, high, c.at)
	}
}

func mid(r record) float64 {
	from := r.or("from_c", 0)
	return (from + r.or("to_c", from)) / 2
}

// temperColorSet holds the words for temper colors after five minutes of heat.
func temperColorSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("source", "colour", "temperature_c"); err != nil {
		return nil, err
	}
	make := func(subset string) *sample {
		return newSample("temper_colors", subset, "°C", "skin.FilmTemperature of color.Temper, 5 min", rival{"mean of the other tables", "common-practice"}).claims(skin.Accuracy(), "skin.film")
	}
	read, memory := make("tables read"), make("tables recalled")
	memory.score.Memory = true
	word := wordsOf(color.PublishedTempers())
	var all []chart
	for _, r := range t.rows {
		if T, ok := r.num("temperature_c"); ok {
			all = append(all, chart{r.text("source"), word[strings.ToLower(r.text("colour"))], T})
		}
	}
	plain := steel.Composition{steel.C: 0.9, steel.Mn: 0.4, steel.Si: 0.2}
	for _, r := range t.rows {
		s := read
		if r.fromMemory() {
			s = memory
		}
		w := word[strings.ToLower(r.text("colour"))]
		temper, ok := color.ParseTemper(w)
		T, ok2 := r.num("temperature_c")
		if !ok || !ok2 {
			s.leave("no word of ours")
			continue
		}
		got := skin.FilmTemperature(plain, temper.Film().Value, 300) - zero
		if o, ok := others(all, chart{r.text("source"), w, T}); ok {
			s.add(got, T, o)
		} else {
			s.add(got, T)
		}
	}
	return finish(read, memory), nil
}

// filmSet holds film thickness by word against the classical table.
func filmSet(_ context.Context, t *table, _ fs.FS) ([]Score, error) {
	if err := t.needs("colour", "thickness_low_nm", "thickness_high_nm"); err != nil {
		return nil, err
	}
	s := newSample("temper_film_thickness", "all", "nm", "color.Temper.Film")
	s.score.Memory = true
	s.score.Remark = "the classical figures are optical thicknesses that neglect the phase jump at iron; ours are metric: a difference is expected"
	word := map[string]string{"yellow": "straw", "orange / red-yellow": "dark straw", "red-brown": "brown", "purple": "purple", "violet": "dark purple", "blue": "blue"}
	for _, r := range t.rows {
		w, ok := color.ParseTemper(word[strings.ToLower(r.text("colour"))])
		low, ok2 := r.num("thickness_low_nm")
		high, ok3 := r.num("thickness_high_nm")
		if !ok || !ok2 || !ok3 {
			s.leave("no word of ours")
			continue
		}
		s.add(w.Film().Value, (low+high)/2)
	}
	return finish(s), nil
}
