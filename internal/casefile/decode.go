package casefile

import (
	"io/fs"
	"math"
	"reflect"
	"strconv"
	"strings"

	"github.com/goccy/go-yaml/ast"

	"simview/internal/unit"
)

// decoder fills the Go types from the tree by their yaml tags and remembers
// where each key stood, so that later checks can name the line.
type decoder struct {
	file     string
	problems Problems
	notices  []Notice
	lines    map[string]int // key path to line
	meant    []string       // paths that a mistyped key stands for
	fs       fs.FS          // where named files lie, may be nil
}

// maxProblems ends the list for a file that is wrong everywhere.
const maxProblems = 100

// add records a problem at a key path.
func (d *decoder) add(path, what, got, hint string) {
	if len(d.problems) == maxProblems {
		return
	}
	d.problems = append(d.problems, Problem{File: d.file, Line: d.lineOf(path), Key: path, What: what, Got: got, Hint: hint})
}

// lineOf returns the line of a key path, or of the closest group around it.
func (d *decoder) lineOf(path string) int {
	for path != "" {
		if n, ok := d.lines[path]; ok {
			return n
		}
		path = path[:max(0, strings.LastIndexByte(path, '.'))]
	}
	return 1
}

// into decodes a node into v, whatever v is.
func (d *decoder) into(n ast.Node, v reflect.Value, path string) {
	if _, null := n.(*ast.NullNode); null || n == nil {
		d.add(path, "has no value", "", "write a value after the colon or leave the key out")
		return
	}
	switch t := v.Type(); {
	case isValue(t):
		d.value(n, v, path)
	case t == reflect.TypeFor[Check]():
		d.check(n, v, path)
	case t.Kind() == reflect.Pointer:
		v.Set(reflect.New(t.Elem()))
		d.into(n, v.Elem(), path)
	case t.Kind() == reflect.Struct:
		d.group(n, v, path)
	case t.Kind() == reflect.Slice:
		d.list(n, v, path)
	case t.Kind() == reflect.Map:
		d.table(n, v, path)
	default:
		d.scalar(n, v, path)
	}
}

// group decodes a mapping into a struct; unknown keys are refused.
func (d *decoder) group(n ast.Node, v reflect.Value, path string) {
	kvs, ok := entries(n)
	if !ok {
		d.add(path, "must be a group of keys", shown(n), "indent its keys under it: "+strings.Join(keysOf(v.Type()), ", "))
		return
	}
	given := map[string]bool{}
	for _, kv := range kvs {
		key, _ := text(kv.Key)
		sub := join(path, key)
		d.lines[sub] = line(kv.Key)
		if f, known := fieldByKey(v, key); known {
			given[key] = true
			d.into(kv.Value, f, sub)
		} else {
			d.unknown(sub, key, kv.Value, keysOf(v.Type()))
		}
	}
	d.rules(v, path, given)
	if v.Type() == reflect.TypeFor[FieldData]() {
		v.FieldByName("Line").SetInt(int64(d.lineOf(path)))
	}
}

// rules applies the tags need and one to the keys of a group.
func (d *decoder) rules(v reflect.Value, path string, given map[string]bool) {
	for i := range v.NumField() {
		f := v.Type().Field(i)
		sub := join(path, keyOf(f))
		if hint := f.Tag.Get("need"); hint != "" && !given[keyOf(f)] && !d.failed(sub) {
			d.add(sub, "is missing", "", hint)
		}
		if words := choices(f); words != nil && given[keyOf(f)] && !d.failed(sub) {
			d.oneOf(sub, v.Field(i).String(), words)
		}
	}
}

// list decodes a sequence into a slice.
func (d *decoder) list(n ast.Node, v reflect.Value, path string) {
	seq, ok := n.(*ast.SequenceNode)
	if !ok {
		d.add(path, "must be a list", shown(n), "start each entry with a dash")
		return
	}
	out := reflect.MakeSlice(v.Type(), len(seq.Values), len(seq.Values))
	for i, item := range seq.Values {
		sub := path + "[" + strconv.Itoa(i+1) + "]"
		d.lines[sub] = line(item)
		if kvs, ok := entries(item); ok && len(kvs) > 0 {
			d.lines[sub] = line(kvs[0].Key)
		}
		d.into(item, out.Index(i), sub)
	}
	v.Set(out)
}

// table decodes a mapping with free keys into a map.
func (d *decoder) table(n ast.Node, v reflect.Value, path string) {
	kvs, ok := entries(n)
	if !ok {
		d.add(path, "must be a table of terms", shown(n), `write one term per line, as in "3,1": 0.12`)
		return
	}
	v.Set(reflect.MakeMap(v.Type()))
	for _, kv := range kvs {
		key, _ := text(kv.Key)
		sub := join(path, key)
		d.lines[sub] = line(kv.Key)
		item := reflect.New(v.Type().Elem()).Elem()
		d.into(kv.Value, item, sub)
		v.SetMapIndex(reflect.ValueOf(key), item)
	}
}

// check decodes a check: done, not-done, or a group of state and words.
func (d *decoder) check(n ast.Node, v reflect.Value, path string) {
	if _, isGroup := entries(n); isGroup {
		d.group(n, v, path)
		return
	}
	d.scalar(n, v.FieldByName("State"), path)
	if !d.failed(path) {
		f, _ := v.Type().FieldByName("State")
		d.oneOf(path, v.FieldByName("State").String(), choices(f))
	}
}

