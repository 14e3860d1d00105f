package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/cheggaaa/pb/v3"
	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/color"
	"github.com/heatwright/heatwright/internal/drawing"
	"github.com/heatwright/heatwright/internal/jobsheet"
	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

type runCmd struct {
	Job     string `arg:"" help:"The job file; - reads it from standard input."`
	JSON    string `name:"json" placeholder:"FILE" help:"Write all that was computed as JSON; - writes it to standard output instead of the sheet."`
	Sheet   string `placeholder:"FILE" help:"Write the sheet for print: FILE.html or FILE.pdf."`
	Section bool   `help:"Compute one cross-section instead of the whole piece: faster, for trying things out."`
	Field   string `placeholder:"DIR" help:"Write the inside of the piece at the end of each step into this folder: a picture and a mesh file (legacy VTK) each."`
	Look    string `placeholder:"DIR" help:"Write the piece at the end of each step into this folder as it looks in that light: svg and png."`
	When    string `placeholder:"TIMES" help:"Moments for --look and --field beside the ends of steps, counted from the first fire: \"90 s, 4 min\"."`
	Light   string `help:"Light for --look: dark, dim, shade, daylight or sun." default:"dim"`
	After   string `placeholder:"FILE" help:"Begin with the shop as the piece before left it: the file that its --json wrote."`
	Pause   string `placeholder:"TIME" default:"10 min" help:"How long after it."`
	Back    bool   `help:"Show the back of the sheet too: reasons, the other unit, notes."`
}

func (c *runCmd) Run(d *desk) error {
	if err := c.check(); err != nil {
		return err
	}
	job, err := d.readJob(c.Job)
	if err != nil {
		return err
	}
	eye, err := c.eye()
	if err != nil {
		return err
	}
	var fields []*sim.Field
	var keep func(*sim.Field)
	if c.Field != "" || c.Look != "" {
		keep = func(f *sim.Field) { fields = append(fields, f) }
	}
	moments, err := c.moments()
	if err != nil {
		return err
	}
	o := sim.Options{Section: c.Section, Fields: keep, Moments: moments}
	if err := c.after(&o); err != nil {
		return err
	}
	h, err := d.work(job, o)
	if err != nil {
		return err
	}
	style := d.style(job.Units)
	sheet := jobsheet.Compose(job, h, style)
	outputs, err := c.render(h, sheet)
	if err != nil {
		return err
	}
	if n := len(moments); n > 0 && moments[n-1] > h.Steps[len(h.Steps)-1].End {
		return inputError("--when: the job is over %s after the first fire", style.Seconds(h.Steps[len(h.Steps)-1].End))
	}
	for _, f := range fields {
		if c.Field != "" {
			drawField(outputs, c.Field, f)
		}
		if c.Look != "" {
			drawLook(outputs, c.Look, f, &h.Steps[f.Step], eye, style)
		}
	}
	if err := writeAll(outputs); err != nil {
		return err
	}
	if c.JSON == "-" {
		_, err = d.out.Write(encode(h))
		return outside(err)
	}
	return outside(sheet.Terminal(d.out, c.Back))
}

func outside(err error) error {
	if err != nil {
		return outsideError("the output cannot be written: %w", err)
	}
	return nil
}

func (c *runCmd) check() error {
	for _, name := range []string{c.JSON, c.Sheet} {
		if folder := filepath.Dir(name); name != "" && name != "-" {
			if f, err := os.Stat(folder); err != nil || !f.IsDir() {
				return inputError("there is no folder %s to write to", folder)
			}
		}
	}
	for _, folder := range []string{c.Field, c.Look} {
		if f, err := os.Stat(folder); folder != "" && (err != nil || !f.IsDir()) {
			return inputError("there is no folder %s to write to", folder)
		}
	}
	switch ext := strings.ToLower(filepath.Ext(c.Sheet)); {
	case c.Sheet == "" || ext == ".html" || ext == ".htm" || ext == ".pdf":
		return nil
	default:
		return inputError("the sheet is written as .html or .pdf, not as %q: name the file so", ext)
	}
}

