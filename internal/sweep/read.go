package sweep

import (
	"fmt"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/parser"
)

// maxBytes is far above any grid that a person writes.
const maxBytes = 256 << 10

// Read reads a grid as YAML: scenes, eyes, pupils_mm, trials, severities (a list of
// cause and strengths), other_causes and gazes_deg (a list of [x, y]). An unknown
// key or a wrong type is an error; axes that are not there stay as before. The
// values are not looked at: see [Axes.Check].
func Read(name string, data []byte, before Axes) (Axes, error) {
	a, err := decode(data, before)
	if err != nil {
		return a, fmt.Errorf("%s: %w", name, err)
	}
	return a, nil
}

// decode also catches the reader's panics on malformed text.
func decode(data []byte, a Axes) (_ Axes, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("is not readable as YAML (%v)", p)
		}
	}()
	if len(data) > maxBytes {
		return a, fmt.Errorf("has %d bytes; a grid has at most %d", len(data), maxBytes)
	}
	tree, err := parser.ParseBytes(data, 0)
	if err != nil {
		return a, reason(err)
	}
	if len(tree.Docs) != 1 || tree.Docs[0].Body == nil {
		return a, fmt.Errorf("holds no grid; expected keys such as scenes, pupils_mm and severities")
	}
	var read Axes
	if err := yaml.NodeToValue(tree.Docs[0].Body, &read, yaml.Strict()); err != nil {
		return a, reason(err)
	}
	return a.with(read), nil
}

// reason makes one line of the reader's message, which draws the text about a slip.
func reason(err error) error {
	if e, ok := err.(yaml.Error); ok {
		return fmt.Errorf("line %d: %s; expected keys are scenes, eyes, pupils_mm, trials, severities, other_causes, gazes_deg", e.GetToken().Position.Line, e.GetMessage())
	}
	return err
}

// with replaces the axes that are given.
func (a Axes) with(b Axes) Axes {
	if b.Scenes != nil {
		a.Scenes = b.Scenes
	}
	if b.Eyes != nil {
		a.Eyes = b.Eyes
	}
	if b.PupilsMM != nil {
		a.PupilsMM = b.PupilsMM
	}
	if b.Trials != nil {
		a.Trials = b.Trials
	}
	if b.Severities != nil {
		a.Severities = b.Severities
	}
	if b.Others != "" {
		a.Others = b.Others
	}
	if b.GazesDeg != nil {
		a.GazesDeg = b.GazesDeg
	}
	return a
}
