package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/pelletier/go-toml/v2"
)

var update = flag.Bool("update", false, "write the published schemas anew")

// The published schemas are those that the program prints.
func TestPublishedSchemas(t *testing.T) {
	for name, text := range map[string][]byte{
		"schema/job.schema.json": route.Schema(), "schema/history.schema.json": resultsSchema(), "job-file.md": route.Guide(),
	} {
		file := filepath.Join("..", "..", "docs", filepath.FromSlash(name))
		if *update {
			if err := os.WriteFile(file, text, 0o644); err != nil { //nolint:gosec // a page for everybody
				t.Fatal(err)
			}
		}
		kept, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(kept, text) {
			t.Errorf("%s is not what the program prints; go test ./cmd/heatwright -run Schemas -update", file)
		}
	}
}

var couponOnce struct {
	sync.Once
	text []byte
}

// coupon returns the results of one run that all tests share.
func coupon(t *testing.T) []byte {
	t.Helper()
	couponOnce.Do(func() { couponOnce.text = workedCoupon(t) })
	return couponOnce.text
}

func workedCoupon(t *testing.T) []byte {
	t.Helper()
	code, out, errs, _ := in(t, context.Background(), map[string][]byte{"job.toml": []byte(small)}, "run", "job.toml", "--section", "--json", "-")
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, errs)
	}
	return []byte(out)
}

// What run --json writes fits the published schema, says its format first, and
// holds what it promises of every zone.
func TestResultsFitTheirSchema(t *testing.T) {
	text := coupon(t)
	if !bytes.HasPrefix(text, []byte("{\n  \"format\": \"heatwright.history/1\"")) {
		t.Errorf("the format does not stand first: %.60s", text)
	}
	var schema, result any
	if err := json.Unmarshal(resultsSchema(), &schema); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(text, &result); err != nil {
		t.Fatal(err)
	}
	for _, p := range (validator{schema.(map[string]any)}).check(schema.(map[string]any), result, "$") {
		t.Error(p)
	}
	var h sim.History
	if err := json.Unmarshal(text, &h); err != nil {
		t.Fatal(err)
	}
	for _, z := range h.Zones {
		c := z.Constituents
		sum := c.Austenite + c.RetainedAustenite + c.Martensite + c.Pearlite + c.Bainite + c.Ferrite + c.Carbide
		if math.Abs(sum-1) > 1e-6 {
			t.Errorf("%s: the constituents sum to %.9f", z.Name, sum)
		}
		if (z.HardnessHRC == nil) != (z.HardnessHV.Value < 238) && math.Abs(z.HardnessHV.Value-238) > 8 { // 20 HRC is about 238 HV in ASTM E140
			t.Errorf("%s: %.0f HV and HRC %v", z.Name, z.HardnessHV.Value, z.HardnessHRC)
		}
		if !(z.HardnessHV.Low <= z.HardnessHV.Value && z.HardnessHV.Value <= z.HardnessHV.High) {
			t.Errorf("%s: the band does not hold its value: %+v", z.Name, z.HardnessHV)
		}
	}
	if len(h.JobSHA256) != 64 || len(h.Steps) == 0 || len(h.Signs) == 0 || len(h.Cautions) == 0 {
		t.Errorf("hash %q, %d steps, %d signs, %d cautions", h.JobSHA256, len(h.Steps), len(h.Signs), len(h.Cautions))
	}
}

// The same job gives the same bytes.
func TestSameJobSameBytes(t *testing.T) {
	if !bytes.Equal(coupon(t), workedCoupon(t)) {
		t.Error("two runs of one build differ")
	}
}