// value decodes a plain scalar, taken as measured, or a group of value, sd,
// from and source, into a unit.Value.
func (d *decoder) value(n ast.Node, v reflect.Value, path string) {
	before := len(d.problems)
	var g valueGroup
	if _, isGroup := entries(n); isGroup {
		d.valueGroup(n, v, &g, path)
	} else {
		d.scalar(n, v.FieldByName("V"), path)
	}
	origin := d.origin(g, path)
	if len(d.problems) > before {
		v.SetZero()
		return
	}
	v.FieldByName("SD").SetFloat(g.SD)
	v.FieldByName("From").SetInt(int64(origin))
	v.FieldByName("Source").SetString(g.Source)
	v.FieldByName("File").SetString(d.file)
	v.FieldByName("Line").SetInt(int64(d.lineOf(path)))
}

// valueGroup is the long form of a value. The value itself, of whatever type,
// is read straight into its unit.Value; the key stands here for the list.
type valueGroup struct {
	Value  any     `yaml:"value"`
	SD     float64 `yaml:"sd"`
	From   string  `yaml:"from" one:"measured,typical,assumed"`
	Source string  `yaml:"source"`
}

// valueGroup decodes the long form of a value.
func (d *decoder) valueGroup(n ast.Node, v reflect.Value, g *valueGroup, path string) {
	kvs, _ := entries(n)
	given := false
	for _, kv := range kvs {
		key, _ := text(kv.Key)
		sub := join(path, key)
		d.lines[sub] = line(kv.Key)
		f, known := fieldByKey(reflect.ValueOf(g).Elem(), key)
		switch {
		case key == "value":
			given = true
			d.into(kv.Value, v.FieldByName("V"), sub)
		case known:
			d.into(kv.Value, f, sub)
		default:
			d.unknown(sub, key, kv.Value, keysOf(reflect.TypeOf(*g)))
		}
	}
	if !given {
		d.add(path, "has no value", "", "write it as value: beside sd, from and source")
	}
}

// origin reads where a value came from; measured when the file does not say.
func (d *decoder) origin(g valueGroup, path string) unit.Origin {
	switch g.From {
	case "", "measured":
		return unit.Measured
	case "typical", "assumed":
		if g.Source == "" {
			d.add(path, "needs a source, since it is not measured", "from: "+g.From, "add source: with the norm or the reason in words")
		}
		if g.From == "typical" {
			return unit.Typical
		}
		return unit.Assumed
	}
	d.add(join(path, "from"), "must be measured, typical or assumed", quoted(g.From), "leave it out for a measured value")
	return unit.Missing
}

// scalar decodes one word, number or sentence.
func (d *decoder) scalar(n ast.Node, v reflect.Value, path string) {
	switch v.Kind() {
	case reflect.String:
		d.words(n, v, path)
	case reflect.Float64:
		if x, ok := d.number(n, path); ok {
			v.SetFloat(x)
		}
	case reflect.Bool:
		b, ok := n.(*ast.BoolNode)
		if !ok {
			d.add(path, "must be true or false", shown(n), "write true or false without quotes")
			return
		}
		v.SetBool(b.Value)
	case reflect.Uint64:
		s, _ := text(n)
		_, isInt := n.(*ast.IntegerNode)
		x, err := strconv.ParseUint(s, 10, 53)
		if err != nil || !isInt {
			d.add(path, "must be a whole number from 0 to 9007199254740991", shown(n), "any such number will do; the same number gives the same map")
			return
		}
		v.SetUint(x)
	}
}

// words decodes text.
func (d *decoder) words(n ast.Node, v reflect.Value, path string) {
	switch n.(type) {
	case *ast.StringNode, *ast.LiteralNode:
		s, _ := text(n)
		if s = strings.TrimSpace(s); s == "" {
			d.add(path, "has no value", "", "write a value after the colon or leave the key out")
		}
		v.SetString(s)
	default:
		d.add(path, "must be text", shown(n), "put it in quotes if it is meant as text")
	}
}

// number decodes a finite number written in decimals.
func (d *decoder) number(n ast.Node, path string) (float64, bool) {
	switch n.(type) {
	case *ast.IntegerNode, *ast.FloatNode:
		s, _ := text(n)
		x, err := strconv.ParseFloat(s, 64)
		if err == nil && !math.IsInf(x, 0) && !strings.ContainsAny(s, "xX_oO") && !leadingZero(s) {
			return x, d.inRange(x, path)
		}
	case *ast.InfinityNode, *ast.NanNode:
		d.add(path, "must be a finite number", shown(n), "leave the key out when the value is not known")
		return 0, false
	}
	d.add(path, "must be a number"+unitOf(path), shown(n), "write it in decimals with a point and without its unit, as in 5.5; the unit is in the key")
	return 0, false
}

// leadingZero reports a whole number such as 010, which some readers take as 8.
func leadingZero(s string) bool {
	s = strings.TrimLeft(s, "+-")
	return len(s) > 1 && s[0] == '0' && s[1] >= '0' && s[1] <= '9'
}
