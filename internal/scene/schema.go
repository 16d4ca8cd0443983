package scene

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
)

// object is one level of the schema.
type object = map[string]any

// Schema returns the JSON Schema (draft 2020-12) of a scene file, built from the
// Go types, their tags and the ranges of their numbers. Editors complete and
// check a scene with it; what needs more than one key at a time is checked by
// [Parse] alone.
func Schema() []byte {
	made := schema{defs: object{}}
	s := made.group(reflect.TypeFor[file]())
	s["$defs"] = made.defs
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "A scene for simview"
	s["description"] = "A piece of world in physical units: shapes with their luminance, and lamps. Coordinates are degrees as the patient sees, right and up positive."
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(s); err != nil { // maps, strings and numbers only
		panic(err)
	}
	return b.Bytes()
}

// schema collects the definitions that several keys share.
type schema struct{ defs object }

// of returns the schema of a type that stands under a key.
func (s schema) of(t reflect.Type, key string) object {
	switch {
	case t.Kind() == reflect.Pointer:
		return s.of(t.Elem(), key)
	case t.Kind() == reflect.Struct:
		return s.ref(t)
	case t.Kind() == reflect.Array:
		return object{"type": "array", "items": object{"type": "number"}, "minItems": t.Len(), "maxItems": t.Len()}
	case t.Kind() == reflect.Slice:
		list := object{"type": "array", "items": s.of(t.Elem(), key)}
		if key == "shapes" {
			list["minItems"] = 1
		}
		return list
	case t.Kind() == reflect.Map:
		return object{"type": "object", "additionalProperties": s.of(t.Elem(), key)}
	}
	return scalar(t, key)
}

// ref returns a reference to the definition of a group, made when first needed.
func (s schema) ref(t reflect.Type) object {
	name := strings.TrimSuffix(t.Name(), "Shape")
	if _, ok := s.defs[name]; !ok {
		s.defs[name] = nil
		s.defs[name] = s.group(t)
	}
	return object{"$ref": "#/$defs/" + name}
}

// group returns the schema of a group of keys.
func (s schema) group(t reflect.Type) object {
	properties := object{}
	s.keys(t, properties)
	g := object{"type": "object", "additionalProperties": false, "properties": properties}
	for k, v := range groupRules[t] {
		g[k] = v
	}
	if need := needed(t); len(need) > 0 {
		g["required"] = need
	}
	return g
}

// keys adds the keys of a group and of the groups written inside it.
func (s schema) keys(t reflect.Type, properties object) {
	for i := range t.NumField() {
		f := t.Field(i)
		key, rest, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		switch {
		case rest == "inline":
			s.keys(f.Type, properties)
		case key != "":
			p := s.of(f.Type, key)
			if r, ok := headSpans[key]; ok && t == reflect.TypeFor[file]() {
				p["minimum"], p["maximum"] = r.lo, r.hi
			}
			if words := keyChoices[key]; words != nil {
				p["enum"] = words
			}
			p["description"] = keyWords[key]
			properties[key] = p
		}
	}
}

// needed lists the keys that a group cannot do without.
func needed(t reflect.Type) []string {
	out := append([]string{}, groupNeeds[t]...)
	if _, drawn := t.FieldByName("Paint"); drawn {
		out = append(out, "cdm2")
	}
	return out
}

// scalar returns the schema of one word or number.
func scalar(t reflect.Type, key string) object {
	switch {
	case t == reflect.TypeFor[whole]():
		return object{"type": "integer"}
	case t.Kind() == reflect.Float64:
		s := object{"type": "number"}
		for k, v := range keyRanges[key] {
			s[k] = v
		}
		return s
	case t.Kind() == reflect.Bool:
		return object{"type": "boolean"}
	}
	return object{"type": "string"}
}
