package scene

import (
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"

	"simview/internal/light"
	"simview/internal/unit"
)

// Limits on a scene file: far above any real scene, low enough that a hostile
// file is refused before it costs memory.
const (
	maxFileBytes = 256 << 10
	maxNesting   = 40
	maxMarks     = 100_000
)

// file is a scene as written.
type file struct {
	Title        string             `yaml:"title"`
	GoodFor      string             `yaml:"good_for"`
	DistanceM    float64            `yaml:"distance_m"`
	WidthDeg     float64            `yaml:"width_deg"`
	HeightDeg    float64            `yaml:"height_deg"`
	AdaptCdM2    float64            `yaml:"adapt_cdm2"`
	SurroundCdM2 float64            `yaml:"surround_cdm2"`
	SurroundTint string             `yaml:"surround_tint"`
	Pupil        string             `yaml:"pupil"` // bright or dim
	Window       *Window            `yaml:"window"`
	Lamps        []lamp             `yaml:"lamps"`
	Parts        map[string][]shape `yaml:"parts"`
	Shapes       []shape            `yaml:"shapes"`
}

// lamp is one lamp as written: a direction and the light that reaches the eye,
// or a place in the world and a luminous intensity.
type lamp struct {
	Name           string  `yaml:"name"`
	At             *xy     `yaml:"at"`
	Lux            float64 `yaml:"lux"`
	DiameterArcmin float64 `yaml:"diameter_arcmin"`
	PlaceM         *xyz    `yaml:"place_m"`
	Candela        float64 `yaml:"candela"`
	DiameterM      float64 `yaml:"diameter_m"`
	Tint           string  `yaml:"tint"`

	line int
}

// UnmarshalYAML reads a shape and remembers its line.
func (s *shape) UnmarshalYAML(n ast.Node) error {
	type plain shape
	err := yaml.NodeToValue(n, (*plain)(s), yaml.Strict())
	s.line = n.GetToken().Position.Line
	return err
}

// UnmarshalYAML reads a lamp and remembers its line.
func (l *lamp) UnmarshalYAML(n ast.Node) error {
	type plain lamp
	err := yaml.NodeToValue(n, (*plain)(l), yaml.Strict())
	l.line = n.GetToken().Position.Line
	return err
}

// lineError is an error at a line of the file.
type lineError struct {
	line int
	msg  string
}

func (e *lineError) Error() string { return e.msg }

// UnmarshalYAML reads exactly two numbers.
func (p *xy) UnmarshalYAML(n ast.Node) error { return numbers(n, p[:]) }

// UnmarshalYAML reads exactly three numbers.
func (p *xyz) UnmarshalYAML(n ast.Node) error { return numbers(n, p[:]) }

// UnmarshalYAML reads a number without a fraction.
func (w *whole) UnmarshalYAML(n ast.Node) error {
	var v float64
	if err := yaml.NodeToValue(n, &v); err != nil || v != math.Trunc(v) || math.Abs(v) > 1<<53 {
		return &lineError{n.GetToken().Position.Line, fmt.Sprintf("expected a whole number such as 3 (got %s)", n)}
	}
	*w = whole(v)
	return nil
}

func numbers(n ast.Node, to []float64) error {
	var v []float64
	if err := yaml.NodeToValue(n, &v); err != nil || len(v) != len(to) {
		return &lineError{n.GetToken().Position.Line, fmt.Sprintf("expected %d numbers such as %s (got %s)",
			len(to), [...]string{2: "[1, 2.5]", 3: "[1, 2.5, 10]"}[len(to)], n)}
	}
	copy(to, v)
	return nil
}

// Parse reads a scene file. The name stands in messages; without its folder and
// extension it is the scene's ID. Unknown, double or missing keys, values out of
// range and files larger or deeper than any scene needs are errors that name the
// line. Nothing is guessed or clamped.
func Parse(name string, data []byte) (*Scene, error) { return ParseWith(name, data, Pictures{}) }

// ParseWith reads a scene file that may hold stored pictures, as [Parse] reads
// one without.
func ParseWith(name string, data []byte, pictures Pictures) (*Scene, error) {
	fail := func(line int, err error) (*Scene, error) {
		if line > 0 {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		return nil, fmt.Errorf("%s: %w", name, err)
	}
	if line, err := guard(data); err != nil {
		return fail(line, err)
	}
	tree, f, err := read(data)
	if err != nil {
		return fail(explain(err))
	}
	if key, err := f.checkHead(); err != nil {
		return fail(lineOf(tree, key), err)
	}
	if line, err := f.checkShapes(); err != nil {
		return fail(line, err)
	}
	s := f.scene(idOf(name))
	if line, err := s.loadPictures(pictures); err != nil {
		return fail(line, err)
	}
	for _, l := range f.Lamps {
		one, err := l.light()
		if err != nil {
			return fail(l.line, err)
		}
		s.Lamps = append(s.Lamps, one)
	}
	return s, nil
}

// read turns the bytes into the file's types. The YAML reader can panic on
// malformed input (fuzzing found it); that too is only a file it cannot read.
func read(data []byte) (tree *ast.File, f *file, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the file is not readable as YAML (%v)", p)
		}
	}()
	tree, err = parser.ParseBytes(data, 0)
	if err != nil {
		return nil, nil, err
	}
	if len(tree.Docs) != 1 {
		return nil, nil, fmt.Errorf("a scene file holds one YAML document (found %d)", len(tree.Docs))
	}
	f = &file{}
	return tree, f, yaml.NodeToValue(tree.Docs[0].Body, f, yaml.Strict())
}

