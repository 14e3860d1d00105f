package evidence

import (
	"math"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/cite"
)

// Report is what came of one run over a folder of data.
type Report struct {
	Format string   `json:"format"`
	Engine string   `json:"engine,omitempty"`
	Sets   []Score  `json:"sets"`
	Absent []string `json:"absent,omitempty"` // files of the layout that the folder does not hold
	Faults []string `json:"faults,omitempty"` // files that could not be read
}

// ReportFormat names the form of the report.
const ReportFormat = "heatwright.evidence/1"

// Score is how far a model was off on one subset of one data set. Errors are
// predicted minus measured; for sets of times, diameters and the like they are
// natural logarithms of the ratio when Factor is set, printed as factors.
type Score struct {
	Name        string       `json:"name"`
	Subset      string       `json:"subset"`
	Unit        string       `json:"unit"`
	RowsUsed    int          `json:"rows_used"`
	RowsLeftOut int          `json:"rows_left_out"`
	MeanError   float64      `json:"mean_error"`
	MAE         float64      `json:"mae"`
	RMS         float64      `json:"rms"`
	Median      float64      `json:"median"`             // of the absolute error
	P90         float64      `json:"p90"`                // of the absolute error
	Inside      *float64     `json:"inside_stated_band"` // share; null where no band is stated
	Competitors []Competitor `json:"competitors"`

	Claim   string         `json:"claim,omitempty"`       // the accuracy that is tested, by its model's id
	Model   string         `json:"model"`                 // what was held against the data
	Band    string         `json:"stated_band,omitempty"` // as the model claims it
	Memory  bool           `json:"from_memory"`           // recalled, so reported and not gated
	Factor  bool           `json:"factor,omitempty"`      // the errors are logarithms of ratios
	LeftOut map[string]int `json:"left_out_reasons,omitempty"`
	Within  *float64       `json:"inside_published_band,omitempty"` // share of rows inside the limits that the source prints
	Reach   string         `json:"reach,omitempty"`                 // the figure aimed for
	Reached *bool          `json:"reached,omitempty"`
	Remark  string         `json:"remark,omitempty"`
	Seen    string         `json:"settled_on_open_rows,omitempty"` // what of the model was settled on the open rows of this set

	Points   []Point `json:"-"` // for the drawing
	bandHalf float64 // of the stated band where it is the same for all rows
}

// Competitor is a published formula on the same rows.
type Competitor struct {
	Name string  `json:"name"`
	MAE  float64 `json:"mae"`
	RMS  float64 `json:"rms"`
	P90  float64 `json:"p90"`

	Median float64  `json:"median"`
	Source cite.Key `json:"source,omitempty"`
	Within *float64 `json:"inside_published_band,omitempty"`
}

// Point is one row as computed and as measured.
type Point struct{ Measured, Predicted float64 }

// sample collects the rows of one subset.
type sample struct {
	score   Score
	half    float64 // of the stated band, 0: none
	errs    []float64
	inside  []bool
	rivals  []rival
	against [][]float64 // errors of the rivals
	within  []bool
	rivalIn [][]bool
}

// rival is a published formula by name and source.
type rival struct {
	name   string
	source cite.Key
}

func newSample(name, subset, unit, model string, rivals ...rival) *sample {
	return &sample{
		score:   Score{Name: name, Subset: subset, Unit: unit, Model: model},
		rivals:  rivals,
		against: make([][]float64, len(rivals)),
		rivalIn: make([][]bool, len(rivals)),
	}
}

// claims takes the stated band from the accuracy that the model exports.
func (s *sample) claims(all []cite.Accuracy, model string) *sample {
	for _, a := range all {
		if a.Model == model {
			s.half = a.Half
			s.score.Claim = model
			if a.Factor {
				s.half = math.Log(a.Half)
				s.score.Band = "×/÷ " + digits(a.Half)
			} else {
				s.score.Band = "±" + digits(a.Half) + " " + a.Unit
			}
		}
	}
	return s
}