// after takes the state of the shop from the results of the piece before.
func (c *runCmd) after(o *sim.Options) error {
	if c.After == "" {
		return nil
	}
	text, err := os.ReadFile(c.After)
	if err != nil {
		return outsideError("%s cannot be read: %w", c.After, plain(err))
	}
	var before sim.History
	if err := json.Unmarshal(text, &before); err != nil || before.Format != sim.HistoryFormat {
		return inputError("%s holds no results of a piece: write them with heatwright run JOB --json FILE", c.After)
	}
	pause, err := unit.ParseDuration(c.Pause)
	if err != nil {
		return inputError("%w", err)
	}
	o.Shop, o.Pause = before.Shop, float64(pause)
	return nil
}

// work marches the job and shows how far it is to whoever waits longer than a second.
func (d *desk) work(job route.Job, o sim.Options) (*sim.History, error) {
	sum := sha256.Sum256(route.Write(job.Whole()))
	o.Engine, o.JobSHA256 = engine(), hex.EncodeToString(sum[:])
	watch, done := d.progress()
	h, err := forecast(d.ctx, job, o, watch)
	done()
	return h, classify(err)
}

// progress returns a watcher that draws a bar on standard error, if a person
// sits there, once the work takes over a second.
func (d *desk) progress() (watch func(share float64, what string), done func()) {
	if !terminal(d.err) {
		return nil, func() {}
	}
	start := time.Now()
	var bar *pb.ProgressBar
	watch = func(share float64, what string) {
		if bar == nil && time.Since(start) > time.Second {
			bar = pb.New(1000).SetWriter(d.err).SetTemplateString(`{{string . "what"}} {{bar . }} {{percent . "%.0f %%"}}`)
			bar.Start()
		}
		if bar != nil {
			bar.Set("what", what)
			bar.SetCurrent(int64(1000 * share))
		}
	}
	return watch, func() {
		if bar != nil {
			bar.Finish()
		}
	}
}

// moments reads --when, in the order of time [s].
func (c *runCmd) moments() ([]float64, error) {
	if c.When == "" {
		return nil, nil
	}
	if c.Look == "" && c.Field == "" {
		return nil, inputError("--when goes with --look or --field: say where the pictures go")
	}
	var times []float64
	for _, text := range strings.Split(c.When, ",") {
		t, err := unit.ParseDuration(strings.TrimSpace(text))
		if err != nil {
			return nil, inputError("--when: %w", err)
		}
		times = append(times, float64(t))
	}
	slices.Sort(times)
	return times, nil
}

// eye reads the light of --look.
func (c *runCmd) eye() (*color.Eye, error) {
	light, err := color.ParseLight(c.Light)
	if err != nil {
		return nil, inputError("--light: %s", strings.TrimPrefix(err.Error(), "color: "))
	}
	return color.NewEye(light, color.NoGlasses), nil
}

// drawLook makes the two files of a look, 03-quench.svg and 03-quench.png, with the
// colors of spots that were polished before a temper.
func drawLook(files map[string][]byte, folder string, f *sim.Field, step *sim.Step, eye *color.Eye, style words.Style) {
	temp := func(T float64) string { return style.Quantity(cite.Num("", T, "K"), "") }
	say := func(code string) string { return style.Of("seen."+code, cite.Txt("where", eye.Light.Where)).Say }
	code := "seen.look"
	if f.Moment > 0 {
		code, step = "seen.moment", &sim.Step{}
	}
	lines := []string{style.Of(code, cite.Txt("step", f.Name), cite.Num("time", f.Time, "s")).Say}
	var spots []string
	for _, z := range step.Zones {
		if film := color.TemperOf(z.Film.Value); film > color.Bright && z.Temperature.Value+zeroC < eye.Threshold() {
			spots = append(spots, z.Name+" "+film.String())
		}
	}
	if len(spots) > 0 {
		lines = append(lines, style.Of("seen.spots", cite.Txt("list", strings.Join(spots, ", "))).Say)
	}
	d := drawing.Look(f, eye, color.Scales{Temperature: temp, Time: style.Seconds}, say("from-the-side"), say("cut-across"), lines...)
	name := fileOf(folder, f)
	files[name+".svg"], files[name+".png"] = []byte(d.SVG()), d.PNG(2)
}

