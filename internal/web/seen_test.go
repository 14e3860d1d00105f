package web

import (
	"context"
	"io"
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/heatwright/heatwright/color"
)

// What was seen, asked by a browser that runs no scripts: a band, a contradiction,
// what is not understood, nothing at all; in the words and units of the reader.
func TestSeenWithoutScripts(t *testing.T) {
	server := opened(t)
	for _, row := range []struct {
		told, language string
		want, not      []string
	}{
		{"magnet=lets+go&glow=dark+red&light=shade", "en-US", []string{"Temperature", "1380–1500 °F", "by magnet: lets go, glow: dark red", `<option value="dark red" selected>`, "In the shade an eye keeps"}, []string{"hardly go together", "Hardness<"}},
		{"magnet=holds&glow=yellow&light=dim", "en-GB", []string{"cannot be said", "hardly go together", "°C"}, []string{"°F –"}},
		{"file=bites,+skates+after+12", "en-GB", []string{"over <a", "55 HRC", "bites, skids after 12", "Soft skin", "µm"}, []string{"Temperature<"}},
		{"thermometer=hot&tester=99", "en-US", []string{`role="alert"`, "812 C", `value="hot"`, "60 HRC", "Nothing was told yet"}, nil},
		{"", "en-US", []string{"Nothing was told yet", "don&#39;t know"}, []string{"Temperature<", `role="alert"`}},
		{"film=straw&time=3600+s&steel=O1", "en-GB", []string{"Hottest while tempered", "°C", "of <a"}, nil},
	} {
		r, err := http.NewRequestWithContext(context.Background(), http.MethodGet, server.URL+"/seen?"+row.told, http.NoBody)
		if err != nil {
			t.Fatal(err)
		}
		r.Header.Set("Accept-Language", row.language)
		got, err := http.DefaultClient.Do(r)
		if err != nil {
			t.Fatal(err)
		}
		text, err := io.ReadAll(got.Body)
		if e := got.Body.Close(); err != nil || e != nil || got.StatusCode != http.StatusOK {
			t.Fatal(row.told, got.Status, err, e)
		}
		for _, want := range row.want {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s lacks %q", row.told, want)
			}
		}
		for _, not := range row.not {
			if strings.Contains(string(text), not) {
				t.Errorf("%s says %q", row.told, not)
			}
		}
	}
	if u, err := url.Parse(seenOf(color.Shade, "1095")); err != nil || u.Query().Get("steel") != "1095" || u.Query().Get("light") != "shade" {
		t.Error(u, err)
	}
}
