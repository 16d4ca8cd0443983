package schema

import (
	"bytes"
	"encoding/json"
	"maps"
	"reflect"
	"strings"
)

// Object is one level of a schema.
type Object = map[string]any

// Format is what one kind of file adds to what its types say by themselves. Keys
// are in the yaml tags of the fields; none and "-" is no key, and the keys of a
// field with ",inline" stand among those of its group. Functions may be nil.
type Format struct {
	// Words are the descriptions of the keys.
	Words map[string]string
	// Ending of the names of types, left out of the names of their definitions.
	Ending string
	// Own returns the schema of a type that is written in a way of its own under
	// a key, and nil for all others.
	Own func(m *Maker, t reflect.Type, key string) Object
	// Narrow adds to the schema s of a key in a group.
	Narrow func(group reflect.Type, f reflect.StructField, key string, s Object)
	// Rules returns what holds for several keys of a group at once, and which it
	// requires.
	Rules func(group reflect.Type) Object
}

// Document returns the JSON Schema (draft 2020-12) of files that are read into a
// struct of type root, indented, in UTF-8.
func (f Format) Document(root reflect.Type, title, about string) []byte {
	m := &Maker{Format: f, defs: Object{}}
	s := m.group(root)
	s["$defs"] = m.defs
	s["$schema"] = "https://json-schema.org/draft/2020-12/schema"
	s["title"] = title
	s["description"] = about
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	e.SetIndent("", "  ")
	if err := e.Encode(s); err != nil { // maps, strings and numbers only
		panic("schema: " + err.Error())
	}
	return b.Bytes()
}

// Maker makes one document. It collects the definitions that several keys share.
type Maker struct {
	Format
	defs Object
}

// of returns the schema of a type that stands under a key.
func (m *Maker) of(t reflect.Type, key string) Object {
	if m.Own != nil {
		if s := m.Own(m, t, key); s != nil {
			return s
		}
	}
	switch t.Kind() {
	case reflect.Pointer:
		return m.of(t.Elem(), key)
	case reflect.Struct:
		return m.Ref(t)
	case reflect.Slice:
		return Object{"type": "array", "items": m.of(t.Elem(), key)}
	case reflect.Map:
		return Object{"type": "object", "additionalProperties": m.of(t.Elem(), key)}
	case reflect.Float64:
		return Object{"type": "number"}
	case reflect.Bool:
		return Object{"type": "boolean"}
	case reflect.String:
		return Object{"type": "string"}
	}
	panic("schema: " + key + ": no schema for the type " + t.String())
}

// Ref returns a reference to the definition of a struct, made when first needed.
func (m *Maker) Ref(t reflect.Type) Object {
	name := strings.TrimSuffix(t.Name(), m.Ending)
	if _, ok := m.defs[name]; !ok {
		m.defs[name] = nil // a group may hold itself
		m.defs[name] = m.group(t)
	}
	return Object{"$ref": "#/$defs/" + name}
}

// group returns the schema of a group of keys.
func (m *Maker) group(t reflect.Type) Object {
	properties := Object{}
	m.keys(t, properties)
	g := Object{"type": "object", "additionalProperties": false, "properties": properties}
	if m.Rules != nil {
		maps.Copy(g, m.Rules(t))
	}
	return g
}

// keys adds the keys of a group and of the groups written inside it.
func (m *Maker) keys(t reflect.Type, properties Object) {
	for i := range t.NumField() {
		f := t.Field(i)
		key, rest, _ := strings.Cut(f.Tag.Get("yaml"), ",")
		switch {
		case rest == "inline":
			m.keys(f.Type, properties)
		case key != "" && key != "-":
			s := m.of(f.Type, key)
			if m.Narrow != nil {
				m.Narrow(t, f, key, s)
			}
			s["description"] = m.Words[key]
			properties[key] = s
		}
	}
}
