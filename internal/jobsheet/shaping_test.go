package jobsheet

import (
	"strings"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
)

// Passes, holes and bends are said in the reader's units, one line each; more
// than one pass is one line on the front and all of them on the back.
func TestShapingIsSaid(t *testing.T) {
	plain, h := handMade()
	start := "[[step]]\ndo = \"heat\"\nin = \"pipe\"\nuntil = \"magnet off\"\nhold"
	steps := func(text string) route.Job {
		whole := strings.Replace(string(route.Write(plain)), start, text+"\n"+start, 1)
		job, problems := route.Parse([]byte(whole), nil)
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, whole)
		}
		return job
	}
	pass := "[[step]]\ndo = \"forge\"\nin = \"pipe\"\nuntil = \"780 C at core\"\ntimes = 2\nwork = \"15 s\"\n"
	for _, c := range []struct {
		step             string
		metric, imperial string
	}{
		{pass + "over = \"30 mm\"\nthickness = \"2 mm\"\n", "Forge twice: Pipe, core to 780 °C; first 30 mm to 2 mm thick; 15 s out of the fire.", "first 1-3/16 in to"},
		{pass + "from = \"20 mm\"\nover = \"30 mm\"\nwidth = \"20 mm\"\nthickness = \"2 mm\"\n", "30 mm from 20 mm on to 20 mm × 2 mm;", "from 25/32 in on"},
		{pass + "width = \"20 mm\"\n", "all of it to 20 mm wide;", "all of it to 25/32 in wide"},
		{"[[step]]\ndo = \"drill\"\nfrom = \"20 mm\"\ndiameter = \"4 mm\"\nacross = \"9 mm\"\n", "Drill 4 mm, 20 mm from end, 9 mm from back.", "Drill 5/32 in"},
		{"[[step]]\ndo = \"bend\"\nfrom = \"20 mm\"\nover = \"60 mm\"\nangle = \"-12 deg\"\nway = \"hard\"\n", "Bend 12° the hard way over 60 mm from 20 mm on: cold.", "over 2-3/8 in"},
		{"[[step]]\ndo = \"bend\"\nin = \"pipe\"\nuntil = \"magnet off\"\nfrom = \"20 mm\"\nover = \"30 mm\"\nangle = \"12 deg\"\n", "Bend 12° over 30 mm from 20 mm on: Pipe, until the magnet lets go.", "Bend 12°"},
	} {
		job := steps(c.step)
		for n, want := range []string{c.metric, c.imperial} {
			if got := (&composer{job: job, h: h, style: styles[n], fire: findFire(job), lines: map[string]*Line{}, said: map[string]bool{}}).workLine(0).Text; !strings.Contains(plainSpaces(got), want) {
				t.Errorf("%q does not say %q", got, want)
			}
		}
	}
	two := steps(pass + "over = \"30 mm\"\nthickness = \"2 mm\"\n" + pass + "from = \"50 mm\"\nthickness = \"2 mm\"\n")
	s := Compose(two, h, styles[0])
	var front, back []string
	for _, b := range s.Front {
		for _, l := range b.Lines {
			front = append(front, plainSpaces(l.Text))
		}
	}
	for _, b := range s.Back {
		for _, l := range b.Lines {
			back = append(back, plainSpaces(l.Text))
		}
	}
	if f := strings.Join(front, "\n"); strings.Count(f, "Forge") != 1 || !strings.Contains(f, "Forge the blade in 4 heats, as overleaf.") {
		t.Errorf("the front says\n%s", f)
	}
	if strings.Count(strings.Join(back, "\n"), "Forge twice:") != 2 {
		t.Errorf("the back says\n%s", strings.Join(back, "\n"))
	}
}

// Where the job does not say how long a heat is worked, the longest of the history's turns is told.
func TestTimeAtTheAnvil(t *testing.T) {
	c := &composer{job: route.Job{Steps: []route.Step{{Do: route.Forge}}}, h: &sim.History{Steps: []sim.Step{
		{Role: sim.Heating, Turn: 1, End: 100}, {Role: sim.Working, Turn: 1, Start: 100, End: 104}, {Role: sim.Acting, Turn: 1, Start: 104, End: 104}, {Role: sim.Working, Turn: 1, Start: 104, End: 108},
		{Role: sim.Heating, Turn: 2, Start: 108, End: 150}, {Role: sim.Working, Turn: 2, Start: 150, End: 156}, {Role: sim.Acting, Turn: 2, Start: 156, End: 156}, {Role: sim.Working, Turn: 2, Start: 156, End: 162},
	}}}
	if got := c.atAnvil(0); got != 12 {
		t.Errorf("%g s at the anvil, want 12", got)
	}
}
