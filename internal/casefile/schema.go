package casefile

import (
	"bytes"
	"encoding/json"
	"reflect"
	"strings"
)

// object is one level of the schema.
type object = map[string]any

// Schema returns the JSON Schema (draft 2020-12) of a case file, built from the
// Go types, their tags and the ranges of their numbers. Editors complete and
// check a case with it; what needs more than one key at a time is checked by
// [Parse] alone.
func Schema() []byte {
	made := schema{defs: object{}}
	s := made.group(reflect.TypeFor[Case]())
	s["$defs"] = made.defs
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = "A case for simview"
	s["description"] = "What is known about one person's eyes. Every number may be written plainly (measured) or as a group of value, sd, from and source."
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
	case isValue(t):
		return s.value(t, key)
	case t == reflect.TypeFor[Check]():
		f, _ := t.FieldByName("State")
		return object{"anyOf": []any{object{"enum": strings.Split(f.Tag.Get("one"), ",")}, s.ref(t)}}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return s.of(t.Elem(), key)
	case reflect.Struct:
		return s.ref(t)
	case reflect.Slice:
		return object{"type": "array", "items": s.of(t.Elem(), key)}
	case reflect.Map:
		return object{"type": "object", "minProperties": 1, "additionalProperties": s.of(t.Elem(), key)}
	}
	return scalarSchema(t, key)
}

// ref returns a reference to the definition of a group, made when first needed.
func (s schema) ref(t reflect.Type) object {
	if _, ok := s.defs[t.Name()]; !ok {
		s.defs[t.Name()] = nil
		s.defs[t.Name()] = s.group(t)
	}
	return object{"$ref": "#/$defs/" + t.Name()}
}

// group returns the schema of a group of keys.
func (s schema) group(t reflect.Type) object {
	properties, required := object{}, []string{}
	for i := range t.NumField() {
		f := t.Field(i)
		key := keyOf(f)
		if key == "" {
			continue
		}
		p := s.of(f.Type, key)
		if words := f.Tag.Get("one"); words != "" {
			p["enum"] = strings.Split(words, ",")
		}
		p["description"] = keyWords[key]
		properties[key] = p
		if f.Tag.Get("need") != "" {
			required = append(required, key)
		}
	}
	g := object{"type": "object", "additionalProperties": false, "properties": properties}
	if len(required) > 0 {
		g["required"] = required
	}
	for k, v := range groupRules[t] {
		g[k] = v
	}
	return g
}

// value returns the schema of a value: plain, or with its provenance.
func (s schema) value(t reflect.Type, key string) object {
	v, _ := t.FieldByName("V")
	plain := scalarSchema(v.Type, key)
	long := s.ref(reflect.TypeFor[valueGroup]())
	long["properties"] = object{"value": plain}
	return object{"anyOf": []any{plain, long}}
}

// groupRules holds what a schema can say about several keys of a group at once.
var groupRules = map[reflect.Type]object{
	reflect.TypeFor[valueGroup](): {
		"required": []string{"value"},
		"if":       object{"properties": object{"from": object{"enum": []string{"typical", "assumed"}}}, "required": []string{"from"}},
		"then":     object{"required": []string{"source"}},
	},
	reflect.TypeFor[Eyes]():      {"minProperties": 1},
	reflect.TypeFor[Biometry]():  {"minProperties": 1, "dependentRequired": object{"corneal_radius_flat_mm": []string{"corneal_radius_steep_mm"}, "corneal_radius_steep_mm": []string{"corneal_radius_flat_mm"}}},
	reflect.TypeFor[Eye]():       {"anyOf": anyRequired("pupil_bright_mm", "pupil_dim_mm")},
	reflect.TypeFor[Glasses]():   {"oneOf": []any{object{"required": []string{"none"}}, object{"required": []string{"add_d"}}, object{"required": []string{"sphere_d", "vertex_mm"}}}},
	reflect.TypeFor[FieldData](): {"oneOf": anyRequired("csv", "points")},
	reflect.TypeFor[Acuity]():    {"oneOf": anyRequired("logmar", "decimal", "snellen")},
}

// anyRequired returns one rule for each key that asks for it.
func anyRequired(keys ...string) []any {
	var out []any
	for _, k := range keys {
		out = append(out, object{"required": []string{k}})
	}
	return out
}

// scalarSchema returns the schema of one word or number.
func scalarSchema(t reflect.Type, key string) object {
	switch t.Kind() {
	case reflect.Float64:
		s := object{"type": "number"}
		if r, ok := spans[key]; ok {
			s["minimum"], s["maximum"] = r.lo, r.hi
		}
		return s
	case reflect.Bool:
		return object{"type": "boolean"}
	case reflect.Uint64:
		return object{"type": "integer", "minimum": 0, "maximum": 1<<53 - 1}
	}
	if t.Kind() == reflect.Interface { // the value of the long form, narrowed where it is used
		return object{}
	}
	return object{"type": "string", "minLength": 1}
}