func idOf(name string) string {
	if i := strings.LastIndexAny(name, `/\`); i >= 0 {
		name = name[i+1:]
	}
	return strings.TrimSuffix(name, filepath.Ext(name))
}

func (f *file) scene(id string) *Scene {
	s := &Scene{
		ID: id, Title: f.Title, GoodFor: f.GoodFor, DistanceM: f.DistanceM,
		WidthDeg: f.WidthDeg, HeightDeg: f.HeightDeg, AdaptCdM2: f.AdaptCdM2,
		Night: f.Pupil == "dim", Window: *f.Window, shapes: f.Shapes, parts: f.Parts,
	}
	for i, v := range linear(f.SurroundCdM2, f.SurroundTint) {
		s.SurroundCdM2[i] = float64(v)
	}
	return s
}

// guard looks at the bytes and tokens before anything is built from them.
func guard(data []byte) (line int, err error) {
	if len(data) == 0 {
		return 0, fmt.Errorf("the scene file is empty; expected keys such as title, distance_m and shapes")
	}
	if len(data) > maxFileBytes {
		return 0, fmt.Errorf("the scene file has %d bytes; at most %d are read", len(data), maxFileBytes)
	}
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("the file is not readable as YAML (%v)", p)
		}
	}()
	depth := 0
	for _, t := range lexer.Tokenize(string(data)) {
		switch t.Type {
		case token.AnchorType, token.AliasType, token.MergeKeyType:
			return t.Position.Line, fmt.Errorf("anchors and aliases (& and *) are not used in scene files; put repeated shapes under parts and place them with use")
		case token.SequenceStartType, token.MappingStartType:
			depth++
		case token.SequenceEndType, token.MappingEndType:
			depth--
		}
		if depth > maxNesting || t.Position.IndentNum > 4*maxNesting ||
			t.Type == token.SequenceEntryType && t.Position.Column > 4*maxNesting {
			return t.Position.Line, fmt.Errorf("nested more than %d deep; no scene needs that", maxNesting)
		}
	}
	return 0, nil
}

func lineOf(tree *ast.File, key string) int {
	path, err := yaml.PathString("$." + key)
	if err != nil {
		return 0
	}
	n, err := path.FilterFile(tree)
	if err != nil || n == nil {
		return 0
	}
	return n.GetToken().Position.Line
}

// light returns the lamp as the eye receives it. Illuminance falls with the
// square of the distance:
//
//	E = I / d^2
func (l *lamp) light() (light.Lamp, error) {
	out := light.Lamp{Name: l.Name, DiameterArcmin: l.DiameterArcmin}
	lux := l.Lux
	if l.PlaceM != nil {
		p := *l.PlaceM
		d2 := p[0]*p[0] + p[1]*p[1] + p[2]*p[2]
		lux = l.Candela / d2
		q := seen(p)
		out.At = unit.SightPoint{X: unit.Degrees(q.x), Y: unit.Degrees(q.y)}
		out.DiameterArcmin = math.Atan(l.DiameterM/math.Sqrt(d2)) * 180 * 60 / math.Pi
	} else if l.At != nil {
		out.At = unit.SightPoint{X: unit.Degrees(l.At[0]), Y: unit.Degrees(l.At[1])}
	}
	if err := l.check(lux); err != nil {
		return out, err
	}
	if err := l.checkBrightness(lux, out.DiameterArcmin); err != nil {
		return out, err
	}
	for i, v := range linear(lux, l.Tint) {
		out.Lux[i] = float64(v)
	}
	return out, nil
}

func (l *lamp) check(lux float64) error {
	switch {
	case l.Name == "":
		return fmt.Errorf("lamp: needs a name")
	case (l.At == nil) == (l.PlaceM == nil):
		return fmt.Errorf("lamp %q: give either at (degrees) with lux, or place_m with candela", l.Name)
	case l.At != nil && (l.Candela != 0 || l.DiameterM != 0):
		return fmt.Errorf("lamp %q: candela and diameter_m go with place_m; with at, give lux and diameter_arcmin", l.Name)
	case l.PlaceM != nil && (l.Lux != 0 || l.DiameterArcmin != 0):
		return fmt.Errorf("lamp %q: lux and diameter_arcmin go with at; with place_m, give candela and diameter_m", l.Name)
	case l.PlaceM != nil && l.PlaceM[2] < nearM:
		return fmt.Errorf("lamp %q: place_m lies behind the eye; the third number is metres ahead", l.Name)
	case l.At != nil && lux == 0:
		return fmt.Errorf("lamp %q: lux: missing, or 0; the light it gives the eye; hint: a dipped headlamp at 50 m gives about 0.1, a buoy at 1 km 0.00001", l.Name)
	case l.PlaceM != nil && l.Candela == 0:
		return fmt.Errorf("lamp %q: candela: missing, or 0; hint: a dipped headlamp has at most 350 towards who comes, a house lamp about 100", l.Name)
	case !(lux > 0) || math.IsInf(lux, 0):
		return fmt.Errorf("lamp %q: must give the eye more than 0 lux (got %g)", l.Name, lux)
	case !finite(reflect.ValueOf(*l)) || l.At != nil && (math.Abs(l.At[0]) > 180 || math.Abs(l.At[1]) > 90):
		return fmt.Errorf("lamp %q: at must lie within 180 degrees to a side and 90 up or down", l.Name)
	case l.DiameterArcmin < 0 || l.DiameterM < 0:
		return fmt.Errorf("lamp %q: the diameter must not be negative", l.Name)
	}
	return checkTint(l.Tint)
}
