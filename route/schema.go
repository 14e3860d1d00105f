package route

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
)

// Schema returns the JSON Schema (draft 2020-12) of the job file, made from the
// same types and tags that Parse and Write use. Editors take it for help while
// typing; Parse checks more than a schema can say.
func Schema() []byte {
	s := tableSchema(reflect.TypeOf(Job{}))
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "Heatwright job file, format 1"
	text, err := json.MarshalIndent(s, "", "  ")
	if err != nil {
		panic("route: schema: " + err.Error())
	}
	return append(text, '\n')
}

type object = map[string]any

// tableSchema describes a struct: one object, or one for each form or verb.
func tableSchema(t reflect.Type) object {
	var variants []string
	for f := range fields(t) {
		if f.variant {
			variants = strings.Split(f.one, "|")
		}
	}
	if variants == nil {
		return variantSchema(t, "")
	}
	all := make([]object, len(variants))
	for i, v := range variants {
		all[i] = variantSchema(t, v)
	}
	return object{"oneOf": all}
}

func variantSchema(t reflect.Type, variant string) object {
	properties := object{}
	var required []string
	for f := range fields(t) {
		if f.only != "" && !slices.Contains(strings.Fields(f.only), variant) {
			continue
		}
		p := fieldSchema(t.FieldByIndex(f.index).Type, f)
		if f.variant {
			p = object{"const": variant}
		}
		if f.doc != "" {
			p["description"] = f.doc
		}
		properties[f.key] = p
		if f.need == "*" || variant != "" && slices.Contains(strings.Fields(f.need), variant) {
			required = append(required, f.key)
		}
	}
	s := object{"type": "object", "properties": properties, "additionalProperties": false}
	if required != nil {
		s["required"] = required
	}
	return s
}

func fieldSchema(t reflect.Type, f field) object {
	switch x := reflect.New(t).Interface().(type) {
	case quantity:
		what, example := x.want()
		s := object{"type": "string", "examples": []string{example}, "title": what}
		if f.min != "" {
			s["title"] = what + " from " + f.min + " to " + f.max
		}
		return s
	case *Ending:
		return object{"type": "string", "examples": []string{"90 s", "815 C at edge", MagnetOff, "at heat", HandWarm, BlackHeat, Cold}}
	case *[]Wish:
		return object{"type": "object", "additionalProperties": object{"type": "string", "examples": []string{"60-62 HRC"}}}
	}
	switch t.Kind() {
	case reflect.Struct:
		return tableSchema(t)
	case reflect.Slice:
		list := object{"type": "array", "items": tableSchema(t.Elem()), "minItems": 1}
		if f.single {
			return object{"anyOf": []object{tableSchema(t.Elem()), list}}
		}
		return list
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.Int:
		return object{"type": "integer", "minimum": 1}
	}
	s := object{"type": "string", "maxLength": f.longest()}
	if f.one != "" {
		s["enum"] = strings.Split(f.one, "|")
	}
	return s
}
