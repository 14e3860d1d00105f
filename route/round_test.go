package route

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"
)

// Every limit in the tags can be read, and stands around the example of its kind or not at all.
func TestTagsOfTheTypesAreRight(t *testing.T) {
	seen := map[reflect.Type]bool{}
	var walk func(reflect.Type)
	walk = func(ty reflect.Type) {
		if seen[ty] {
			return
		}
		seen[ty] = true
		for f := range fields(ty) {
			ft := ty.FieldByIndex(f.index).Type
			if q, ok := reflect.New(ft).Interface().(quantity); ok {
				if f.min != "" && !(limit(q, f.min) < limit(q, f.max)) {
					t.Errorf("%v.%s: limits %s to %s", ty, f.key, f.min, f.max)
				}
				continue
			}
			for ft.Kind() == reflect.Slice {
				ft = ft.Elem()
			}
			if ft.Kind() == reflect.Struct && ft.NumField() > 0 && ft.Field(0).Tag.Get("key") != "" {
				walk(ft)
			}
			if f.doc == "" && ty != reflect.TypeOf(Station{}) && ty != reflect.TypeOf(Tang{}) {
				t.Errorf("%v.%s has no help", ty, f.key)
			}
		}
	}
	walk(reflect.TypeOf(Job{}))
	if len(seen) < 10 {
		t.Errorf("only %d types were walked", len(seen))
	}
}

// Parse(Write(job)) = job, for jobs of any form and any steps.
func TestWrittenJobsAreReadBackTheSame(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob(t)
		text := Write(job)
		again, problems := Parse(text, nil)
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, text)
		}
		if d := cmp.Diff(job, again); d != "" {
			t.Fatalf("%s\n%s", d, text)
		}
	})
}

func given[T any](t *rapid.T, _ Given[T], texts ...string) Given[T] {
	var g Given[T]
	if err := g.set(rapid.SampledFrom(texts).Draw(t, "text")); err != nil {
		t.Fatal(err)
	}
	return g
}

func maybe[T any](t *rapid.T, kind Given[T], texts ...string) Given[T] {
	if rapid.Bool().Draw(t, "left out") {
		return Given[T]{}
	}
	return given(t, kind, texts...)
}

