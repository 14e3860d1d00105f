package sim

import (
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/shop"
	"github.com/heatwright/heatwright/steel"
	"github.com/heatwright/heatwright/unit"
)

// HistoryFormat is the first key of every history. Within /1 things are only added.
const HistoryFormat = "heatwright.history/1"

// History is all that became of one piece on its route, at the named zones of
// the piece: what was, when it was, and how far to trust it. It holds no seen
// color, for that depends on the light, only what a color is computed from.
// Every estimate is a band: the value with its 10th and 90th percentile.
type History struct {
	Format    string `json:"format"`
	Engine    Engine `json:"engine"`
	JobSHA256 string `json:"job_sha256"`
	Name      string `json:"name"`
	Demo      bool   `json:"demo"`
	Mesh      Mesh   `json:"mesh"`

	Zones    []Zone      `json:"zones"`    // at the end of the route
	Steps    []Step      `json:"steps"`    // in the order of the route, repeats written out
	Signs    []Sign      `json:"signs"`    // in the order of time
	Verdict  Verdict     `json:"verdict"`  // does it harden, and does it meet the aim
	Notes    []cite.Note `json:"notes"`    // models outside their range, assumptions
	Cautions []cite.Note `json:"cautions"` // hazards, each on its step
	Series   Series      `json:"series"`
	Balance  Balance     `json:"balance"`

	Shop []shop.Kept `json:"shop,omitempty"` // the equipment in use as this piece left it, for the next
}

// Engine says what computed the history.
type Engine struct {
	Name    string `json:"name"`
	Version string `json:"version"`
	Build   string `json:"build,omitempty"` // revision of the source
	Data    string `json:"data,omitempty"`  // hash of the embedded data
}

// Mesh says how finely the piece was cut up.
type Mesh struct {
	Mode     string  `json:"mode"` // "section" (2-D, for typing and sampling) or "whole" (3-D, for what is printed)
	Cells    int     `json:"cells"`
	Mirrored bool    `json:"mirrored,omitempty"` // both halves of the thickness are alike, and one was marched
	Steps    int     `json:"time_steps"`
	Again    int     `json:"rejected_steps"`
	Mass     float64 `json:"mass_kg"` // of the whole piece
}

// Constituents holds mass fractions [–] that sum to 1.
type Constituents struct {
	Austenite         float64 `json:"austenite"`
	RetainedAustenite float64 `json:"retained_austenite"`
	Martensite        float64 `json:"martensite"`
	Pearlite          float64 `json:"pearlite"`
	Bainite           float64 `json:"bainite"`
	Ferrite           float64 `json:"ferrite"`
	Carbide           float64 `json:"carbide"`
}

// Of returns the fraction of one constituent [–].
func (c *Constituents) Of(k steel.Constituent) float64 { return *c.at(k) }

func (c *Constituents) at(k steel.Constituent) *float64 {
	switch k {
	case steel.Austenite:
		return &c.Austenite
	case steel.RetainedAustenite:
		return &c.RetainedAustenite
	case steel.Martensite:
		return &c.Martensite
	case steel.Pearlite:
		return &c.Pearlite
	case steel.Bainite:
		return &c.Bainite
	case steel.Ferrite:
		return &c.Ferrite
	case steel.Carbide:
		return &c.Carbide
	}
	panic("sim: no such constituent")
}

// Hardened returns martensite plus retained austenite [–]: the share that the quench has caught.
func (c *Constituents) Hardened() float64 { return c.Martensite + c.RetainedAustenite }

// Zone is the state of one zone of the piece at one moment.
type Zone struct {
	Name         string       `json:"name"`
	Temperature  unit.Band    `json:"temperature_c"`
	HardnessHV   unit.Band    `json:"hardness_hv"`
	HardnessHRC  *unit.Band   `json:"hardness_hrc"` // null below 20 HRC
	Constituents Constituents `json:"constituents"`
	// Spread holds the 10th and 90th percentile of each constituent, where the
	// spread was computed: value = Constituents.
	Spread     *ConstituentSpread `json:"constituents_spread,omitempty"`
	DissolvedC unit.Band          `json:"dissolved_c_wt"` // carbon in the austenite, or in what came of it
	Grain      unit.Band          `json:"grain_um"`
	Decarb     unit.Band          `json:"decarb_mm"`    // depth to 90 % of the bar's carbon
	SoftSkin   unit.Band          `json:"soft_skin_mm"` // stays soft to a file however it is quenched
	Scale      unit.Band          `json:"scale_um"`
	Film       unit.Band          `json:"film_nm"` // oxide on a spot polished before the temper, for temper color
	MetalLoss  unit.Band          `json:"metal_loss_mm"`
	Toughness  *Toughness         `json:"toughness,omitempty"`     // where it is hardened
	Growth     *unit.Band         `json:"length_change,omitempty"` // where it is hardened: against soft-annealed, cold [–]
}

// ConstituentSpread holds the low and high percentile of each fraction.
type ConstituentSpread struct {
	Low  Constituents `json:"low"`
	High Constituents `json:"high"`
}

