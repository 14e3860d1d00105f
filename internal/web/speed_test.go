package web

import (
	"cmp"
	"errors"
	"io"
	"net/http"
	"net/http/httptest"
	"net/url"
	"slices"
	"testing"
	"time"

	"github.com/heatwright/heatwright/sim"
)

// changes are what a smith does to the blanks of the first screen, one after the other.
var changes = []url.Values{
	{"edge": {"3/64 in"}}, {"back": {"3/16 in"}, "steel": {"O1"}}, {"steel": {"1095"}}, {"back": {"5/32 in"}}, {"back": {"1/4 in"}}, {"edge": {"1/16 in"}},
	{"bath": {"water"}}, {"bath": {"fast oil"}}, {"oven": {"kiln"}}, {"fire": {"kiln"}}, {"make": {"kitchen knife"}},
	{"make": {"cold chisel"}}, {"make": {"punch"}, "steel": {"W1"}}, {"make": {"flat spring"}, "steel": {"5160"}},
	{"make": {"big chopper"}, "steel": {"5160"}}, {"make": {"hatchet"}, "steel": {"5160"}}, {"steel": {"52100"}}, {"steel": {"unknown"}}, {"edge": {"0.020 in"}},
	{"make": {"wood chisel"}, "steel": {"O1"}}, {"make": {"carving knife"}, "steel": {"1095"}},
}

func serving(b *testing.B) *httptest.Server {
	server := httptest.NewUnstartedServer(nil)
	server.Config.Handler = Handler(loopbackHosts(server.Listener.Addr()), sim.Engine{Name: "heatwright", Version: "test"})
	server.Start()
	b.Cleanup(server.Close)
	warm(b.Context(), server.Config.Handler, server.Listener.Addr().String()) // as Serve does when it opens
	return server
}

func asks(b *testing.B, server *httptest.Server, speed string, blanks url.Values) time.Duration {
	b.Helper()
	req, err := http.NewRequest(http.MethodGet, server.URL+"/?"+blanks.Encode(), nil)
	if err != nil {
		b.Fatal(err)
	}
	req.Header.Set("Accept-Language", "en-US")
	req.Header.Set("Bench-Part", "answer")
	req.Header.Set("Bench-Speed", speed)
	began := time.Now()
	r, err := http.DefaultClient.Do(req)
	if err != nil {
		b.Fatal(err)
	}
	_, err = io.Copy(io.Discard, r.Body)
	if err = errors.Join(err, r.Body.Close()); err != nil || r.StatusCode != http.StatusOK {
		b.Fatal(r.Status, err)
	}
	return time.Since(began)
}

func tell(b *testing.B, all []time.Duration) {
	slices.Sort(all)
	ms := func(share float64) float64 {
		return float64(all[int(share*float64(len(all)-1))].Microseconds()) / 1000
	}
	b.ReportMetric(ms(0.5), "ms-median")
	b.ReportMetric(ms(0.95), "ms-p95")
}

// BenchmarkGlance is the answer at a key, request to last byte: every sentence
// new to the bench but the first, the steels known to it since it opened.
func BenchmarkGlance(b *testing.B) {
	var all []time.Duration
	for b.Loop() {
		server := serving(b)
		for _, c := range changes {
			c.Set("edge", cmp.Or(c.Get("edge"), "3/64 in")) // nothing that was warmed
			all = append(all, asks(b, server, "glance", c))
		}
	}
	tell(b, all)
}

// BenchmarkAfterThePause is the odds and the whole piece, asked for together as the page does.
func BenchmarkAfterThePause(b *testing.B) {
	var odds, body []time.Duration
	for b.Loop() {
		server := serving(b)
		for _, c := range changes[:2] {
			asks(b, server, "glance", c)
			first := make(chan time.Duration)
			go func() { first <- asks(b, server, "section", c) }()
			body = append(body, asks(b, server, "whole", c))
			odds = append(odds, <-first)
		}
	}
	slices.Sort(odds)
	b.ReportMetric(float64(odds[len(odds)/2].Milliseconds()), "ms-odds")
	tell(b, body)
}
