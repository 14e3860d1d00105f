package sim

import (
	"context"
	"encoding/json"
	"flag"
	"os"
	"path/filepath"
	"testing"
)

var keep = flag.Bool("keep", false, "write a history of today into testdata")

// Within heatwright.history/1 things are only added: every name that a history
// of an earlier day holds is still there today, of the same kind.
func TestOldHistoriesAreUnderstood(t *testing.T) {
	job := parse(t, bladeOf("1084", "3 mm", "0.8 mm", "hot-rolled"), heat("815 C", "1 min")+carry("2 s")+quench("fast oil")+temper("204 C", "1 h", 1))
	h, err := Run(context.Background(), job, Options{Section: true, Across: 6, Through: 3, Engine: Engine{Name: "heatwright", Version: "test"}}, nil)
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.MarshalIndent(h, "", " ")
	if err != nil {
		t.Fatal(err)
	}
	if *keep {
		if err := os.WriteFile("testdata/history-1-first.json", text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var today any
	if err := json.Unmarshal(text, &today); err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob("testdata/history-1-*.json")
	if err != nil || len(files) == 0 {
		t.Fatal("no old history is kept", err)
	}
	for _, f := range files {
		text, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		var old any
		if err := json.Unmarshal(text, &old); err != nil {
			t.Fatal(err)
		}
		var read History
		if err := json.Unmarshal(text, &read); err != nil {
			t.Fatalf("%s: %v", f, err)
		}
		if read.Format != HistoryFormat || len(read.Zones) == 0 || len(read.Signs) == 0 || read.Zones[0].HardnessHV.Value < 100 {
			t.Errorf("%s is not read as a history", f)
		}
		within(t, filepath.Base(f), old, today)
	}
}

// within checks that every name of old is in today's, with a value of the same kind.
func within(t *testing.T, at string, old, today any) {
	switch o := old.(type) {
	case map[string]any:
		n, ok := today.(map[string]any)
		if !ok {
			t.Errorf("%s was a table and is %T", at, today)
			return
		}
		for k, v := range o {
			w, ok := n[k]
			if !ok {
				t.Errorf("%s.%s is gone", at, k)
				continue
			}
			within(t, at+"."+k, v, w)
		}
	case []any:
		n, ok := today.([]any)
		if !ok {
			t.Errorf("%s was a list and is %T", at, today)
			return
		}
		if len(o) > 0 && len(n) > 0 {
			within(t, at+"[0]", o[0], n[0])
		}
	case nil: // null below 20 HRC
	default:
		if today == nil {
			return
		}
		if k, l := kindName(old), kindName(today); k != l {
			t.Errorf("%s was a %s and is a %s", at, k, l)
		}
	}
}

func kindName(v any) string {
	switch v.(type) {
	case float64:
		return "number"
	case string:
		return "text"
	case bool:
		return "flag"
	}
	return "thing"
}