// add counts one row. A prediction that is no number is left out with a reason.
func (s *sample) add(predicted, measured float64, rivals ...float64) {
	if math.IsNaN(predicted) || math.IsInf(predicted, 0) {
		s.leave("the model gave no answer")
		return
	}
	s.score.Points = append(s.score.Points, Point{measured, predicted})
	s.errs = append(s.errs, s.off(predicted, measured))
	if s.half > 0 {
		s.inside = append(s.inside, math.Abs(s.off(predicted, measured)) <= s.half)
	}
	for i, r := range rivals {
		if i < len(s.against) && !math.IsNaN(r) && !math.IsInf(r, 0) {
			s.against[i] = append(s.against[i], s.off(r, measured))
		}
	}
}

// addBand counts one row whose model states its own band for it.
func (s *sample) addBand(predicted, low, high, measured float64, rivals ...float64) {
	half := s.half
	s.half = 0
	before := len(s.errs)
	s.add(predicted, measured, rivals...)
	if len(s.errs) > before {
		s.inside = append(s.inside, measured >= low && measured <= high)
	}
	s.half = half
}

// hit counts whether the model, and each rival, lies inside limits that the source prints.
func (s *sample) hit(model bool, rivals ...bool) {
	s.within = append(s.within, model)
	for i, r := range rivals {
		if i < len(s.rivalIn) {
			s.rivalIn[i] = append(s.rivalIn[i], r)
		}
	}
}

// leave counts a row that is not used.
func (s *sample) leave(reason string) {
	if s.score.LeftOut == nil {
		s.score.LeftOut = map[string]int{}
	}
	s.score.LeftOut[reason]++
	s.score.RowsLeftOut++
}

func (s *sample) off(predicted, measured float64) float64 {
	if s.score.Factor {
		return math.Log(predicted / measured)
	}
	return predicted - measured
}

// done returns the score of the rows counted.
func (s *sample) done() Score {
	c := s.score
	c.bandHalf = s.half
	st := statsOf(s.errs)
	c.RowsUsed = len(s.errs)
	c.MeanError, c.MAE, c.RMS, c.Median, c.P90 = st.mean, st.mae, st.rms, st.median, st.p90
	c.Inside = share(s.inside)
	c.Within = share(s.within)
	c.Competitors = []Competitor{}
	for i, r := range s.rivals {
		if len(s.against[i]) == 0 && len(s.rivalIn[i]) == 0 {
			continue
		}
		st := statsOf(s.against[i])
		c.Competitors = append(c.Competitors, Competitor{Name: r.name, MAE: st.mae, RMS: st.rms, P90: st.p90, Median: st.median, Source: r.source, Within: share(s.rivalIn[i])})
	}
	return c
}

// best returns the least mean absolute error of the competitors.
func (c *Score) best() float64 {
	mae := math.Inf(1)
	for _, r := range c.Competitors {
		mae = min(mae, r.MAE)
	}
	return mae
}

// aim records the figure aimed for and whether it was reached.
func (c *Score) aim(text string, ok bool) {
	if c.RowsUsed == 0 {
		return
	}
	c.Reach, c.Reached = text, &ok
}

type stats struct{ mean, mae, rms, median, p90 float64 }

// statsOf returns the statistics of errors; zeros for none.
func statsOf(errs []float64) stats {
	var s stats
	if len(errs) == 0 {
		return s
	}
	abs := make([]float64, len(errs))
	for i, e := range errs {
		abs[i] = math.Abs(e)
		s.mean += e
		s.mae += abs[i]
		s.rms += e * e
	}
	n := float64(len(errs))
	s.mean, s.mae, s.rms = s.mean/n, s.mae/n, math.Sqrt(s.rms/n)
	sort.Float64s(abs)
	s.median, s.p90 = quantile(abs, 0.5), quantile(abs, 0.9)
	return s
}

// quantile interpolates linearly in a rising list.
func quantile(sorted []float64, q float64) float64 {
	p := q * float64(len(sorted)-1)
	i := int(p)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (p-float64(i))*(sorted[i+1]-sorted[i])
}

func share(list []bool) *float64 {
	if len(list) == 0 {
		return nil
	}
	n := 0
	for _, ok := range list {
		if ok {
			n++
		}
	}
	x := float64(n) / float64(len(list))
	return &x
}

// id is the set and subset in one word, for file names.
func (c *Score) id() string {
	words := strings.FieldsFunc(strings.ToLower(c.Name+" "+c.Subset), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	return strings.Join(words, "-")
}
