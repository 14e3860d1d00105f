package calphad

import _ "embed"

//go:embed parameters/ATTRIBUTION.md
var attribution string

// Attribution returns the origin and license of the embedded parameters, as the
// license asks every copy of the program to carry them.
func Attribution() string { return attribution }
