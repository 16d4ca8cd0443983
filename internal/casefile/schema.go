package casefile

import (
	"maps"
	"reflect"

	"simview/internal/schema"
)

// object is one level of the schema.
type object = schema.Object

// Schema returns the JSON Schema (draft 2020-12) of a case file, built from the
// Go types, their tags and the ranges of their numbers. Editors complete and
// check a case with it; what needs more than one key at a time is checked by
// [Parse] alone.
func Schema() []byte {
	f := schema.Format{Words: keyWords, Own: ownSchema, Narrow: narrow, Rules: rulesOf}
	return f.Document(reflect.TypeFor[Case](), "A case for simview",
		"What is known about one person's eyes. Every number may be written plainly (measured) or as a group of value, sd, from and source.")
}

// ownSchema returns the schema of values, of checks, of words and of numbers.
func ownSchema(m *schema.Maker, t reflect.Type, key string) object {
	switch {
	case isValue(t):
		return valueSchema(m, t, key)
	case t == reflect.TypeFor[Check]():
		f, _ := t.FieldByName("State")
		return object{"anyOf": []any{object{"enum": choices(f)}, m.Ref(t)}}
	}
	return scalarSchema(t, key)
}

// narrow adds to the schema of a key what only this key is held to.
func narrow(_ reflect.Type, f reflect.StructField, _ string, s object) {
	if words := choices(f); words != nil {
		s["enum"] = words
	}
	if f.Type.Kind() == reflect.Map {
		s["minProperties"] = 1
	}
}

// rulesOf returns what a group is held to as a whole.
func rulesOf(group reflect.Type) object {
	g, required := object{}, []string{}
	for i := range group.NumField() {
		if f := group.Field(i); keyOf(f) != "" && f.Tag.Get("need") != "" {
			required = append(required, keyOf(f))
		}
	}
	if len(required) > 0 {
		g["required"] = required
	}
	maps.Copy(g, groupRules[group])
	return g
}

// valueSchema returns the schema of a value: plain, or with its provenance.
func valueSchema(m *schema.Maker, t reflect.Type, key string) object {
	v, _ := t.FieldByName("V")
	plain := scalarSchema(v.Type, key)
	long := m.Ref(reflect.TypeFor[valueGroup]())
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

// scalarSchema returns the schema of one word or number, nil for other types.
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
	case reflect.Interface: // the value of the long form, narrowed where it is used
		return object{}
	case reflect.String:
		return object{"type": "string", "minLength": 1}
	}
	return nil
}
