package cite

import "testing"

// Every entry must be complete: a page that answers "says who?" prints all of it.
func TestBibliographyIsComplete(t *testing.T) {
	reads := map[string]bool{SeenInText: true, SeenInAbstract: true, FromMemory: true, Practice: true, Derived: true}
	all := All()
	if len(all) == 0 {
		t.Fatal("the bibliography is empty")
	}
	for _, s := range all {
		if s.Key == "" || s.Authors == "" || s.Title == "" || s.Where == "" {
			t.Errorf("entry %q lacks a field: %+v", s.Key, s)
		}
		if !reads[s.ReadBy] {
			t.Errorf("entry %q: read_by %q is none of the five ways", s.Key, s.ReadBy)
		}
	}
}
