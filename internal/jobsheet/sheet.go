// Package jobsheet lays out the page that a smith works from: one side to hang
// beside the fire, with what to do and what will come of it, and a back with
// the reasons, the other unit and the notes. It computes no physics; every
// number is read off a history, every sentence comes from package words.
//
// The front keeps to hard limits, which a test holds: at most 40 lines and 260
// words, in type of 13 points and more, in black and white. What does not fit
// goes to the back and says so; the type does not shrink.
package jobsheet

import (
	"strings"
	"unicode"

	"github.com/heatwright/heatwright/internal/words"
)

// The limits of the front.
const (
	MaxLines = 40
	MaxWords = 260
	MinPoint = 13
)

// Kind is how a block is drawn.
type Kind int

// The kinds of block.
const (
	Plain   Kind = iota
	Ticks        // each line has a box to tick
	Boxed        // large, in a frame, numbered
	Columns      // each line has cells
)

// Line is one thing to do or to know. The caution that belongs to it stands
// behind it in bold.
type Line struct {
	Text    string
	Caution string
	Cells   []string // of a block of kind Columns

	// Text and Caution cut at their numbers, each with who says it; nil where nobody asked.
	Parts, Warning []words.Part
}

// Block is a part of the sheet under its title.
type Block struct {
	// Part is its stable id. Front: "ready", "work", "harden", "soften", "temper", "test", "failed",
	// "expected". Back: "cautions", "why", "units", "steps", "assumed", "notes", "figures", "sources".
	Part  string
	Title string
	Kind  Kind
	Lines []Line
}

// Sheet is the job sheet in words, before any paper.
type Sheet struct {
	Title   string // the piece
	Mark    string // strokes on the tang
	Demo    string // "demo data", or empty
	Lead    []string
	Verdict string // the one answer
	Detail  string // what stands behind it, or what to do instead
	Good    bool   // the verdict is the one that was hoped for
	Front   []Block
	Foot    string
	Back    []Block
	Letter  bool   // paper: US letter instead of A4
	Lang    string // of the words: "en-US"
	Words   Labels

	VerdictParts, DetailParts []words.Part // Verdict and Detail cut at their numbers
}

// Labels are the few words of the frame itself.
type Labels struct{ Back, Mark string }

// CountWords returns the number of words on the front: runs of characters
// between spaces that hold a letter or a digit.
func (s *Sheet) CountWords() int {
	n := 0
	for _, t := range s.texts() {
		for _, w := range strings.Fields(t) {
			if strings.IndexFunc(w, func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }) >= 0 {
				n++
			}
		}
	}
	return n
}

// texts returns every text of the front.
func (s *Sheet) texts() []string {
	all := append([]string{s.Title, s.Mark, s.Demo, s.Verdict, s.Detail, s.Foot}, s.Lead...)
	for _, b := range s.Front {
		all = append(all, b.Title)
		for _, l := range b.Lines {
			all = append(all, l.Text, l.Caution)
			all = append(all, l.Cells...)
		}
	}
	return all
}
