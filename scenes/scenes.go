package scenes

import (
	"embed"
	"fmt"
	"strings"
	"sync"

	"simview/internal/scene"
)

//go:embed *.yaml
var files embed.FS

// ids is the order of showing.
var ids = []string{"letters", "tide-table", "harbour-night", "street-day", "lamp-ladder"}

var all = sync.OnceValues(func() ([]*scene.Scene, error) {
	var out []*scene.Scene
	for _, id := range ids {
		data, err := files.ReadFile(id + ".yaml")
		if err != nil {
			return nil, fmt.Errorf("scene %q: %w", id, err)
		}
		s, err := scene.Parse(id+".yaml", data)
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
})

// Builtins returns all scenes, letters first. The scenes are shared: do not
// change them. An error means a broken build, not a mistake of the caller.
func Builtins() ([]*scene.Scene, error) { return all() }

// Builtin returns the scene with the id. An unknown id is an error that lists
// the known ones.
func Builtin(id string) (*scene.Scene, error) {
	list, err := all()
	if err != nil {
		return nil, err
	}
	for _, s := range list {
		if s.ID == id {
			return s, nil
		}
	}
	return nil, fmt.Errorf("scene: there is no scene %q; known are %s", id, strings.Join(ids, ", "))
}
