package color

import (
	"math"
	"testing"

	"github.com/heatwright/heatwright/cite"
)

// Films on iron by daylight, computed by an independent program with the same
// constants (hematite a quarter of the thickness over magnetite, 12 % uneven,
// 6 % veil), within three steps of 255.
func TestFilmColors(t *testing.T) {
	for _, row := range []struct {
		nm   float64
		want RGB
	}{
		{0, RGB{240, 237, 233}}, {8, RGB{227, 219, 205}}, {12, RGB{217, 204, 183}}, {16, RGB{205, 184, 156}}, {20, RGB{0xbc, 0xa0, 0x7f}},
		{26, RGB{0x9c, 0x76, 0x63}}, {32, RGB{0x72, 0x56, 0x70}}, {34, RGB{0x63, 0x53, 0x7b}}, {38, RGB{0x4c, 0x5e, 0x91}},
		{42, RGB{0x47, 0x74, 0xa6}}, {48, RGB{0x64, 0x96, 0xc1}}, {54, RGB{0x88, 0xb3, 0xd5}},
	} {
		if got := FilmColor(row.nm, FilmLook{}).Screen(); apart(got, row.want) > 3 {
			t.Errorf("%v nm: %v, want %v", row.nm, got, row.want)
		}
	}
}

// A film of no thickness changes nothing; bare iron follows Fresnel's formula
// R = ((n−1)² + k²)/((n+1)² + k²); no film reflects more than all.
func TestReflectanceLaws(t *testing.T) {
	var bare, none, film Spectrum
	iron := Material("iron")
	Reflectance(&bare, iron)
	Film(&none, 0)
	for i, N := range iron {
		n, k := real(N), imag(N)
		want := ((n-1)*(n-1) + k*k) / ((n+1)*(n+1) + k*k)
		if math.Abs(bare[i]-want) > 1e-12 || math.Abs(none[i]-want) > 1e-12 {
			t.Fatalf("sample %d: %v, %v, Fresnel %v", i, bare[i], none[i], want)
		}
	}
	for nm := 0.0; nm < 400; nm += 7 {
		Film(&film, nm)
		for i, R := range film {
			if !(R > 0 && R < 1) {
				t.Fatalf("%v nm, sample %d: R = %v", nm, i, R)
			}
		}
	}
	// A quarter-wave layer without absorption on a substrate n_s: R = ((n_s − n²)/(n_s + n²))².
	var layer, glass [samples]complex128
	for i := range layer {
		layer[i], glass[i] = 1.38, 1.52
	}
	at := 34 // 550 nm
	var q Spectrum
	Reflectance(&q, &glass, Layer{&layer, 550.0 / 4 / 1.38})
	r := (1.52 - 1.38*1.38) / (1.52 + 1.38*1.38)
	want := r * r
	if math.Abs(q[at]-want) > 1e-12 {
		t.Errorf("quarter wave: %v, want %v", q[at], want)
	}
}

// The words come in order and every word has a range.
func TestTempersComeInOrder(t *testing.T) {
	last := Bright
	for nm := 0.0; nm < 150; nm += 0.1 {
		w := TemperOf(nm)
		if w < last || w > last+1 {
			t.Fatalf("%v nm: %v after %v", nm, w, last)
		}
		last = w
	}
	for w := Bright; w < NumTempers; w++ {
		b := w.Film()
		if !(b.Low < b.Value && b.Value < b.High) || TemperOf(b.Value) != w {
			t.Errorf("%v: %+v", w, b)
		}
	}
}

// Straw looks yellow, purple purple, blue blue: the words lie on the hues that
// they name (90 yellow, 0 red, 300 purple-blue, 260 blue).
func TestWordsNameTheirHues(t *testing.T) {
	for _, row := range []struct {
		w         Temper
		low, high float64
	}{{Straw, 75, 90}, {DarkStraw, 65, 80}, {Brown, 45, 75}, {Purple, 315, 360}, {DarkPurple, 290, 325}, {Blue, 255, 295}, {PaleBlue, 235, 262}} {
		if h := FilmColor(row.w.Film().Value, FilmLook{}).Lab().Hue(); h < row.low || h > row.high {
			t.Errorf("%v has hue %.0f, want %v–%v", row.w, h, row.low, row.high)
		}
	}
	// By lamp light the eye adapts, and no color moves by more than a glance.
	for nm := 0.0; nm < 60; nm += 2 {
		if d := Difference(FilmColor(nm, FilmLook{}).Lab(), FilmColor(nm, FilmLook{Lamp: true}).Lab()); d > 12 {
			t.Errorf("%v nm: lamp and daylight differ by ΔE %.1f", nm, d)
		}
	}
}

func TestDataFilesAreWhole(t *testing.T) {
	for _, name := range []string{"observer", "daylight", "iron", "magnetite", "hematite"} {
		f := table(name)
		if _, ok := cite.Find(cite.Key(f.Source)); !ok || f.Where == "" || f.Error == "" || f.ReadBy == "" {
			t.Errorf("%s: header incomplete or source %q unknown", name, f.Source)
		}
		for _, r := range f.Covers {
			if f.Row[0][0] < r[0]-1e-9 || f.Row[len(f.Row)-1][0] > r[1]+1e-9 {
				t.Errorf("%s: rows outside what it covers", name)
			}
		}
		for i, row := range f.Row {
			if len(row) != len(f.Columns) || (i > 0 && row[0] <= f.Row[i-1][0]) {
				t.Errorf("%s: row %d out of line", name, i)
			}
		}
	}
	for _, p := range append(PublishedHeats(), PublishedTempers()...) {
		if _, ok := cite.Find(p.Source); !ok {
			t.Errorf("source %q of %q unknown", p.Source, p.Printed)
		}
	}
}
