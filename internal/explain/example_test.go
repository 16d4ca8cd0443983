package explain_test

import (
	"fmt"

	"simview/internal/explain"
)

// A line of letters, a third of contrast sensitivity and a tenth of a scene, each
// counted so that more is worse.
func ExampleNumbers_Harm() {
	before := explain.Numbers{LogMAR: 0, LogCS: 1.5}
	after := explain.Numbers{LogMAR: 0.1, LogCS: 1, LostPercent: 10}
	for _, m := range explain.Measures {
		fmt.Printf("%+.1f %s\n", after.Harm(m)-before.Harm(m), m.Unit())
	}
	// Output:
	// +0.1 logMAR
	// +0.5 log CS
	// +10.0 points of the scene
}

// The figures of a story are named by what they show.
func ExampleStory_Figures() {
	s := &explain.Story{Lights: []explain.Light{{Name: "bright"}}}
	for _, f := range s.Figures() {
		fmt.Println(f.Name)
	}
	// Output:
	// share-letters-bright.png
	// put-right-letters-bright.png
	// share-contrast-bright.png
	// put-right-contrast-bright.png
	// contrast-sensitivity-bright.png
	// mtf-bright.png
}