// fileOf names the files of a step, 03-quench, or of a moment within it, 03-quench-412s.
func fileOf(folder string, f *sim.Field) string {
	name := fmt.Sprintf("%02d-%s", f.Step+1, fileName(f.Name))
	if f.Moment > 0 {
		name += fmt.Sprintf("-%.0fs", f.Moment)
	}
	return filepath.Join(folder, name)
}

// fileName keeps of a name what every disk takes.
func fileName(name string) string {
	return strings.Map(func(r rune) rune {
		if r == '-' || r >= '0' && r <= '9' || r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' {
			return r
		}
		return '-'
	}, name)
}

// drawField makes the two files of a field: 03-quench.png and 03-quench.vtk.
func drawField(files map[string][]byte, folder string, f *sim.Field) {
	name := fileOf(folder, f)
	var picture, mesh bytes.Buffer
	if err := errors.Join(drawing.WriteField(&picture, f), f.WriteVTK(&mesh)); err != nil {
		panic(fmt.Sprintf("field: %v", err)) // memory takes everything: a fault of ours
	}
	files[name+".png"], files[name+".vtk"] = picture.Bytes(), mesh.Bytes()
}

// render makes all files in memory, so that a job that fails writes none.
func (c *runCmd) render(h *sim.History, s *jobsheet.Sheet) (map[string][]byte, error) {
	files := map[string][]byte{}
	if c.JSON != "" && c.JSON != "-" {
		files[c.JSON] = encode(h)
	}
	if c.Sheet != "" {
		var b bytes.Buffer
		draw := s.HTML
		if strings.EqualFold(filepath.Ext(c.Sheet), ".pdf") {
			draw = s.PDF
		}
		if err := draw(&b); errors.Is(err, jobsheet.ErrOverflow) {
			return nil, inputError("the front of the sheet does not fit on one side: use shorter names, or fewer steps")
		} else if err != nil {
			return nil, err
		}
		files[c.Sheet] = b.Bytes()
	}
	return files, nil
}

// encode returns the history as JSON with its stable names.
func encode(h *sim.History) []byte {
	text, err := json.MarshalIndent(h, "", "  ")
	if err != nil {
		panic(fmt.Sprintf("history: %v", err)) // a number that is none: a fault of ours
	}
	return append(text, '\n')
}

// writeAll writes every file beside its name first and only then gives the names,
// so that nobody reads half of one, or one without the other.
func writeAll(files map[string][]byte) error {
	parts := map[string]string{} // name of the part by that of the file
	defer func() {
		for _, part := range parts {
			os.Remove(part) //nolint:errcheck // gone already when all went well
		}
	}()
	for name, text := range files {
		part, err := writePart(name, text)
		if part != "" {
			parts[name] = part
		}
		if err != nil {
			return outsideError("%s cannot be written: %w", name, plain(err))
		}
	}
	for name, part := range parts {
		if err := os.Rename(part, name); err != nil {
			return outsideError("%s cannot be written: %w", name, plain(err))
		}
	}
	return nil
}

func writePart(name string, text []byte) (part string, err error) {
	f, err := os.CreateTemp(filepath.Dir(name), ".heatwright-*")
	if err != nil {
		return "", err
	}
	_, err = f.Write(text)
	if e := f.Chmod(0o644); err == nil {
		err = e
	}
	if e := f.Close(); err == nil {
		err = e
	}
	return f.Name(), err
}
