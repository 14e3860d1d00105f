package route

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"
)

// Write returns the job as a file: format = 1 first, quantities as they were
// typed. A shop that came from a file of its own is written as the name of
// that file; see Job.Whole for a job that stands alone.
func Write(job Job) []byte {
	job.Format = Format
	if job.Shop.File != "" {
		job.Shop = Shop{File: job.Shop.File}
	}
	return written(reflect.ValueOf(job))
}

// Whole returns the job with its shop written into it, so that it needs no other file.
func (j Job) Whole() Job {
	j.Shop.File = ""
	return j
}

func written(v reflect.Value) []byte {
	var b strings.Builder
	writeTable(&b, v, "")
	return []byte(strings.TrimLeft(b.String(), "\n"))
}

// writeTable writes first the single values of a struct, then its tables.
func writeTable(b *strings.Builder, v reflect.Value, path string) {
	type later struct {
		key string
		v   reflect.Value
		one bool
	}
	var tables []later
	for f := range fields(v.Type()) {
		x := v.FieldByIndex(f.index)
		if text, ok := scalar(x); ok {
			if text != "" {
				fmt.Fprintf(b, "%s = %s\n", f.key, text)
			}
			continue
		}
		tables = append(tables, later{f.key, x, f.single})
	}
	for _, t := range tables {
		name := t.key
		if path != "" {
			name = path + "." + t.key
		}
		switch {
		case t.v.Kind() == reflect.Struct && !t.v.IsZero():
			fmt.Fprintf(b, "\n[%s]\n", name)
			writeTable(b, t.v, name)
		case t.v.Kind() == reflect.Slice && t.one && t.v.Len() == 1:
			fmt.Fprintf(b, "\n[%s]\n", name)
			writeTable(b, t.v.Index(0), name)
		case t.v.Kind() == reflect.Slice:
			for i := range t.v.Len() {
				fmt.Fprintf(b, "\n[[%s]]\n", name)
				writeTable(b, t.v.Index(i), name)
			}
		}
	}
}

// scalar returns the TOML text of a value that is no table, empty when nothing
// was given.
func scalar(v reflect.Value) (string, bool) {
	switch x := addressable(v).(type) {
	case quantity:
		return quoted(x.text()), true
	case *Ending:
		return quoted(x.Text), true
	case *[]Wish:
		return wishText(*x), true
	}
	switch v.Kind() {
	case reflect.String:
		return quoted(v.String()), true
	case reflect.Bool:
		if v.Bool() {
			return "true", true
		}
		return "", true
	case reflect.Int:
		if v.Int() != 0 {
			return strconv.FormatInt(v.Int(), 10), true
		}
		return "", true
	}
	return "", false
}

func addressable(v reflect.Value) any {
	p := reflect.New(v.Type())
	p.Elem().Set(v)
	return p.Interface()
}

func wishText(wishes []Wish) string {
	if len(wishes) == 0 {
		return ""
	}
	parts := make([]string, len(wishes))
	for i, w := range wishes {
		parts[i] = key(w.Zone) + " = " + quoted(w.Band.Text)
	}
	return "{ " + strings.Join(parts, ", ") + " }"
}

// key returns a key as TOML writes it, with quotes where it needs them.
func key(s string) string {
	const bare = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_"
	if s != "" && strings.Trim(s, bare) == "" {
		return s
	}
	return `"` + escaped(s) + `"`
}

func quoted(s string) string {
	if s == "" {
		return ""
	}
	return `"` + escaped(s) + `"`
}

// escaped writes what a TOML basic string cannot hold as it is.
func escaped(s string) string {
	var b strings.Builder
	for _, r := range s {
		switch {
		case r == '"' || r == '\\':
			b.WriteRune('\\')
			b.WriteRune(r)
		case r == '\n':
			b.WriteString(`\n`)
		case r == '\t':
			b.WriteString(`\t`)
		case r < 0x20 || r == 0x7f:
			fmt.Fprintf(&b, `\u%04X`, r)
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}
