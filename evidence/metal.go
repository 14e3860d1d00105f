package evidence

import (
	"sync"

	"github.com/heatwright/heatwright/micro"
	"github.com/heatwright/heatwright/steel"
)

// limitsOf returns the computed equilibrium limits of a composition, as a run
// of a job takes them; nil, for the regressions, where there are none.
func limitsOf(c steel.Composition) micro.Limits {
	once, _ := limitCache.LoadOrStore(c, sync.OnceValue(func() micro.Limits {
		l, err := micro.Equilibrium(c)
		if err != nil {
			return nil
		}
		return l
	}))
	return once.(func() micro.Limits)()
}

var limitCache sync.Map
