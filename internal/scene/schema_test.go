package scene

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

const schemaFile = "../../docs/scene.schema.json"

var update = flag.Bool("update", false, "write docs/scene.schema.json anew")

func TestThePublishedSchemaIsThatOfTheTypes(t *testing.T) {
	if *update {
		if err := os.WriteFile(schemaFile, Schema(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	published, err := os.ReadFile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(published, Schema()) {
		t.Error("docs/scene.schema.json is not that of the types; go test ./internal/scene -run PublishedSchema -update writes it")
	}
}

// published compiles the schema as an editor would read it.
func published(t *testing.T) *jsonschema.Schema {
	t.Helper()
	s, err := jsonschema.NewCompiler().Compile(schemaFile)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON turns YAML into what a validator of JSON takes.
func asJSON(t *testing.T, data []byte) any {
	t.Helper()
	j, err := yaml.YAMLToJSON(data)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(j))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestTheSchemaAcceptsTheScenesThatAreBuiltIn(t *testing.T) {
	s := published(t)
	names, err := filepath.Glob("../../scenes/*.yaml")
	if err != nil || len(names) < 5 {
		t.Fatalf("%d scenes, %v", len(names), err)
	}
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(asJSON(t, data)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := s.Validate(asJSON(t, []byte(whole1))); err != nil {
		t.Errorf("the scene of the slips: %v", err)
	}
}

// It also holds that the schema never refuses a slip that is marked as beyond
// it, so that the marks stay true.
func TestTheSchemaRefusesTheSlipsItCan(t *testing.T) {
	s := published(t)
	for _, w := range slips {
		err := s.Validate(asJSON(t, []byte(strings.Replace(whole1, w.old, w.wrong, 1))))
		if (err != nil) != w.schemaToo {
			t.Errorf("%q: schema says %v, marked %v", w.wrong, err, w.schemaToo)
		}
	}
}

func TestEveryKeyHasWordsForEditors(t *testing.T) {
	known := map[string]bool{}
	for _, key := range allKeys() {
		known[key] = true
		if keyWords[key] == "" {
			t.Errorf("%s has no words", key)
		}
	}
	for key := range keyWords {
		if !known[key] {
			t.Errorf("%s is no key of a scene", key)
		}
	}
}
