package sim

import (
	"sync"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// metals keeps the metals of the last compositions: the equilibria behind one take
// some ten milliseconds, and whoever types at a job or spreads it over its bands
// comes back to the same ones. A metal is not changed by use.
var metals = struct {
	sync.Mutex
	known map[steel.Composition]*known
}{known: map[steel.Composition]*known{}}

type known struct {
	once  sync.Once
	metal *micro.Metal
	err   error
}

// mostMetals are kept; beyond it all are forgotten.
const mostMetals = 128

// metalOf returns the metal of a composition with its computed limits.
func metalOf(c steel.Composition) (*micro.Metal, error) {
	metals.Lock()
	k := metals.known[c]
	if k == nil {
		if len(metals.known) >= mostMetals {
			clear(metals.known)
		}
		k = &known{}
		metals.known[c] = k
	}
	metals.Unlock()
	k.once.Do(func() { k.metal, k.err = micro.New(c, nil) })
	return k.metal, k.err
}
