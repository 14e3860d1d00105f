package web

import (
	"context"
	"errors"
	"io"
	"net/http"
	"testing"

	"github.com/heatwright/heatwright/plan"
	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/unit"
)

func readAll(t *testing.T, r *http.Response) string {
	t.Helper()
	text, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

func closed(t *testing.T, r *http.Response) {
	t.Helper()
	if err := r.Body.Close(); err != nil {
		t.Error(err)
	}
}

// A job packed into an address comes out the same.
func TestPackKeepsTheJob(t *testing.T) {
	for _, u := range plan.Uses() {
		w, err := readSentence(map[string][]string{"make": {u.Name}}, unit.Metric).wish(unit.Metric)
		if err != nil {
			t.Fatal(err)
		}
		job, _, err := plan.Draft(w)
		if err != nil {
			t.Fatal(err)
		}
		back, problems, err := unpack(pack(job))
		if err != nil || len(problems) > 0 {
			t.Fatalf("%s: %v %v", u.Name, err, problems)
		}
		if string(route.Write(back)) != string(route.Write(job)) {
			t.Errorf("%s: the job came out otherwise", u.Name)
		}
	}
}

func FuzzUnpack(f *testing.F) {
	f.Add("")
	f.Add("dJLNjpwwDIDvfgor9x2Fn2Wnhz1V")
	f.Fuzz(func(_ *testing.T, j string) {
		_, _, _ = unpack(j) // must come back, whatever it is given
	})
}

// A field of the plan writes to the place of the job that it is named after.
func TestSetWritesToItsPlace(t *testing.T) {
	job := route.Job{Steel: []route.Metal{{}}, Steps: []route.Step{{Do: route.Heat}, {Do: route.Temper}}, Shop: route.Shop{Baths: []route.Bath{{}}}}
	for place, read := range map[string]func() string{
		"piece, spine":        func() string { return job.Piece.Spine.Text },
		"steel, grade":        func() string { return job.Steel[0].Grade },
		"step 2, at":          func() string { return job.Steps[1].At.Text },
		"step 1, over":        func() string { return job.Steps[0].Over.Text },
		"step 1, into, edge":  func() string { return job.Steps[0].Into.Edge.Text },
		"step 1, until":       func() string { return job.Steps[0].Until.Text },
		"shop, bath 1, warm":  func() string { return job.Shop.Baths[0].Warm.Text },
		"aim, hardness, edge": func() string { return job.Aim.Hardness[0].Band.Text },
	} {
		if !set(&job, place, "x y") || read() != "x y" {
			t.Errorf("%s was not written", place)
		}
	}
	for _, place := range []string{"", "step 3, at", "step 0, at", "piece", "nothing", "steel, nothing", "step x, at"} {
		if set(&job, place, "x") {
			t.Errorf("%q is no place, and was written", place)
		}
	}
}

// The aim by use is the usual hardness at a zone that the piece has, and what is
// added to the shop has a name of its own.
func TestUsualAimAndOwnedGear(t *testing.T) {
	job := route.Job{Piece: plan.UsualPiece(route.Punch, unit.Metric), Aim: route.Aim{Use: "Cold chisel"}}
	if !apply(&job, "usual") || job.Aim.Hardness[0].Zone != "point" || job.Aim.Hardness[0].Band.Text != "54-58 HRC" {
		t.Errorf("the usual aim is %+v", job.Aim)
	}
	job.Aim.Use = "nothing in particular"
	if apply(&job, "usual") {
		t.Error("a use that nobody knows has no usual hardness")
	}
	for _, what := range owned {
		for range 2 {
			if !apply(&job, "own "+what) {
				t.Errorf("%s was not added", what)
			}
		}
	}
	names := map[string]bool{}
	for _, verb := range []route.Verb{route.Heat, route.Quench, route.Bury} {
		for _, n := range places(job.Shop, verb) {
			if names[n] {
				t.Errorf("%s is there twice", n)
			}
			names[n] = true
		}
	}
	if len(names) != 2*len(owned) {
		t.Errorf("%d of %d things were added", len(names), 2*len(owned))
	}
}

// Whoever stops an answer gets the cores back, and hears before that how far it is.
func TestStopFreesTheCores(t *testing.T) {
	s := newSmithy(sim.Engine{Name: "heatwright", Version: "test"})
	job := exampleJobs(t)["knife"]
	for _, want := range []depth{section, whole} {
		ctx, stop := context.WithCancel(context.Background())
		told := 0
		_, err := s.work(ctx, job, want, func(share float64) {
			told++
			if share > 0.1 {
				stop()
			}
		})
		if !errors.Is(err, context.Canceled) || told == 0 {
			t.Errorf("%s: after a stop it says %v, and was told of %d times", want, err, told)
		}
		if !s.cores.TryAcquire(2) {
			t.Fatalf("%s: the cores are still at work", want)
		}
		s.cores.Release(2)
		stop()
	}
}
