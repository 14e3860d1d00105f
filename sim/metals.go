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
	known map[bars]*known
}{known: map[bars]*known{}}

// bars are that which is asked for and the one that it is like.
type bars struct{ own, like steel.Composition }

type known struct {
	once  sync.Once
	metal *micro.Metal
	err   error
}

// mostMetals are kept; beyond it all are forgotten.
const mostMetals = 128

// metalOf returns the metal of a composition with its computed limits, found from those of a bar
// that it is like when there is one.
func metalOf(c, like steel.Composition) (*micro.Metal, error) {
	if like == c {
		like = steel.Composition{}
	}
	key := bars{c, like}
	metals.Lock()
	k := metals.known[key]
	if k == nil {
		if len(metals.known) >= mostMetals {
			clear(metals.known)
		}
		k = &known{}
		metals.known[key] = k
	}
	metals.Unlock()
	k.once.Do(func() {
		if like == (steel.Composition{}) {
			k.metal, k.err = micro.New(c, nil)
			return
		}
		base, err := metalOf(like, steel.Composition{})
		if err != nil {
			k.err = err
			return
		}
		k.metal, k.err = base.Near(c)
	})
	return k.metal, k.err
}
