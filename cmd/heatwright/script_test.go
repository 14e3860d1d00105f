package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"heatwright": main})
}

// The command line as a smith meets it: each script is a session.
func TestScripts(t *testing.T) {
	examples, err := filepath.Abs(filepath.Join("..", "..", "examples"))
	if err != nil {
		t.Fatal(err)
	}
	testscript.Run(t, testscript.Params{
		Dir: filepath.Join("testdata", "script"),
		Setup: func(e *testscript.Env) error {
			e.Setenv("EXAMPLES", examples)
			return nil
		},
	})
}

// A small job that is worked through in a moment.
const small = `format = 1
name = "coupon"
demo = true

[piece]
form = "flat"
width = "20 mm"
thickness = "3 mm"
length = "60 mm"

[steel]
grade = "1084"
condition = "annealed"

[[shop.oven]]
name = "kiln"
kind = "kiln"

[[shop.bath]]
name = "oil"
kind = "fast oil"

[[step]]
do = "heat"
in = "kiln"
at = "815 C"
until = "at heat"
hold = "2 min"

[[step]]
do = "carry"
until = "2 s"

[[step]]
do = "quench"
in = "oil"
`

// in runs the program in a folder of its own that holds these files, and
// returns what it printed and the names that the folder holds afterwards.
func in(t *testing.T, ctx context.Context, files map[string][]byte, args ...string) (code int, out, errs string, names []string) {
	t.Helper()
	t.Chdir(t.TempDir())
	for name, text := range files {
		if err := os.WriteFile(name, text, 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var o, e bytes.Buffer
	code = heatwright(ctx, args, strings.NewReader(""), &o, &e)
	list, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range list {
		names = append(names, f.Name())
	}
	return code, o.String(), e.String(), names
}

// A run that is stopped returns 130 and leaves no file behind.
func TestStoppedRunWritesNothing(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	code, out, errs, names := in(t, ctx, map[string][]byte{"job.toml": []byte(small)}, "run", "job.toml", "--section", "--json", "a.json", "--sheet", "a.pdf")
	if code != exitCancelled || out != "" || len(names) != 1 {
		t.Errorf("exit %d, printed %q, said %q, folder %v", code, out, errs, names)
	}
}

// Fifty megabytes of rubbish are refused in one sentence.
func TestRubbishOfFiftyMegabytes(t *testing.T) {
	code, _, errs, names := in(t, context.Background(), map[string][]byte{"job.toml": bytes.Repeat([]byte("x = 1\n"), 50_000_000/6)}, "run", "job.toml", "--json", "a.json")
	if code != exitInput || len(names) != 1 || strings.Count(errs, "\n") > 6 || !strings.Contains(errs, "too large") {
		t.Errorf("exit %d, said %q, folder %v", code, errs, names)
	}
}

// A fault of the program is one sentence, without a trace of the stack.
func TestFaultIsToldInOneSentence(t *testing.T) {
	code, out := func() (code int, out string) {
		var e bytes.Buffer
		defer func() { out = e.String() }()
		return finish(os.ErrInvalid, &e), ""
	}()
	if code != exitFault || strings.Contains(out, "goroutine") || !strings.Contains(out, "fault of the program") {
		t.Errorf("exit %d: %q", code, out)
	}
}

// A folder that is not there is told before the work begins.
func TestFolderThatIsNotThere(t *testing.T) {
	code, _, errs, names := in(t, context.Background(), map[string][]byte{"job.toml": []byte(small)}, "run", "job.toml", "--section", "--sheet", filepath.Join("nowhere", "a.html"))
	if code != exitInput || len(names) != 1 || !strings.Contains(errs, "no folder nowhere") {
		t.Errorf("exit %d, said %q, folder %v", code, errs, names)
	}
}

// A disk that fails is the world's fault, and what was to be written is not half there.
func TestFileThatCannotBeWritten(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.MkdirAll(filepath.Join("a.json", "full"), 0o700); err != nil {
		t.Fatal(err)
	}
	var e bytes.Buffer
	if code := finish(writeAll(map[string][]byte{"a.json": []byte("{}")}), &e); code != exitOutside {
		t.Errorf("exit %d: %s", code, e.String())
	}
	if list, err := os.ReadDir("."); err != nil || len(list) != 1 {
		t.Errorf("left behind: %v, %v", list, err)
	}
}
