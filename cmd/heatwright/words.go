package main

import (
	"fmt"
	"sort"
	"strings"

	"github.com/heatwright/heatwright/internal/words"
)

// wordsCmd prints the glossary: the words of the trade that sheet and pages use.
type wordsCmd struct{}

func (c *wordsCmd) Run(d *desk) error {
	type entry struct{ word, means string }
	var all []entry
	style := d.style("metric")
	for _, code := range words.Codes() {
		if !strings.HasPrefix(code, "word.") {
			continue
		}
		t := style.Of(code)
		e := entry{t.Say, t.Why}
		if t.Term != "" {
			e.means += " *(" + t.Term + ")*"
		}
		all = append(all, e)
	}
	sort.Slice(all, func(i, j int) bool { return strings.ToLower(all[i].word) < strings.ToLower(all[j].word) })
	fmt.Fprint(d.out, "# Words of the trade\n\nWritten by `heatwright words`. The engineer's word stands in brackets.\n\n")
	for _, e := range all {
		if _, err := fmt.Fprintf(d.out, "- **%s**: %s\n", e.word, e.means); err != nil {
			return outsideError("the glossary cannot be written: %w", err)
		}
	}
	return nil
}