// Files written by older builds stay readable, and every key they hold is still
// written: within /1 things are only added.
func TestKeptResults(t *testing.T) {
	files, err := filepath.Glob(filepath.Join("testdata", "kept", "history-1-*.json"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no kept results: %v", err)
	}
	var now any
	if !*update {
		text := make([][]byte, len(files))
		for i, name := range files {
			if text[i], err = os.ReadFile(name); err != nil {
				t.Fatal(err)
			}
		}
		if err := json.Unmarshal(coupon(t), &now); err != nil {
			t.Fatal(err)
		}
		written := paths(now, "", map[string]string{})
		for i, name := range files {
			dec := json.NewDecoder(bytes.NewReader(text[i]))
			dec.DisallowUnknownFields()
			var h sim.History
			if err := dec.Decode(&h); err != nil {
				t.Errorf("%s: %v", name, err)
			}
			var old any
			if err := json.Unmarshal(text[i], &old); err != nil {
				t.Fatal(err)
			}
			for p, kind := range paths(old, "", map[string]string{}) {
				if got, ok := written[p]; !ok || got != kind && got != "null" && kind != "null" {
					t.Errorf("%s has %s (%s), which is written no more (%s)", name, p, kind, got)
				}
			}
		}
	}
}

// paths lists the keys of a document with the kind of their value; notes differ
// from job to job and are left out below their own keys.
func paths(v any, at string, all map[string]string) map[string]string {
	switch v := v.(type) {
	case map[string]any:
		all[at] = "object"
		for k, x := range v {
			paths(x, at+"."+k, all)
		}
	case []any:
		all[at] = "array"
		if strings.HasSuffix(at, ".args") {
			return all
		}
		for _, x := range v {
			paths(x, at+"[]", all)
		}
	case nil:
		if all[at] == "" {
			all[at] = "null"
		}
	default:
		all[at] = fmt.Sprintf("%T", v)
	}
	return all
}

// validator holds a document against the part of JSON Schema that our schemas use.
type validator struct{ root map[string]any }

func (v validator) check(s map[string]any, x any, at string) (problems []string) {
	if ref, ok := s["$ref"].(string); ok {
		defs := v.root["$defs"].(map[string]any)
		return v.check(defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any), x, at)
	}
	for _, key := range []string{"oneOf", "anyOf"} {
		if forms, ok := s[key].([]any); ok {
			for _, alt := range forms {
				if len(v.check(alt.(map[string]any), x, at)) == 0 {
					return nil
				}
			}
			return []string{at + " fits none of its forms"}
		}
	}
	if c, ok := s["const"]; ok && c != x {
		return []string{fmt.Sprintf("%s is %v and not %v", at, x, c)}
	}
	if words, ok := s["enum"].([]any); ok && !slices.Contains(words, x) {
		return []string{fmt.Sprintf("%s is %v and none of %v", at, x, words)}
	}
	switch want := s["type"]; want {
	case "null":
		if x != nil {
			return []string{at + " is not null"}
		}
	case "object":
		m, ok := x.(map[string]any)
		if !ok {
			return []string{fmt.Sprintf("%s is no object but %T", at, x)}
		}
		properties, _ := s["properties"].(map[string]any)
		for _, r := range list(s["required"]) {
			if _, ok := m[r.(string)]; !ok {
				problems = append(problems, at+" lacks "+r.(string))
			}
		}
		for k, value := range m {
			p, ok := properties[k].(map[string]any)
			if more, any := s["additionalProperties"].(map[string]any); !ok && any {
				p, ok = more, true
			}
			if !ok {
				problems = append(problems, at+" has "+k+", of which the schema knows nothing")
				continue
			}
			problems = append(problems, v.check(p, value, at+"."+k)...)
		}
	case "array":
		a, ok := x.([]any)
		if !ok {
			return []string{fmt.Sprintf("%s is no array but %T", at, x)}
		}
		for i, value := range a {
			problems = append(problems, v.check(s["items"].(map[string]any), value, fmt.Sprintf("%s[%d]", at, i))...)
		}
	case "string", "number", "integer", "boolean":
		kinds := map[any]string{"string": "string", "number": "float64", "integer": "float64", "boolean": "bool"}
		if fmt.Sprintf("%T", x) != kinds[want] {
			problems = append(problems, fmt.Sprintf("%s is %T, not %v", at, x, want))
		}
	}
	return problems
}

func list(x any) []any {
	l, _ := x.([]any)
	return l
}

// The examples fit the schema of the job file, and a slip does not.
func TestExamplesFitTheJobSchema(t *testing.T) {
	var schema any
	if err := json.Unmarshal(route.Schema(), &schema); err != nil {
		t.Fatal(err)
	}
	root := schema.(map[string]any)
	check := func(text []byte) []string {
		var job any
		if err := toml.Unmarshal(text, &job); err != nil {
			t.Fatal(err)
		}
		asJSON, err := json.Marshal(job) // numbers as JSON has them
		if err != nil {
			t.Fatal(err)
		}
		var x any
		if err := json.Unmarshal(asJSON, &x); err != nil {
			t.Fatal(err)
		}
		return validator{root}.check(root, x, "job")
	}
	names, err := filepath.Glob(filepath.Join("..", "..", "examples", "*.toml"))
	if err != nil || len(names) < 6 {
		t.Fatal(names, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if filepath.Base(name) == "shop.toml" {
			continue
		}
		if p := check(text); len(p) > 0 {
			t.Errorf("%s: %v", name, p)
		}
		for _, slip := range [][2]string{{"do = \"heat\"", "do = \"hete\""}, {"[piece]", "[piece]\nwidht = \"1 mm\""}, {"demo = true", "demo = \"yes\""}} {
			if bad := strings.Replace(string(text), slip[0], slip[1], 1); len(check([]byte(bad))) == 0 {
				t.Errorf("%s with %s is taken", name, slip[1])
			}
		}
	}
}

// Every module that is linked into the program has its license printed.
func TestLicensesNameEveryModule(t *testing.T) {
	if _, err := exec.LookPath("go"); err != nil {
		t.Skip("the go command lists the modules of the program: install Go to run this test")
	}
	out, err := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", ".").Output()
	if err != nil {
		t.Fatal(err)
	}
	modules := strings.Split(strings.TrimSpace(string(out)), "\n")
	slices.Sort(modules)
	for _, m := range slices.Compact(modules) {
		if m != "" && !strings.Contains(licenses, m+": ") {
			t.Errorf("%s is built in and its license is not printed; scripts/licenses > cmd/heatwright/licenses.txt", m)
		}
	}
}
