package scene

import (
	"maps"
	"reflect"

	"simview/internal/schema"
)

// object is one level of the schema.
type object = schema.Object

// Schema returns the JSON Schema (draft 2020-12) of a scene file, built from the
// Go types, their tags and the ranges of their numbers. Editors complete and
// check a scene with it; what needs more than one key at a time is checked by
// [Parse] alone.
func Schema() []byte {
	f := schema.Format{Words: keyWords, Ending: "Shape", Own: ownSchema, Narrow: narrow, Rules: rulesOf}
	return f.Document(reflect.TypeFor[file](), "A scene for simview",
		"A piece of world in physical units: shapes with their luminance, and lamps. Coordinates are degrees as the patient sees, right and up positive.")
}

// ownSchema returns the schema of pairs, whole numbers and numbers.
func ownSchema(_ *schema.Maker, t reflect.Type, key string) object {
	switch {
	case t.Kind() == reflect.Array:
		return object{"type": "array", "items": object{"type": "number"}, "minItems": t.Len(), "maxItems": t.Len()}
	case t == reflect.TypeFor[whole]():
		return object{"type": "integer"}
	case t.Kind() == reflect.Float64:
		s := object{"type": "number"}
		maps.Copy(s, keyRanges[key])
		return s
	}
	return nil
}

// narrow adds to the schema of a key what only this key is held to.
func narrow(group reflect.Type, _ reflect.StructField, key string, s object) {
	if r, ok := headSpans[key]; ok && group == reflect.TypeFor[file]() {
		s["minimum"], s["maximum"] = r.lo, r.hi
	}
	if words := keyChoices[key]; words != nil {
		s["enum"] = words
	}
	if key == "shapes" {
		s["minItems"] = 1
	}
}

// rulesOf returns what a group is held to as a whole.
func rulesOf(group reflect.Type) object {
	g := object{}
	maps.Copy(g, groupRules[group])
	if need := needed(group); len(need) > 0 {
		g["required"] = need
	}
	return g
}

// needed lists the keys that a group cannot do without.
func needed(t reflect.Type) []string {
	out := append([]string{}, groupNeeds[t]...)
	if _, drawn := t.FieldByName("Paint"); drawn {
		out = append(out, "cdm2")
	}
	return out
}
