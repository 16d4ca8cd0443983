package scene

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strings"
	"sync"
)

// longestWord is the length in bytes above which a word is no slip of another:
// what is compared grows with the product of both.
const longestWord = 60

// didYouMean returns a hint that names the known word nearest to a wrong one.
func didYouMean(got string, known []string) string {
	best, far := "", len(got)/2+1
	for _, k := range known {
		if max(len(got), len(k)) > longestWord {
			continue
		}
		if d := editDistance(got, k); d < far {
			best, far = k, d
		}
	}
	if best != "" {
		return fmt.Sprintf("; did you mean %q?", best)
	}
	if len(known) > 0 && len(known) < 12 {
		return "; known are " + strings.Join(known, ", ")
	}
	return ""
}

// editDistance counts letters to insert, delete, change or swap with their
// neighbour to turn a into b.
func editDistance(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		d[i][0] = i
	}
	for j := range d[0] {
		d[0][j] = j
	}
	for i := 1; i <= len(a); i++ {
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			d[i][j] = min(d[i-1][j]+1, d[i][j-1]+1, d[i-1][j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return d[len(a)][len(b)]
}

// partNames lists the parts of a scene in the order of their names.
func partNames(parts map[string][]shape) []string {
	return slices.Sorted(maps.Keys(parts))
}

// allKeys lists every key a scene file may hold, from the types themselves.
var allKeys = sync.OnceValue(func() []string {
	seen := map[string]bool{}
	collectKeys(reflect.TypeFor[file](), seen, map[reflect.Type]bool{})
	return slices.Sorted(maps.Keys(seen))
})

func collectKeys(t reflect.Type, keys map[string]bool, done map[reflect.Type]bool) {
	for t.Kind() == reflect.Pointer || t.Kind() == reflect.Slice || t.Kind() == reflect.Map {
		t = t.Elem()
	}
	if t.Kind() != reflect.Struct || done[t] {
		return
	}
	done[t] = true
	for i := range t.NumField() {
		f := t.Field(i)
		if name, _, _ := strings.Cut(f.Tag.Get("yaml"), ","); name != "" {
			keys[name] = true
		}
		collectKeys(f.Type, keys, done)
	}
}

// shapeKinds lists the kinds of shape, in the order of the type.
func shapeKinds() []string {
	var out []string
	t := reflect.TypeFor[shape]()
	for i := range t.NumField() {
		if key := t.Field(i).Tag.Get("yaml"); key != "" {
			out = append(out, key)
		}
	}
	return out
}
