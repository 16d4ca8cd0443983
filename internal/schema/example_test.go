package schema_test

import (
	"fmt"
	"reflect"

	"simview/internal/schema"
)

type size struct {
	Width  float64 `yaml:"width_deg"`
	Height float64 `yaml:"height_deg"`
}

type sheet struct {
	Title string `yaml:"title"`
	Size  *size  `yaml:"size"`
}

func ExampleFormat_Document() {
	f := schema.Format{Words: map[string]string{"width_deg": "From left to right.", "height_deg": "From bottom to top."}}
	fmt.Printf("%s", f.Document(reflect.TypeFor[size](), "A size", "How large a thing is."))
	// Output:
	// {
	//   "$defs": {},
	//   "$schema": "https://json-schema.org/draft/2020-12/schema",
	//   "additionalProperties": false,
	//   "description": "How large a thing is.",
	//   "properties": {
	//     "height_deg": {
	//       "description": "From bottom to top.",
	//       "type": "number"
	//     },
	//     "width_deg": {
	//       "description": "From left to right.",
	//       "type": "number"
	//     }
	//   },
	//   "title": "A size",
	//   "type": "object"
	// }
}

// A size may also be written as one word.
func ExampleMaker_Ref() {
	f := schema.Format{Own: func(m *schema.Maker, t reflect.Type, key string) schema.Object {
		if t != reflect.TypeFor[size]() {
			return nil
		}
		either := []any{schema.Object{"const": "full"}, m.Ref(t)}
		fmt.Println(key, either)
		return schema.Object{"anyOf": either}
	}}
	f.Document(reflect.TypeFor[sheet](), "A sheet", "")
	// Output: size [map[const:full] map[$ref:#/$defs/size]]
}
