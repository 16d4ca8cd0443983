package scenes

import (
	"embed"
	"fmt"
	"strings"
	"sync"

	"simview/internal/scene"
)

//go:embed *.yaml *.png
var files embed.FS

// ids is the order of showing: charts and targets, near, by day, by night.
var ids = []string{
	"letters", "letters-faint", "letters-fading", "targets",
	"tide-table", "screen-mail", "kitchen-table",
	"street-day", "fence", "face-window", "stairs",
	"harbour-night", "road-50", "road-100", "points", "lamp-ladder",
}

// read holds the scenes, each read when it is first asked for.
var read = func() map[string]func() (*scene.Scene, error) {
	out := map[string]func() (*scene.Scene, error){}
	for _, id := range ids {
		out[id] = sync.OnceValues(func() (*scene.Scene, error) { return parse(id) })
	}
	return out
}()

func parse(id string) (*scene.Scene, error) {
	data, err := files.ReadFile(id + ".yaml")
	if err != nil {
		return nil, fmt.Errorf("scene %q: %w", id, err)
	}
	return scene.ParseWith(id+".yaml", data, scene.Pictures{Open: files.ReadFile, Sound: true})
}

// Builtins returns all scenes, letters first. The scenes are shared: do not
// change them. An error means a broken build, not a mistake of the caller.
func Builtins() ([]*scene.Scene, error) {
	var out []*scene.Scene
	for _, id := range ids {
		s, err := read[id]()
		if err != nil {
			return nil, err
		}
		out = append(out, s)
	}
	return out, nil
}

// Builtin returns the scene with the id. An unknown id is an error that lists
// the known ones.
func Builtin(id string) (*scene.Scene, error) {
	if one, ok := read[id]; ok {
		return one()
	}
	return nil, fmt.Errorf("scene: there is no scene %q; known are %s", id, strings.Join(ids, ", "))
}
