package observe

import (
	"math"
	"slices"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// LeftOut tells how well the words of one printed table are met: by the charts as
// they are, which were settled on it too, and by charts settled on the others alone.
type LeftOut struct {
	Source cite.Key
	Rows   int
	Fit    Miss // as the charts are
	Law    Miss // the law of the film refitted without it, the corners between the words kept
	All    Miss // all that was settled refitted without it
}

// Miss is how far off a chart is.
type Miss struct {
	Bias float64 // mean of ours less theirs [K]
	Mean float64 // mean distance [K]
	In   int     // rows inside the bands
}

func (m *Miss) add(b unit.Band, T float64, rows int) {
	m.Bias += (b.Value - T) / float64(rows)
	m.Mean += math.Abs(b.Value-T) / float64(rows)
	if T >= b.Low && T <= b.High {
		m.In++
	}
}

// printedRow is a row of a table that was read, by the number of its word.
type printedRow struct {
	source cite.Key
	word   int
	T      float64 // [K]
}

// medians returns for each word the median of the authors but one, each counted
// once by the middle of what it prints; NaN where fewer than least name it.
func medians(rows []printedRow, words, least int, but cite.Key) []float64 {
	by := make([]map[cite.Key][]float64, words)
	for _, r := range rows {
		if r.source == but {
			continue
		}
		if by[r.word] == nil {
			by[r.word] = map[cite.Key][]float64{}
		}
		by[r.word][r.source] = append(by[r.word][r.source], r.T)
	}
	all := make([]float64, words)
	for w := range all {
		var mid []float64
		for _, ts := range by[w] {
			mid = append(mid, (slices.Min(ts)+slices.Max(ts))/2)
		}
		all[w] = math.NaN()
		if k := len(mid); k >= least {
			slices.Sort(mid)
			all[w] = (mid[(k-1)/2] + mid[k/2]) / 2
		}
	}
	return all
}

func sources(rows []printedRow) (all []cite.Key) {
	for _, r := range rows {
		if !slices.Contains(all, r.source) {
			all = append(all, r.source)
		}
	}
	return all
}

// LeftOutTempers leaves out the tables of temper colors that were read, one by one.
// The law has two constants and is a line of 1/T over the logarithm of what the film
// has grown, ln(x⁴ − x₀⁴); it is refitted to the medians of the other tables. With
// all refitted, the corners too: each word comes where the others have it, as far as
// two of them name it.
func LeftOutTempers(c steel.Composition) []LeftOut {
	const first = 2.5 // oxide of a fresh surface [nm]
	chart := make([]TemperRow, color.NumTempers)
	for _, r := range TemperChart(c, 300) {
		chart[r.Word] = r
	}
	var rows []printedRow
	for _, p := range color.PublishedTempers() {
		if w, ok := color.ParseTemper(p.Word); ok && p.ReadBy != cite.FromMemory {
			rows = append(rows, printedRow{p.Source, int(w), p.At + kelvin})
		}
	}
	grown := func(w int) float64 {
		x := color.Temper(w).Film().Value
		return math.Log(x*x*x*x - first*first*first*first)
	}
	// line fits 1/T = a + b·ln(growth) to temperatures by word.
	line := func(T []float64) (a, b float64) {
		var n, sx, sy, sxx, sxy float64
		for w, t := range T {
			if t > 0 && !math.IsInf(chart[w].T.High, 1) {
				x, y := grown(w), 1/t
				n, sx, sy, sxx, sxy = n+1, sx+x, sy+y, sxx+x*x, sxy+x*y
			}
		}
		b = (n*sxy - sx*sy) / (n*sxx - sx*sx)
		return (sy - b*sx) / n, b
	}
	ours := make([]float64, len(chart))
	for w := range chart {
		ours[w] = chart[w].T.Value
	}
	a0, b0 := line(ours)
	var all []LeftOut
	for _, source := range sources(rows) {
		others := medians(rows, len(chart), 2, source)
		a, b := line(others)
		out := LeftOut{Source: source}
		for _, r := range rows {
			if r.source == source {
				out.Rows++
			}
		}
		for _, r := range rows {
			if r.source != source {
				continue
			}
			as := chart[r.word].T
			law := 1/(1/as.Value+a-a0+(b-b0)*grown(r.word)) - as.Value
			free := law
			if m := others[r.word]; m > 0 {
				free = m - as.Value
			}
			out.Fit.add(as, r.T, out.Rows)
			out.Law.add(moved(as, law), r.T, out.Rows)
			out.All.add(moved(as, free), r.T, out.Rows)
		}
		all = append(all, out)
	}
	return all
}

func moved(b unit.Band, by float64) unit.Band {
	return unit.Band{Value: b.Value + by, Low: b.Low + by, High: b.High + by}
}

// LeftOutHeats leaves out the charts of glow that were read, one by one, and settles
// the corners between the words on the others: so that the middle of each word, with
// the light unknown, comes nearest to their median.
func LeftOutHeats() []LeftOut {
	var rows []printedRow
	for _, p := range color.PublishedHeats() {
		if h, ok := color.ParseHeat(p.Word); ok && p.ReadBy != cite.FromMemory {
			rows = append(rows, printedRow{p.Source, int(h), (p.From+p.To)/2 + kelvin})
		}
	}
	asIs := color.Corners()
	var all []LeftOut
	for _, source := range sources(rows) {
		others := medians(rows, int(color.NumHeats), 1, source)
		fitted := settle(asIs, others)
		out := LeftOut{Source: source}
		for _, r := range rows {
			if r.source == source {
				out.Rows++
			}
		}
		for _, r := range rows {
			if r.source == source {
				out.Fit.add(color.HeatBand(color.Heat(r.word)), r.T, out.Rows)
				out.All.add(color.HeatBandWith(fitted, color.Heat(r.word)), r.T, out.Rows)
			}
		}
		all = append(all, out)
	}
	return all
}

// settle moves corners, one after the other by ever smaller steps, while the middles
// of the words come nearer to the wanted temperatures.
func settle(corners []float64, want []float64) []float64 {
	corners = slices.Clone(corners)
	cost := func() (sum float64) {
		for h := color.FaintRed; h < color.White; h++ {
			if w := want[h]; w > 0 {
				d := color.HeatBandWith(corners, h).Value - w
				sum += d * d
			}
		}
		return sum
	}
	best := cost()
	for step := 2.0; step > 1.03; step = math.Sqrt(step) {
		for range 6 {
			for k := range corners {
				for _, f := range []float64{step, 1 / step} {
					was := corners[k]
					corners[k] *= f
					ordered := (k == 0 || corners[k] > 1.2*corners[k-1]) && (k == len(corners)-1 || 1.2*corners[k] < corners[k+1])
					if now := cost(); ordered && now < best {
						best = now
					} else {
						corners[k] = was
					}
				}
			}
		}
	}
	return corners
}
