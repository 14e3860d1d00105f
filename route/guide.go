package route

import (
	"fmt"
	"reflect"
	"strings"
)

// Guide returns the job file explained for people, as Markdown, made from the
// same types and tags that Parse, Write and Schema use.
func Guide() []byte {
	var b strings.Builder
	b.WriteString(guideHead)
	guideTable(&b, reflect.TypeOf(Job{}), "", "At the top")
	return []byte(b.String())
}

const guideHead = `# The job file

A job is a text file in TOML. Quantities are texts with their unit, written as one says them: "1475 F", "1/8 in",
"2.6 mm", "10 min", "2 h", "58-60 HRC". A temperature without a unit is refused, unless the shop sets one (degrees).
"Don't know" is to leave a key out: the answer gets a wider band.

Steps end with a time ("90 s", "a ten count"), a temperature at a zone ("815 C at edge"),
a temper color at a zone ("straw at edge": a temper or a cooling alone), a sign ("magnet off",
"shadow off", "black", "hand-warm", "cold"), or "at heat", when the whole piece has come to what surrounds it.

The piece is what goes into the first step; forge, drill, bend and grind change it, and later steps begin with what
they left. A forging step that says thickness or width, or has a table into, is a pass: the length follows from the metal.
Zones are throughout those of the form that the piece ends with: in the bar for a blade, edge is the metal that will be its edge.

` + "`heatwright check JOB`" + ` tells all that has to be put right. The folder examples has jobs to copy.
This page is printed by ` + "`heatwright schema guide`" + `.
`

// guideTable explains one table and, after it, the tables inside.
func guideTable(b *strings.Builder, t reflect.Type, path, title string) {
	fmt.Fprintf(b, "\n## %s\n\n| key | | what | taken |\n|---|---|---|---|\n", title)
	type inner struct {
		t           reflect.Type
		path, title string
	}
	var later []inner
	for f := range fields(t) {
		ft := t.FieldByIndex(f.index).Type
		taken := guideTaken(ft, f)
		switch kind := tableOf(ft); {
		case f.like != "":
			taken = "table [" + joinedKey(path, f.key) + "], as [" + f.like + "]"
		case kind != nil && ft.Kind() == reflect.Slice && !f.single:
			taken = "tables [[" + joinedKey(path, f.key) + "]]"
			later = append(later, inner{kind, joinedKey(path, f.key), "[[" + joinedKey(path, f.key) + "]]"})
		case kind != nil:
			taken = "table [" + joinedKey(path, f.key) + "]"
			later = append(later, inner{kind, joinedKey(path, f.key), "[" + joinedKey(path, f.key) + "]"})
		}
		fmt.Fprintf(b, "| `%s` | %s | %s | %s |\n", f.key, guideNeed(f), f.doc, taken)
	}
	for _, in := range later {
		guideTable(b, in.t, in.path, in.title)
	}
}

func joinedKey(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// tableOf returns the struct that a field holds as table or list of tables, nil for values.
func tableOf(t reflect.Type) reflect.Type {
	if t.Kind() == reflect.Slice {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || t.NumField() == 0 || t.Field(0).Tag.Get("key") == "" {
		return nil
	}
	return t
}

// guideNeed says when a key has to be there.
func guideNeed(f field) string {
	switch {
	case f.need == "*":
		return "needed"
	case f.need != "" && f.need == f.only:
		return "needed for " + strings.Join(strings.Fields(f.need), ", ")
	case f.need != "":
		return "needed for " + strings.Join(strings.Fields(f.need), ", ") + "; with " + strings.Join(strings.Fields(f.only), ", ")
	case f.only != "":
		return "with " + strings.Join(strings.Fields(f.only), ", ")
	}
	return ""
}

// guideTaken says what a key takes.
func guideTaken(t reflect.Type, f field) string {
	switch x := reflect.New(t).Interface().(type) {
	case quantity:
		what, example := x.want()
		if f.min != "" {
			return what + ", " + f.min + " to " + f.max
		}
		return what + ", as " + example
	case *Ending:
		return "an ending"
	case *[]Wish:
		return `{ edge = "60-62 HRC" }`
	}
	switch {
	case f.one != "":
		return strings.Join(strings.Split(f.one, "|"), ", ")
	case t.Kind() == reflect.Bool:
		return "true, false"
	case t.Kind() == reflect.Int && f.min != "":
		return f.min + " to " + f.max
	case t.Kind() == reflect.Int:
		return "a number"
	}
	return fmt.Sprintf("words, up to %d characters", f.longest())
}