// Step is one stage of the route as it went: one surrounding until one ending,
// or one act. A step of the job that heats and then cools is two of them, and
// one that repeats is as many more.
type Step struct {
	Name    string    `json:"name"`           // as the job names it; else its verb
	Verb    string    `json:"verb"`           // of the job's step
	Role    Role      `json:"role"`           // what this stage of it is to the piece
	JobStep int       `json:"job_step"`       // index of the step in the job, from 0
	Turn    int       `json:"turn,omitempty"` // 1, 2 … where a step repeats
	Turns   int       `json:"turns,omitempty"`
	Start   float64   `json:"start_s"`
	End     float64   `json:"end_s"`
	Seconds unit.Band `json:"duration_s"`
	Zones   []Zone    `json:"zones"` // at its end
	Where   Where     `json:"surrounding"`
	Ending  string    `json:"ending"`          // "time", "temperature", "at heat", or the sign that ended it
	Reached float64   `json:"reached_s"`       // when the ending was met and the hold began [s]
	Joules  float64   `json:"heat_out_j"`      // heat that left the whole piece; negative: taken in [J]
	Peak    Peak      `json:"peak"`            // hottest moment of the step
	Crack   *Crack    `json:"crack,omitempty"` // of a quench: how many signs of a crack it raises
}

// Role is what a stage is to the piece.
type Role string

// The roles.
const (
	Heating   Role = "heating"   // in a fire, pipe, oven above critical
	Holding   Role = "holding"   // in an oven below critical
	Tempering Role = "tempering" // in an oven after the quench
	Carrying  Role = "carrying"  // through the air to the bath
	Quenching Role = "quenching" // in a bath
	Cooling   Role = "cooling"   // in air
	Burying   Role = "burying"   // in a box, or in an oven that is switched off
	Working   Role = "working"   // out of the fire, under the hammer
	Acting    Role = "acting"    // the shape changes
)

// Where tells the surrounding of a step at its start and end.
type Where struct {
	Name  string  `json:"name"`
	Kind  string  `json:"kind"`
	Start float64 `json:"start_temperature_c"`
	End   float64 `json:"end_temperature_c"`
	Peak  float64 `json:"peak_temperature_c"`
}

// Peak is the hottest zone of a step.
type Peak struct {
	Zone        string  `json:"zone"`
	Temperature float64 `json:"temperature_c"`
	Time        float64 `json:"time_s"`
}

// Sign is something that can be seen, felt or heard at the work, or a moment
// that it has to be ready for.
type Sign struct {
	Name        SignName  `json:"name"`
	Zone        string    `json:"zone"`
	Step        int       `json:"step"` // index into Steps
	Time        unit.Band `json:"time_s"`
	Since       unit.Band `json:"since_step_s"` // seconds since the step began
	Temperature unit.Band `json:"temperature_c"`
}

// Verdict is the one answer that stands at the top of the sheet. Code is one of
// the Verdict constants.
type Verdict struct {
	Code       string      `json:"code"`
	Likelihood float64     `json:"likelihood"`                // that the code is true [–]
	Zone       string      `json:"zone,omitempty"`            // the weakest, or the one that decides
	Medium     string      `json:"medium,omitempty"`          // name of the bath
	Aim        []AimMet    `json:"aim,omitempty"`             // each wish of the job, the least likely first
	Hardened   *unit.Band  `json:"hardened,omitempty"`        // martensite + retained austenite there after the quench [–]
	AsQuenched *unit.Band  `json:"as_quenched_hrc,omitempty"` // hardness there after the quench, null below 20
	Remedies   []cite.Note `json:"remedies,omitempty"`        // "do this instead", the best first
	Advice     []cite.Note `json:"advice,omitempty"`          // what to know beside it, whatever it is, the gravest first
}

// What a verdict can be.
const (
	HardensThrough  = "hardens_through"
	HardensEdge     = "hardens_edge_only" // the edge or surface, not the core
	DoesNotHarden   = "does_not_harden"
	NotForAnEdge    = "not_for_an_edge" // too little carbon, whatever the quench
	DrawsSoft       = "draws_soft"      // files and drills
	StaysHard       = "stays_hard"      // the file bites, do not drill
	NoHardeningStep = "no_hardening_step"
)

// AimMet compares the end with a wish of the job.
type AimMet struct {
	Zone       string     `json:"zone"`
	Low        float64    `json:"aim_low_hv"`
	High       float64    `json:"aim_high_hv"`
	Found      unit.Band  `json:"found_hv"`
	FoundHRC   *unit.Band `json:"found_hrc"`
	Likelihood float64    `json:"likelihood"` // that the zone ends inside the aim [–]
}

// Series holds time histories at the zones.
type Series struct {
	Time  []float64    `json:"time_s"`
	Step  []int        `json:"step"` // index into Steps
	Bath  []float64    `json:"surrounding_c"`
	Zones []ZoneSeries `json:"zones"`
}

// ZoneSeries is one zone through time; every slice is as long as Series.Time.
type ZoneSeries struct {
	Name        string    `json:"name"`
	Temperature []float64 `json:"temperature_c"`
	Hardness    []float64 `json:"hardness_hv"`
	Austenite   []float64 `json:"austenite"` // with retained austenite
	Martensite  []float64 `json:"martensite"`
	Pearlite    []float64 `json:"pearlite"`
	Bainite     []float64 `json:"bainite"`
	DissolvedC  []float64 `json:"dissolved_c_wt"`
	Grain       []float64 `json:"grain_um"`
	Film        []float64 `json:"film_nm"`
	Scale       []float64 `json:"scale_um"`
	Magnet      []float64 `json:"magnet"` // pull on a magnet, 1 = cold ferrite
}

// Balance says how well what must be conserved was conserved, each as a share
// of what was turned over. A run over 1e-6 in any of them fails.
type Balance struct {
	Energy    float64 `json:"energy"`
	Carbon    float64 `json:"carbon"`
	Iron      float64 `json:"iron"`
	Fractions float64 `json:"fractions"`
}

// Set writes the fraction of one constituent [–].
func (c *Constituents) Set(k steel.Constituent, v float64) { *c.at(k) = v }
