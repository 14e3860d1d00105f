package shape

import "fmt"

// Eye is a hole for a handle: its oval along the body and across, and how far
// its middle is from the start of the body [m].
type Eye struct{ At, Long, Wide float64 }

// Froe is a straight splitting blade with an eye at its start, whose axis runs across the blade [m].
type Froe struct {
	Length, Width, Spine, Edge float64 // of the blade, without the eye
	Eye                        float64 // diameter
	Wall                       float64 // thickness of the metal around it
}

// Solid returns the body, with the zones edge, spine, core and eye.
func (f Froe) Solid() (*Solid, error) {
	var bad problems
	bad.within("eye", f.Eye, 5e-3, 0.1, "give the diameter of the eye")
	bad.within("wall", f.Wall, 1e-3, 0.03, "give the thickness of the metal around the eye")
	if err := bad.err(); err != nil {
		return nil, err
	}
	blade, err := Blade{Stations: []Station{{0, f.Width, f.Spine, f.Edge}, {f.Length, f.Width, f.Spine, f.Edge}}}.Solid()
	if err != nil {
		return nil, err
	}
	outer := f.Eye + 2*f.Wall
	neck := outer // the loft from eye to blade
	total := outer + neck + f.Length
	ring := rectangle(f.Width, outer)
	at := func(k Section, x float64) Section {
		k.Frame = Frame{X: x}
		k.U = x / total
		return k
	}
	s := &Solid{
		Form: FroeForm, Fine: Fineness{Spine: 4, Edge: 8, Face: 1.5, Start: 1, End: 1},
		Sections: []Section{at(ring, 0), at(ring, outer), at(blade.Sections[0], outer+neck), at(blade.Sections[1], total)},
		Cut:      (outer + neck + 0.5*f.Length) / total,
	}
	w := f.Eye / outer
	s.Voids = []Void{{"eye", Box{f.Wall / total, (f.Wall + f.Eye) / total, 0, 1, -w, w}, true, true}}
	u0 := (outer + neck + 0.05*f.Length) / total
	s.Zones = []Zone{
		{"edge", []Box{{u0, 1, 0.95, 1, -1, 1}}},
		{"spine", []Box{{u0, 1, 0, 0.12, -1, 1}}},
		{"core", []Box{{u0, 1, 0.2, 0.5, -0.3, 0.3}}},
		{"eye", []Box{{0, outer / total, 0, 1, -1, 1}}},
	}
	return s, nil
}

// Hatchet is a head from the poll to the edge at the end of its length. Heights
// run along the edge and the eye, thicknesses across it [m].
type Hatchet struct {
	Length                 float64
	Poll, PollThick        float64 // height and thickness at the poll
	Eye                    Eye     // Wide is across the thickness
	Cheek                  float64 // thickness of the head over the eye
	EdgeHeight, EdgeThick  float64 // at the edge, before it is ground sharp
	Behind, BehindDistance float64 // thickness of the blade this far behind the edge; 0: straight from eye to edge
}

// Solid returns the body, with the zones edge, blade, eye and poll.
func (h Hatchet) Solid() (*Solid, error) {
	if h.Behind == 0 {
		h.BehindDistance = 0.2 * (h.Length - h.Eye.At - h.Eye.Long/2)
		h.Behind = h.EdgeThick + 0.2*(h.Cheek-h.EdgeThick)
	}
	var bad problems
	bad.within("length", h.Length, 0.02, 0.5, "give the length from poll to edge")
	bad.within("poll", h.Poll, 5e-3, thickest, "give the height of the poll")
	bad.within("poll_thick", h.PollThick, 3e-3, thickest, "give the thickness of the poll")
	bad.within("edge", h.EdgeThick, thinnest, h.Cheek, "give the thickness at the edge, less than over the eye")
	bad.within("edge_height", h.EdgeHeight, 5e-3, thickest, "give the length of the edge")
	bad.within("behind", h.Behind, h.EdgeThick, h.Cheek, "give a thickness between edge and cheek")
	eyeFits(&bad, h.Eye, h.Length, h.Cheek)
	if err := bad.err(); err != nil {
		return nil, err
	}
	at := func(height, thick, x float64) Section {
		k := rectangle(height, thick)
		k.Frame.X, k.U = x, x/h.Length
		return k
	}
	a, b := h.Eye.At-h.Eye.Long/2, h.Eye.At+h.Eye.Long/2
	back := h.Length - h.BehindDistance
	after := b / h.Length
	s := &Solid{
		Form: HatchetForm, EndOn: true, Fine: Fineness{Spine: 1, Edge: 1, Face: 1.5, Start: 1, End: 8},
		Sections: []Section{
			at(h.Poll, h.PollThick, 0), at(h.Poll, h.Cheek, a), at(h.Poll, h.Cheek, b),
			at(h.EdgeHeight, h.Behind, back), at(h.EdgeHeight, h.EdgeThick, h.Length),
		},
		Cut: (b/h.Length + 1) / 2,
	}
	w := h.Eye.Wide / h.Cheek
	s.Voids = []Void{{"eye", Box{a / h.Length, b / h.Length, 0, 1, -w, w}, true, true}}
	e := min(0.05, 2e-3/h.Length)
	s.Zones = []Zone{
		{"edge", []Box{{1 - e, 1, 0, 1, -1, 1}}},
		{"blade", []Box{{after + 0.05, 1 - 2*e, 0, 1, -1, 1}}},
		{"eye", []Box{{a / h.Length, after, 0, 1, -1, 1}}},
		{"poll", []Box{{0, min(0.1, a/h.Length/2), 0, 1, -1, 1}}},
	}
	return s, nil
}

