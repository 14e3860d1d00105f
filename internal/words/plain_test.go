package words

import (
	"errors"
	"testing"
)

func TestPlainLeavesTheRoomsOut(t *testing.T) {
	for in, want := range map[string]string{
		"steel: carbon 9 %: that is cast iron":                    "carbon 9 %: that is cast iron",
		"--composition: steel: carbon 4 %":                        "--composition: carbon 4 %",
		"sim: step temper: shop: oven kiln: dial 1500 °C: limits": "step temper: oven kiln: dial 1500 °C: limits",
		"both name a steel: give one of them":                     "both name a steel: give one of them",
		"no room in it":                                           "no room in it",
	} {
		if got := Plain(errors.New(in)); got != want {
			t.Errorf("%q: %q", in, got)
		}
	}
}