func ending(t *rapid.T, texts ...string) Ending {
	e, err := ParseEnding(rapid.SampledFrom(texts).Draw(t, "ending"), "")
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func anyJob(t *rapid.T) Job {
	words := rapid.StringMatching("[ -~äµ°\"\\\\]{0,20}")
	job := Job{
		Format: 1, Name: "x" + words.Draw(t, "name"), Mark: rapid.StringMatching("[|/-]{0,12}").Draw(t, "mark"), Demo: rapid.Bool().Draw(t, "demo"),
		Units: rapid.SampledFrom([]string{"", "metric", "imperial"}).Draw(t, "units"), Notes: rapid.StringMatching("[ -~\t\n\"\\\\]{0,40}").Draw(t, "notes"),
		Piece: anyPiece(t), Steel: []Metal{{Grade: "O1", Condition: Annealed, Bar: words.Draw(t, "bar")}},
		Aim: Aim{Use: words.Draw(t, "use")},
	}
	job.Shop = Shop{
		Name: words.Draw(t, "shop"), Air: maybe(t, Temp{}, "68 F", "8 °C"),
		Forges: []Fire{{Name: "fire", Kind: "gas", Holds: maybe(t, Temp{}, "1150 C"), Open: true}},
		Ovens:  []Oven{{Name: "kiln", Kind: "kiln", Offset: maybe(t, TempStep{}, "11 K", "-5 K", "20 F")}},
		Baths:  []Bath{{Name: "oil", Kind: "slow oil", Volume: maybe(t, Volume{}, "5 gal", "20 L"), Warm: maybe(t, Temp{}, "50 C")}},
		Boxes:  []Box{{Name: "drum", Fill: "sand", Damp: rapid.Bool().Draw(t, "damp")}},
		Fans:   []Fan{{Name: "fan", Speed: maybe(t, AirSpeed{}, "3 m/s", "600 fpm")}},
		Room:   Room{Length: maybe(t, Length{}, "9 m", "30 ft"), Air: maybe(t, AirFlow{}, "1800 m3/h")},
	}
	for _, z := range job.Piece.Zones() {
		if rapid.Bool().Draw(t, "wish") {
			job.Aim.Hardness = append(job.Aim.Hardness, Wish{z, given(t, Hardness{}, "58-60 HRC", "Rc 60", "under 28 HRC", "500 HV")})
		}
	}
	job.Steps = []Step{{Do: Heat, In: "fire", Until: ending(t, "magnet off", "815 C at core", "10 min", "a ten count", "1475 °F at core"), Hold: maybe(t, Duration{}, "2 min", "90 s")}}
	for range rapid.IntRange(0, 6).Draw(t, "steps") {
		job.Steps = append(job.Steps, anyStep(t))
	}
	for i := range job.Steps {
		e := &job.Steps[i].Until
		if e.Kind != ByTemp {
			continue
		}
		text, _, _ := strings.Cut(e.Text, " at ")
		*e = ending(t, text+" at "+job.Piece.Zones()[0])
	}
	return job
}

// tools are one of each form that is neither bar nor blade. Invented sizes.
var tools = func() map[Form]Piece {
	l := func(text string) Length {
		var g Length
		if err := g.set(text); err != nil {
			panic(err)
		}
		return g
	}
	return map[Form]Piece{
		Chisel:    {Form: Chisel, Length: l("180 mm"), Stock: "octagon", Across: l("3/4 in"), Taper: l("70 mm"), EdgeWidth: l("22 mm"), Edge: l("2 mm")},
		Punch:     {Form: Punch, Length: l("120 mm"), Stock: "round", Across: l("12 mm"), Taper: l("40 mm"), Point: l("3 mm")},
		Drawknife: {Form: Drawknife, Length: l("10 in"), Width: l("35 mm"), Spine: l("5 mm"), Edge: l("0.6 mm"), Bevel: l("12 mm"), TangLength: l("100 mm"), TangWidth: l("12 mm")},
		Spring:    {Form: Spring, Length: l("400 mm"), Width: l("50 mm"), Middle: l("6 mm"), Ends: l("3 mm")},
		Froe:      {Form: Froe, Length: l("250 mm"), Width: l("50 mm"), Spine: l("8 mm"), Edge: l("2 mm"), Eye: l("35 mm"), Wall: l("6 mm")},
		Hatchet: {
			Form: Hatchet, Length: l("150 mm"), Poll: l("50 mm"), PollThick: l("25 mm"), Eye: l("40 mm"), EyeWide: l("18 mm"), EyeAt: l("35 mm"),
			Cheek: l("30 mm"), EdgeHeight: l("90 mm"), Edge: l("1.5 mm"),
		},
		Hammer: {
			Form: Hammer, Length: l("100 mm"), Stock: "octagon", Across: l("30 mm"), Body: l("30 mm"), Eye: l("25 mm"), EyeWide: l("16 mm"), EyeAt: l("50 mm"),
			PeenWidth: l("30 mm"), PeenThick: l("6 mm"),
		},
	}
}()

// Every tool has a body, with the zones that aims and endings may name.
func TestToolsHaveBodiesAndZones(t *testing.T) {
	for form, p := range tools {
		s, err := p.Solid()
		if err != nil {
			t.Errorf("%s: %v", form, err)
			continue
		}
		for _, z := range p.Zones() {
			if _, ok := s.Zone(z); !ok {
				t.Errorf("%s: the body has no zone %q", form, z)
			}
		}
	}
	if len(tools) < 7 {
		t.Errorf("only %d tools", len(tools))
	}
}

func anyPiece(t *rapid.T) Piece {
	p := Piece{Form: rapid.SampledFrom(Forms()).Draw(t, "form"), Length: given(t, Length{}, "150 mm", "6 in", "0.3 m")}
	tool, ok := tools[p.Form]
	if ok {
		return tool
	}
	switch p.Form {
	case Flat:
		p.Width, p.Thickness = given(t, Length{}, "1-1/2 in", "40 mm"), given(t, Length{}, "1/4 in", "6,4 mm")
	case Round:
		p.Diameter = given(t, Length{}, "Ø16 mm", "5/8 in", "16 mm")
	case Blade:
		p.Width, p.Spine, p.Edge = given(t, Length{}, "28 mm", "1-1/8 in"), given(t, Length{}, "3 mm", "1/8 in"), given(t, Length{}, "0.8 mm", "1/32 in")
		p.SpineTip, p.Bevel = maybe(t, Length{}, "2 mm"), maybe(t, Length{}, "12 mm")
		p.Sides = rapid.IntRange(0, 2).Draw(t, "sides")
		if rapid.Bool().Draw(t, "tang") {
			p.Tang = Tang{given(t, Length{}, "90 mm"), given(t, Length{}, "12 mm"), given(t, Length{}, "3 mm")}
		}
		if rapid.Bool().Draw(t, "stations") {
			p.Stations = []Station{{given(t, Length{}, "50 mm"), given(t, Length{}, "26 mm"), given(t, Length{}, "2.5 mm"), given(t, Length{}, "0.8 mm")}}
		}
	default:
		p.Across = given(t, Length{}, "20 mm", "3/4 in")
	}
	return p
}

func anyStep(t *rapid.T) Step {
	s := Step{Name: rapid.StringMatching("[a-z ]{0,8}").Draw(t, "name")}
	hold := func() Duration { return given(t, Duration{}, "2 h", "90 min", "1 h 30 min") }
	switch rapid.IntRange(0, 7).Draw(t, "verb") {
	case 0:
		s.Do, s.In, s.At, s.Hold, s.Times = Temper, "kiln", given(t, Temp{}, "205 C", "400 F"), hold(), rapid.IntRange(0, 3).Draw(t, "times")
		s.Then = rapid.SampledFrom([]string{"", "air", "oven off", "drum"}).Draw(t, "then")
	case 1:
		s.Do, s.In, s.Until, s.Times = Normalize, "fire", ending(t, "850 C at core", "magnet off"), 3
		s.To = ending(t, "black", "hand-warm", "cold")
	case 2:
		s.Do, s.Off = Grind, given(t, Length{}, "0.02 mm", "0.001 in")
	case 3:
		s.Do, s.Until = Cool, ending(t, "hand-warm", "200 C at core", "5 min")
		s.In = rapid.SampledFrom([]string{"", "air", "fan"}).Draw(t, "in")
	case 4:
		s.Do, s.In = Bury, "drum"
	case 6:
		s.Do, s.From, s.Diameter = Drill, given(t, Length{}, "40 mm", "1-1/2 in"), given(t, Length{}, "1 mm")
	case 7:
		s.Do, s.From, s.Over, s.Angle = Bend, given(t, Length{}, "10 mm"), given(t, Length{}, "60 mm", "2.5 in"), given(t, Angle{}, "5 deg", "-3°")
	case 8:
		s.Do, s.In, s.Until, s.Times = Forge, "fire", ending(t, "1050 C at core"), 2
		s.Over, s.Thickness = given(t, Length{}, "40 mm"), Length{}
		s.Width = given(t, Length{}, "18 mm")
	case 5:
		s.Do, s.In, s.Until, s.Work, s.Times = Forge, "fire", ending(t, "1050 C at core"), given(t, Duration{}, "30 s"), 8
	}
	return s
}

// A draft keeps what was typed, right or wrong; of a right job it is the job.
func TestDraftKeepsWhatIsWrong(t *testing.T) {
	job, problems := Parse([]byte(right), nil)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	draft, ok := Draft(Write(job))
	if d := cmp.Diff(job, draft); !ok || d != "" {
		t.Fatal(d)
	}
	draft.Steps[0].Until = Ending{Text: "when it sings"}
	draft.Steps[0].Hold = Duration{Text: "2"}
	draft.Piece.Length = Length{Text: "-3 mm"}
	draft.Steel[0].Grade = "unobtainium"
	if _, problems = Parse(Write(draft), nil); len(problems) < 4 {
		t.Errorf("only %v", problems)
	}
	again, ok := Draft(Write(draft))
	if d := cmp.Diff(draft, again); !ok || d != "" {
		t.Error(d)
	}
	if _, ok := Draft([]byte("[[[")); ok {
		t.Error("rubbish is no job")
	}
}

// Rubbish never upsets the reader, and what it takes it writes back the same.
func FuzzParse(f *testing.F) {
	f.Add([]byte(right))
	f.Add([]byte("format = 1\n[[step]]\ndo = \"heat\"\n[step]\n"))
	f.Add([]byte("format = 1\na.b.c = 1\n[a.b]\n[[a.b.c]]\n"))
	f.Add([]byte("format=1\nsteel=[{grade=\"O1\"},{grade=\"W1\", region=\"bit\"}]"))
	f.Add([]byte(strings.Repeat("[", 300)))
	f.Fuzz(func(t *testing.T, text []byte) {
		if draft, ok := Draft(text); ok {
			Draft(Write(draft))
		}
		job, problems := Parse(text, nil)
		if len(problems) > 0 {
			return
		}
		again, problems := Parse(Write(job), nil)
		if len(problems) > 0 {
			t.Fatalf("%v\n%s", problems, Write(job))
		}
		if d := cmp.Diff(job, again); d != "" {
			t.Fatal(d)
		}
	})
}

func ExampleJob_Stages() {
	job, problems := Parse([]byte(right), nil)
	if len(problems) > 0 {
		fmt.Println(problems)
		return
	}
	for _, s := range job.Stages() {
		fmt.Printf("%-7s %-5s until %q\n", s.Verb, s.In, cmpOr(s.Until.Text, s.Until.Sign))
	}
	// Output:
	// heat    pipe  until "magnet off"
	// carry         until "2 s"
	// quench  oil 1 until ""
	// quench  air   until "hand-warm"
	// temper  kiln  until ""
	// temper  air   until "hand-warm"
	// temper  kiln  until ""
	// temper  air   until "hand-warm"
}
