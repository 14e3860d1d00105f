package main

import (
	"encoding/json"
	"fmt"
	"strings"

	"github.com/heatwright/heatwright/route"
	"github.com/heatwright/heatwright/sim"
	"github.com/invopop/jsonschema"
)

type schemaCmd struct {
	Of string `arg:"" optional:"" enum:"job,results,guide" default:"job" help:"job: schema of the job file; results: schema of what run --json writes; guide: the job file explained for people."`
}

func (c *schemaCmd) Run(d *desk) error {
	text := route.Schema()
	switch c.Of {
	case "results":
		text = resultsSchema()
	case "guide":
		text = route.Guide()
	}
	_, err := d.out.Write(text)
	return outside(err)
}

// resultsSchema returns the JSON Schema of a history, made from its types.
// Within /1 things are only added, so it lets unknown keys pass.
func resultsSchema() []byte {
	r := jsonschema.Reflector{AllowAdditionalProperties: true, DoNotReference: false, Anonymous: true}
	s := r.Reflect(&sim.History{})
	s.Title = "Results of Heatwright, " + sim.HistoryFormat
	s.Description = "Temperatures in °C, times in s from the start, hardness in HV with HRC null below 20, fractions of mass that sum to 1, names that do not change. Each estimate comes with its 10th and 90th percentile."
	for _, d := range s.Definitions {
		for p := d.Properties.Oldest(); p != nil; p = p.Next() {
			if strings.HasSuffix(p.Key, "_hrc") { // null below 20 HRC
				p.Value = &jsonschema.Schema{OneOf: []*jsonschema.Schema{p.Value, {Type: "null"}}}
			}
		}
	}
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic(fmt.Sprintf("schema of the results: %v", err))
	}
	return append(text, '\n')
}
