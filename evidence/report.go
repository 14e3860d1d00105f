package evidence

import (
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"github.com/heatwright/heatwright/cite"
)

// digits writes a number with three figures and no exponent.
func digits(x float64) string {
	if x == 0 {
		return "0"
	}
	d := 2 - int(math.Floor(math.Log10(math.Abs(x))))
	if d < 0 {
		d = 0
	}
	d = min(d, 4)
	return strconv.FormatFloat(x, 'f', d, 64)
}

// size writes an error in the unit of the score; logarithms of ratios as factors.
func (c *Score) size(x float64) string {
	if c.Factor {
		return "×" + digits(math.Exp(x))
	}
	return digits(x)
}

func percent(x *float64) string {
	if x == nil {
		return "–"
	}
	return fmt.Sprintf("%.0f %%", *x*100)
}

// Write prints the report as a page of Markdown: what is weak first, then every
// set with its competitors, then what was left out.
func (r *Report) Write(w io.Writer) error {
	p := &printer{w: w}
	p.f("# Evidence: how far the models are off\n\n")
	p.f("Written by `heatwright evidence`. Errors are computed minus measured. The models are run as they\n")
	p.f("are shipped; the published formulas beside them are run on the same rows. MAE is the mean absolute\n")
	p.f("error, median and 90 %% are of the absolute error; × marks sets whose errors are ratios. *Inside* is\n")
	p.f("the share of rows inside the band that the model states, which should be near 80 %%.\n")
	p.f("Sets marked *recalled* were written down from memory and are shown, not counted as proof.\n\n")
	p.f(daggerMeans)
	r.weak(p)
	p.f(blind)
	r.figures(p)
	r.details(p)
	r.claims(p)
	r.leftOut(p)
	r.sources(p)
	return p.err
}

// blind names what the models say and no data set here can confirm.
const blind = `## What no data here can tell

- How fast bainite forms in O1 and its kin; how much of it a thin blade has after oil or air. The law is
  shaped by a handful of targets, not by measurements of these steels.
- How long carbide takes to dissolve in spheroidized bars of O1, 1095, W1, 80CrV2. One second-hand
  series on 52100 stands behind it.
- How hard an edge under 1 mm is quenched: no probe resolves it.
- How deep a forge decarburizes, how much a piece warps, whether it cracks, how tough it is.
- What a person sees: color words are held against charts that do not say in which light they were made.

`

type printer struct {
	w   io.Writer
	err error
}

func (p *printer) f(format string, args ...any) {
	if p.err == nil {
		_, p.err = fmt.Fprintf(p.w, format, args...)
	}
}

// weak lists what a reader has to know before he believes the rest.
func (r *Report) weak(p *printer) {
	p.f("## What is weak\n\n")
	n := 0
	for i := range r.Sets {
		s := &r.Sets[i]
		var faults []string
		if s.Reached != nil && !*s.Reached {
			faults = append(faults, "does not reach "+s.Reach)
		}
		if best := s.best(); best < s.MAE && s.RowsUsed > 0 {
			faults = append(faults, fmt.Sprintf("a published formula does better (%s against %s)", s.size(best), s.size(s.MAE)))
		}
		if s.Inside != nil && s.RowsUsed >= 10 && *s.Inside < 0.70 {
			faults = append(faults, fmt.Sprintf("the stated band %s holds only %s of the rows", s.Band, percent(s.Inside)))
		}
		if s.Inside != nil && s.RowsUsed >= 100 && *s.Inside > 0.93 {
			faults = append(faults, fmt.Sprintf("the stated band %s is wider than need be (%s inside)", s.Band, percent(s.Inside)))
		}
		if s.Within != nil && *s.Within < 0.7 && s.Reached == nil {
			faults = append(faults, fmt.Sprintf("only %s of the rows lie inside the limits that the source prints, mean error %s", percent(s.Within), s.size(s.MeanError)))
		}
		if len(faults) == 0 {
			continue
		}
		n++
		p.f("- **%s, %s**%s: %s.\n", s.Name, s.Subset, recalled(s), strings.Join(faults, "; "))
	}
	if n == 0 {
		p.f("Nothing in this run fell short of its figure, its band or its competitors.\n")
	}
	for _, f := range r.Faults {
		p.f("- Not scored: %s\n", f)
	}
	if len(r.Absent) > 0 {
		p.f("- Not in the folder: %s.\n", strings.Join(r.Absent, ", "))
	}
	p.f("\n")
}

