package cite

// Accuracy is what a model says of itself: half the width of its 10th-to-90th
// percentile band, and the range of inputs for which that was found.
type Accuracy struct {
	Model    string  // stable id of the model, "micro.ms"
	Quantity string  // what is predicted, "martensite start"
	Unit     string  // unit of Half: "K", "HRC", "%", "" for a factor
	Half     float64 // half width of the 80 % band; with Factor, the factor up or down
	Factor   bool    // Half multiplies and divides instead of adding and subtracting
	Covers   string  // range of validity in words with numbers
	HeldTo   string  // what it was held against and how far off it was
	Source   Key
}

// Quantity is a number that a sentence will name, in SI units or the unit given.
type Quantity struct {
	Name  string  `json:"name"`
	Value float64 `json:"value"`
	Unit  string  `json:"unit"`           // "K", "K-step", "s", "m", "J", "wt%", "HRC", "HV", "1"
	Text  string  `json:"text,omitempty"` // for names of things: a grade, a zone, a bath
}

// Note is something that the reader of an answer has to know: a model used
// outside its range, an assumption made, a caution. It is a stable code with
// typed quantities; the sentence is made at the doors.
type Note struct {
	Code   string     `json:"code"`            // "micro.ms-above-range"
	Where  string     `json:"where,omitempty"` // zone or step that it speaks of
	Args   []Quantity `json:"args,omitempty"`
	Source Key        `json:"source,omitempty"`
}

// Num returns a numeric argument of a note.
func Num(name string, value float64, unit string) Quantity {
	return Quantity{Name: name, Value: value, Unit: unit}
}

// Txt returns a named thing as an argument of a note.
func Txt(name, text string) Quantity { return Quantity{Name: name, Text: text} }
