package main

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"strings"

	"github.com/heatwright/heatwright/cite"
	"github.com/heatwright/heatwright/sim"
	"github.com/heatwright/heatwright/steel"
)

// engine says what computed a result: the version, the revision of the source
// where the build knows it, and a hash of the data that it read.
func engine() sim.Engine {
	return sim.Engine{Name: "heatwright", Version: version, Build: strings.TrimPrefix(revision(), ", "), Data: dataHash()}
}

// dataHash is over the steels with their limits and the bibliography. The
// constants of the models are part of the source, which Build names.
func dataHash() string {
	h := sha256.New()
	for _, g := range steel.Grades() {
		low, high := g.Range()
		fmt.Fprintln(h, g.Name, g.Nominal(), low, high)
	}
	for _, s := range cite.All() {
		fmt.Fprintln(h, s)
	}
	return hex.EncodeToString(h.Sum(nil))[:16]
}
