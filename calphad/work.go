package calphad

// work is the scratch memory of one solve in one system. It belongs to one
// goroutine at a time.
type work struct {
	sys    *System
	T      float64
	values []*values // parameters of each phase at T
	loaded []bool
	jets   []jet
	free   [][]*spot // spots to use again, per phase

	b    []float64 // moles of each element, summing to one
	mu   []float64 // potentials [J/mol]
	set  []*spot   // the stable composition sets
	test []*spot   // where each phase comes nearest to the plane

	dy, yOld, f []float64
	matrix, rhs []float64
	fix         int // which set keeps a fixed amount while T is free
	columns     []column
	found       []*spot
	barred      []*spot
	testNext    []*spot
	yStart      []float64
	lead        [8]int
	ends        []int
	weights     []float64
}

func newWork(sys *System) *work {
	w := &work{sys: sys, loaded: make([]bool, len(sys.phases)), jets: make([]jet, len(sys.basis.powers)), free: make([][]*spot, len(sys.phases))}
	widest := 0
	for _, p := range sys.phases {
		w.values = append(w.values, newValues(p))
		widest = max(widest, p.n)
	}
	n := len(sys.symbols)
	w.b, w.mu = make([]float64, n), make([]float64, n)
	w.dy, w.yOld, w.f = make([]float64, widest), make([]float64, widest), make([]float64, widest)
	w.yStart = make([]float64, widest)
	size := n + maxSets + 2
	w.matrix, w.rhs = make([]float64, size*size), make([]float64, size)
	return w
}

// maxSets bounds the composition sets of one solve. The phase rule allows as
// many as there are elements, twelve at most, and a few more come and go.
const maxSets = 24

// at sets the temperature [K].
func (w *work) at(T float64) {
	if T == w.T {
		return
	}
	w.T = T
	clear(w.loaded)
	w.sys.basis.at(w.jets, T)
}

// state returns the parameters of phase i at the temperature of the solve.
func (w *work) state(i int) *values {
	v := w.values[i]
	if !w.loaded[i] {
		w.sys.phases[i].values(v.v, v.d, v.dd, w.T, w.jets)
		v.T = w.T
		w.loaded[i] = true
	}
	return v
}

func (w *work) take(at int) *spot {
	if list := w.free[at]; len(list) > 0 {
		s := list[len(list)-1]
		w.free[at] = list[:len(list)-1]
		s.drive = 0
		return s
	}
	p := w.sys.phases[at]
	return &spot{y: make([]float64, p.n), x: make([]float64, len(w.sys.symbols)), o: newParts(p.n)}
}

func (w *work) give(s *spot) { w.free[s.at] = append(w.free[s.at], s) }

// drop returns all spots of a list to the store.
func (w *work) drop(list []*spot) []*spot {
	for _, s := range list {
		w.give(s)
	}
	return list[:0]
}
