package casefile

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

const schemaFile = "../../docs/case.schema.json"

var update = flag.Bool("update", false, "write docs/case.schema.json anew")

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
		t.Error("docs/case.schema.json is not that of the types; go test ./internal/casefile -run PublishedSchema -update writes it")
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

// asJSON turns YAML into what a validator of JSON takes, by a route that shares
// nothing with the reader of this package but the YAML library.
func asJSON(t *testing.T, data []byte) any {
	t.Helper()
	j, err := yaml.YAMLToJSON(data)
	if err != nil {
		return err.Error()
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(j))
	if err != nil {
		return err.Error()
	}
	return v
}

func TestTheSchemaAcceptsTheCasesOfThisProject(t *testing.T) {
	s := published(t)
	for _, name := range []string{"demo/demo.yaml", "../../testdata/cases/second.yaml"} {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(asJSON(t, data)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := s.Validate(asJSON(t, []byte(base))); err != nil {
		t.Errorf("the base of the table: %v", err)
	}
}

// TestTheSchemaRefusesWhatItCan also holds that the schema never refuses a slip
// that is marked as beyond it, so that the marks stay true.
func TestTheSchemaRefusesWhatItCan(t *testing.T) {
	s := published(t)
	for _, w := range slips {
		text := strings.Replace(base, w.old, w.wrong, 1)
		v := asJSON(t, []byte(text))
		if _, notReadable := v.(string); notReadable && !w.schemaToo {
			continue
		}
		if err := s.Validate(v); (err != nil) != w.schemaToo {
			t.Errorf("%q: schema says %v, marked %v", w.wrong, err, w.schemaToo)
		}
	}
}

// onlyTogether are the broken cases that no schema can refuse, since it sees
// one document, one key at a time, and no other file.
var onlyTogether = []string{"field-file-missing", "field-of-another-pattern", "field-of-three-points", "field-point-twice", "two-cases", "twice"}

func TestBrokenCasesAreRefusedByReaderAndSchema(t *testing.T) {
	s := published(t)
	names, _ := filepath.Glob("../../testdata/cases/broken/*.yaml")
	if len(names) < 18 {
		t.Fatalf("%d broken cases, want 18", len(names))
	}
	for _, name := range names {
		if _, _, err := Load(name); err == nil || !strings.Contains(err.Error(), "; hint: ") {
			t.Errorf("%s: %v, want an error with a hint", name, err)
		}
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		short := strings.TrimSuffix(filepath.Base(name), ".yaml")
		beyond := strings.Contains(strings.Join(onlyTogether, " ")+" ", short+" ")
		if err := s.Validate(asJSON(t, data)); err == nil && !beyond {
			t.Errorf("%s: the schema accepts it", name)
		}
	}
}

// TestSchemaAndTypesHaveTheSameKeys walks the types and the compiled schema side
// by side, in both directions.
func TestSchemaAndTypesHaveTheSameKeys(t *testing.T) {
	n := sameKeys(t, published(t), reflect.TypeFor[Case](), "")
	if n < 80 {
		t.Errorf("only %d keys were compared", n)
	}
}

func sameKeys(t *testing.T, s *jsonschema.Schema, typ reflect.Type, path string) (n int) {
	for s.Ref != nil {
		s = s.Ref
	}
	for typ.Kind() == reflect.Pointer {
		typ = typ.Elem()
	}
	switch {
	case isValue(typ):
		long := s.AnyOf[1]
		if long.Properties["value"] == nil || long.Ref == nil {
			t.Errorf("%s: no long form", path)
			return 0
		}
		return sameKeys(t, long.Ref, reflect.TypeFor[valueGroup](), path)
	case typ == reflect.TypeFor[Check]():
		s = s.AnyOf[1].Ref
	case typ.Kind() == reflect.Slice:
		return sameKeys(t, s.Items2020, typ.Elem(), path+"[]")
	case typ.Kind() != reflect.Struct:
		return 0
	}
	known := map[string]bool{}
	for i := range typ.NumField() {
		f := typ.Field(i)
		key := keyOf(f)
		if key == "" {
			continue
		}
		known[key] = true
		n++
		sub := s.Properties[key]
		if sub == nil {
			t.Errorf("%s.%s: not in the schema", path, key)
			continue
		}
		n += sameKeys(t, sub, f.Type, path+"."+key)
	}
	for key := range s.Properties {
		if !known[key] {
			t.Errorf("%s.%s: in the schema, not in the types", path, key)
		}
	}
	if open, ok := s.AdditionalProperties.(bool); !ok || open {
		t.Errorf("%s: other keys are let in", path)
	}
	return n
}

// everyKey calls do for each key below a type.
func everyKey(typ reflect.Type, do func(key string, f reflect.StructField)) {
	for typ.Kind() == reflect.Pointer || typ.Kind() == reflect.Slice {
		typ = typ.Elem()
	}
	if typ.Kind() != reflect.Struct || isValue(typ) {
		return
	}
	for i := range typ.NumField() {
		f := typ.Field(i)
		if key := keyOf(f); key != "" {
			do(key, f)
			everyKey(f.Type, do)
		}
	}
}

func TestEveryKeyIsExplainedAndEveryNumberHasARange(t *testing.T) {
	guide, err := os.ReadFile("../../docs/case.md")
	if err != nil {
		t.Fatal(err)
	}
	check := func(key string, f reflect.StructField) {
		if keyWords[key] == "" {
			t.Errorf("%s: not explained in keyWords", key)
		}
		if !bytes.Contains(guide, []byte("`"+key+"`")) {
			t.Errorf("%s: not explained in docs/case.md", key)
		}
		if scalar, isNumber := numberType(f.Type); isNumber {
			if _, ok := spans[key]; !ok {
				t.Errorf("%s: %s without a range", key, scalar)
			}
			if unitOf(key) == "" && key != "decimal" && key != "log_s" && key != "sd" && key != "corneal_asphericity_q" { // ratios and counts have no unit
				t.Errorf("%s: a number whose key does not carry its unit", key)
			}
		}
	}
	everyKey(reflect.TypeFor[Case](), check)
	everyKey(reflect.TypeFor[valueGroup](), check)
}

// numberType returns the number that stands under a key, if it is one.
func numberType(typ reflect.Type) (reflect.Type, bool) {
	if typ.Kind() == reflect.Map {
		typ = typ.Elem()
	}
	if isValue(typ) {
		v, _ := typ.FieldByName("V")
		typ = v.Type
	}
	return typ, typ.Kind() == reflect.Float64
}
