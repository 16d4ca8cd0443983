package schema_test

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"

	"simview/internal/schema"
)

type mark struct {
	Name  string `yaml:"name"`
	Place `yaml:",inline"`
	Off   bool   `yaml:"-"`
	Under []mark `yaml:"under"`
}

type Place struct {
	X float64 `yaml:"x"`
}

// TestAGroupTakesItsKeysAndNoOthers: the validator is someone else's.
func TestAGroupTakesItsKeysAndNoOthers(t *testing.T) {
	f := schema.Format{Rules: func(reflect.Type) schema.Object { return schema.Object{"required": []string{"name"}} }}
	s := compiled(t, f.Document(reflect.TypeFor[mark](), "", ""))
	for text, good := range map[string]bool{
		`{"name": "a", "x": 1.5}`:                          true,
		`{"name": "a", "under": [{"name": "b", "x": -1}]}`: true,
		`{"x": 1}`:                              false, // required
		`{"name": "a", "x": "1"}`:               false, // no number
		`{"name": "a", "Off": true}`:            false, // no key
		`{"name": "a", "-": true}`:              false,
		`{"name": "a", "Place": {"x": 1}}`:      false, // inline
		`{"name": "a", "under": {"name": "b"}}`: false, // no list
		`{"name": "a", "under": [{"x": 1}]}`:    false, // required further down
	} {
		v, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(v); (err == nil) != good {
			t.Errorf("%s: %v", text, err)
		}
	}
}

// compiled reads a document as an editor would.
func compiled(t *testing.T, document []byte) *jsonschema.Schema {
	t.Helper()
	name := filepath.Join(t.TempDir(), "made.json")
	if err := os.WriteFile(name, document, 0o644); err != nil {
		t.Fatal(err)
	}
	s, err := jsonschema.NewCompiler().Compile(name)
	if err != nil {
		t.Fatal(err)
	}
	return s
}