// Hammer is a head from its face to a peen that lies across the head or, where the
// peen is as thick as the head, to a second face [m].
type Hammer struct {
	Length       float64
	Face         Bar     // form and size of the face; its length is not read
	Body         float64 // side of the square over the eye
	Eye          Eye     // Wide is across the body
	PeenWidth    float64
	PeenThick    float64
	PeenDistance float64 // how far the peen's taper reaches back; 0: to the eye
}

// Solid returns the body, with the zones face, eye, peen and core.
func (h Hammer) Solid() (*Solid, error) {
	if h.PeenDistance == 0 {
		h.PeenDistance = h.Length - h.Eye.At - h.Eye.Long/2
	}
	h.Face.Length = h.Length
	face, err := h.Face.Solid()
	if err != nil {
		return nil, err
	}
	var bad problems
	bad.within("length", h.Length, 0.02, 0.5, "give the length of the head")
	bad.within("body", h.Body, 5e-3, 0.3, "give the side of the head over the eye")
	bad.within("peen_width", h.PeenWidth, 2e-3, 0.3, "give the width of the peen")
	bad.within("peen_thick", h.PeenThick, 1e-3, 0.3, "give the thickness of the peen")
	eyeFits(&bad, h.Eye, h.Length, h.Body)
	a, b := h.Eye.At-h.Eye.Long/2, h.Eye.At+h.Eye.Long/2
	bad.within("peen_distance", h.PeenDistance, 1e-3, h.Length-b+1e-9, "let the taper of the peen end before the eye")
	if err := bad.err(); err != nil {
		return nil, err
	}
	body := rectangle(h.Body, h.Body)
	at := func(k Section, x float64) Section {
		k.Frame, k.U = Frame{X: x}, x/h.Length
		return k
	}
	s := &Solid{
		Form: HammerForm, EndOn: true, Fine: Fineness{Spine: 1.5, Edge: 1.5, Face: 1.5, Start: 4, End: 4},
		Sections: []Section{at(face.Sections[0], 0), at(body, a), at(body, b)},
		Cut:      (b/h.Length + 1) / 2,
	}
	if back := h.Length - h.PeenDistance; back > b+1e-6 {
		s.Sections = append(s.Sections, at(body, back))
	}
	s.Sections = append(s.Sections, at(rectangle(h.PeenWidth, h.PeenThick), h.Length))
	w := h.Eye.Wide / h.Body
	s.Voids = []Void{{"eye", Box{a / h.Length, b / h.Length, 0, 1, -w, w}, true, true}}
	e := 3e-3 / h.Length
	s.Zones = []Zone{
		{"face", []Box{{0, e, 0, 1, -1, 1}}},
		{"core", []Box{{a / h.Length / 2, a/h.Length/2 + e, 0.3, 0.7, -0.4, 0.4}}},
		{"eye", []Box{{a / h.Length, b / h.Length, 0, 1, -1, 1}}},
		{"peen", []Box{{1 - e, 1, 0, 1, -1, 1}}},
	}
	return s, nil
}

// eyeFits demands metal on all sides of the eye.
func eyeFits(bad *problems, e Eye, length, wide float64) {
	bad.within("eye.long", e.Long, 3e-3, 0.8*length, "give the length of the eye along the head")
	bad.within("eye.wide", e.Wide, 2e-3, 0.8*wide, "leave a tenth of the thickness on both sides of the eye")
	if !(e.At-e.Long/2 > 2e-3 && e.At+e.Long/2 < length-2e-3) {
		bad.add("eye.at", e.At, fmt.Sprintf("from %.4g to %.4g mm", (e.Long/2+2e-3)*1000, (length-e.Long/2-2e-3)*1000), "move the eye into the head")
	}
}
