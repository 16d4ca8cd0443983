package casefile

import (
	"reflect"
	"strings"

	"github.com/goccy/go-yaml/ast"
)

// isValue reports whether t is a unit.Value of something.
func isValue(t reflect.Type) bool {
	return t.PkgPath() == "simview/internal/unit" && strings.HasPrefix(t.Name(), "Value[")
}

// keyOf returns the key of a struct field in the file, "" when it has none.
func keyOf(f reflect.StructField) string {
	if key := f.Tag.Get("yaml"); key != "-" {
		return key
	}
	return ""
}

// choices returns the words that may stand under a key; nil means any.
func choices(f reflect.StructField) []string {
	if words := f.Tag.Get("one"); words != "" {
		return strings.Split(words, ",")
	}
	return nil
}

// keysOf returns the keys of a group, in the order of its type.
func keysOf(t reflect.Type) []string {
	var keys []string
	for i := range t.NumField() {
		if key := keyOf(t.Field(i)); key != "" {
			keys = append(keys, key)
		}
	}
	return keys
}

// fieldByKey returns the field of struct v that a key of the file fills.
func fieldByKey(v reflect.Value, key string) (reflect.Value, bool) {
	for i := range v.NumField() {
		if key != "" && keyOf(v.Type().Field(i)) == key {
			return v.Field(i), true
		}
	}
	return reflect.Value{}, false
}

// join returns the path of a key inside a group.
func join(path, key string) string {
	if path == "" {
		return key
	}
	return path + "." + key
}

// unknown reports a key that the group does not have, with the nearest one.
func (d *decoder) unknown(path, key string, n ast.Node, known []string) {
	hint := "the keys here are " + strings.Join(known, ", ")
	if _, null := n.(*ast.NullNode); null && strings.Contains(key, " ") {
		hint = "put text that holds a comma in quotes"
	}
	if best := nearest(key, known); best != "" {
		d.meant = append(d.meant, strings.TrimSuffix(path, key)+best)
		hint = "did you mean " + best + "?"
		if strings.HasPrefix(best, key+"_") {
			hint += " Every key carries its unit"
		}
	}
	d.add(path, "is not a key of a case", "", hint)
}

// nearest returns the known key that a mistyped one most likely meant: one that
// continues it, or the one within the fewest edits, at most a third of its
// length; "" when none is close.
func nearest(key string, known []string) string {
	best, fewest := "", len(key)/3+1
	for _, k := range known {
		if key != "" && strings.HasPrefix(k, key+"_") {
			return k
		}
		if n := edits(key, k); n < fewest {
			best, fewest = k, n
		}
	}
	return best
}

// edits returns the Levenshtein distance of two keys. Long keys are far from
// everything.
func edits(a, b string) int {
	const longest = 60
	if len(a) > longest {
		return len(a)
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			step := diagonal
			if a[i] != b[j] {
				step++
			}
			diagonal = row[j+1]
			row[j+1] = min(step, row[j]+1, row[j+1]+1)
		}
	}
	return row[len(b)]
}

// unitWords says in words which unit a key's ending stands for.
var unitWords = []struct{ ending, words string }{
	{"_at_6mm_um", " in µm at a 6 mm pupil"},
	{"_mm", " in millimetres"},
	{"_um", " in micrometres"},
	{"_nm", " in nanometres"},
	{"_deg", " in degrees"},
	{"_years", " in years"},
	{"_db", " in dB"},
	{"_cdm2", " in cd/m²"},
	{"_percent", " in per cent"},
	{"breakup_s", " in seconds"},
	{"_d", " in dioptres"},
	{"logmar", " in logMAR"},
	{"terms_um", " in micrometres"},
}

// unitOf returns the unit of the key that a path ends in, " in millimetres".
func unitOf(path string) string {
	parts := strings.Split(path, ".")
	for i := len(parts) - 1; i >= 0 && i >= len(parts)-2; i-- {
		for _, u := range unitWords {
			if strings.HasSuffix(parts[i], u.ending) {
				return u.words
			}
		}
	}
	return ""
}