func recalled(s *Score) string {
	if s.Memory {
		return " (recalled)"
	}
	return ""
}

// figures is the table of all sets.
func (r *Report) figures(p *printer) {
	p.f("## Figures\n\n| set | subset | unit | rows | left out | mean | MAE | RMS | median | 90 %% | band | inside | in limits | aim |\n")
	p.f("|---|---|---|---:|---:|---:|---:|---:|---:|---:|---|---:|---:|---|\n")
	for i := range r.Sets {
		s := &r.Sets[i]
		aim := ""
		if s.Reached != nil {
			aim = map[bool]string{true: "reached: ", false: "**not reached**: "}[*s.Reached] + s.Reach
		}
		p.f("| %s%s%s | %s | %s | %d | %d | %s | %s | %s | %s | %s | %s | %s | %s | %s |\n", s.Name, s.dagger(), recalled(s), s.Subset, s.Unit, s.RowsUsed, s.RowsLeftOut,
			s.size(s.MeanError), s.size(s.MAE), s.size(s.RMS), s.size(s.Median), s.size(s.P90), first(s.Band, "–"), percent(s.Inside), percent(s.Within), aim)
	}
	p.f("\n")
}

// details sets the competitors beside each model.
func (r *Report) details(p *printer) {
	p.f("## Beside the published formulas\n\n| set | subset | what | MAE | RMS | median | 90 %% | in limits |\n|---|---|---|---:|---:|---:|---:|---:|\n")
	for i := range r.Sets {
		s := &r.Sets[i]
		if len(s.Competitors) == 0 {
			continue
		}
		p.f("| %s%s%s | %s | **%s** | %s | %s | %s | %s | %s |\n", s.Name, s.dagger(), recalled(s), s.Subset, s.Model, s.size(s.MAE), s.size(s.RMS), s.size(s.Median), s.size(s.P90), percent(s.Within))
		for _, c := range s.Competitors {
			p.f("| | | %s | %s | %s | %s | %s | %s |\n", c.Name, s.size(c.MAE), s.size(c.RMS), s.size(c.Median), s.size(c.P90), percent(c.Within))
		}
	}
	p.f("\n")
}

// leftOut tells what was not used and what to keep in mind.
func (r *Report) leftOut(p *printer) {
	p.f("## Remarks, and rows left out\n\n")
	for i := range r.Sets {
		s := &r.Sets[i]
		if s.Remark == "" && s.Seen == "" && s.RowsLeftOut == 0 {
			continue
		}
		p.f("- %s, %s:", s.Name, s.Subset)
		if s.Remark != "" {
			p.f(" %s.", s.Remark)
		}
		if s.Seen != "" {
			p.f(" settled on these rows: %s.", s.Seen)
		}
		for _, why := range sortedKeys(s.LeftOut) {
			p.f(" %d left out: %s.", s.LeftOut[why], why)
		}
		p.f("\n")
	}
	p.f("- Not scored: grossmann_h.csv, %s; jominy_band_compositions.csv holds %s.\n\n", unscored["grossmann_h.csv"], unscored["jominy_band_compositions.csv"])
}

func (r *Report) sources(p *printer) {
	used := map[string]int{}
	for i := range r.Sets {
		for _, c := range r.Sets[i].Competitors {
			used[string(c.Source)]++
		}
	}
	p.f("## Sources of the published formulas\n\n")
	for _, k := range sortedKeys(used) {
		if s, ok := cite.Find(cite.Key(k)); ok {
			p.f("- %s\n", s)
		}
	}
}
