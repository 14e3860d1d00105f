package main

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
	"github.com/heatwright/heatwright/route"
)

// Most that is read of a job file [bytes]: more than Parse takes, so that Parse
// can refuse it, and far less than a disk holds.
const mostRead = 2 << 20

// readJob reads a job file and the shop that it names. "-" is standard input.
func (d *desk) readJob(name string) (route.Job, error) {
	text, err := d.read(name)
	if err != nil {
		return route.Job{}, err
	}
	job, problems := route.Parse(text, besides(name))
	if len(problems) > 0 {
		return route.Job{}, &failure{exitInput, errors.New(tellProblems(d.style(""), name, problems))}
	}
	return job, nil
}

func (d *desk) read(name string) ([]byte, error) {
	if name == "-" {
		text, err := io.ReadAll(io.LimitReader(d.in, mostRead))
		if err != nil {
			return nil, outsideError("standard input cannot be read: %w", err)
		}
		return text, nil
	}
	text, err := readSome(name)
	if f, e := os.Stat(name); e == nil && f.IsDir() {
		return nil, inputError("%s is a folder: name the job file in it", name)
	}
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return nil, inputError("there is no file %s", name)
	case err != nil:
		return nil, outsideError("%s cannot be read: %w", name, plain(err))
	}
	return text, nil
}

// plain drops what the system puts before the reason.
func plain(err error) error {
	var p *fs.PathError
	if errors.As(err, &p) {
		return p.Err
	}
	return err
}

func readSome(name string) ([]byte, error) {
	f, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	defer f.Close() //nolint:errcheck // only read
	return io.ReadAll(io.LimitReader(f, mostRead))
}

// besides reads files that stand in the folder of the job, and no others.
func besides(job string) func(string) ([]byte, error) {
	folder := filepath.Dir(job)
	return func(name string) ([]byte, error) {
		if !filepath.IsLocal(name) {
			return nil, errors.New("it has to stand beside the job")
		}
		return readSome(filepath.Join(folder, name))
	}
}

// tellProblems says all problems of a file: place, key and value, what is the
// case, what would be taken, what to do.
func tellProblems(s words.Style, name string, problems route.Problems) string {
	var b strings.Builder
	count := fmt.Sprintf("%d things have", len(problems))
	if len(problems) == 1 {
		count = "one thing has"
	}
	fmt.Fprintf(&b, "%s: %s to be put right", name, count)
	for _, p := range problems {
		t := s.Of(p.Code, p.Args...)
		file := name
		if p.File != "" {
			file = p.File
		}
		place := file
		if p.Line > 0 {
			place = fmt.Sprintf("%s:%d:%d", file, p.Line, p.Column)
		}
		fmt.Fprintf(&b, "\n\n%s", place)
		if p.Key != "" {
			fmt.Fprintf(&b, "  %s", p.Key)
		}
		if p.Value != "" {
			fmt.Fprintf(&b, " = %s", p.Value)
		}
		fmt.Fprintf(&b, "\n  %s", t.Say)
		if t.Limits != "" {
			fmt.Fprintf(&b, "\n  taken: %s", t.Limits)
		}
		if t.Remedy != "" {
			fmt.Fprintf(&b, "\n  do:    %s", t.Remedy)
		}
	}
	return b.String()
}
