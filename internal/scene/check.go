package scene

import (
	"fmt"
	"math"
	"reflect"
	"regexp"
	"strings"
)

// checkHead checks what stands outside the lists of shapes and returns the key
// that is wrong.
func (f *file) checkHead() (key string, err error) {
	if f.Title == "" {
		return "title", fmt.Errorf("title: missing; one line that names the scene")
	}
	if f.GoodFor == "" {
		return "good_for", fmt.Errorf("good_for: missing; one sentence on what the scene shows well")
	}
	given := map[string]float64{
		"distance_m": f.DistanceM, "width_deg": f.WidthDeg, "height_deg": f.HeightDeg,
		"adapt_cdm2": f.AdaptCdM2, "surround_cdm2": f.SurroundCdM2,
	}
	for _, key := range headOrder {
		if err := headSpans[key].check(key, given[key]); err != nil {
			return key, err
		}
	}
	if f.Pupil != "bright" && f.Pupil != "dim" {
		return "pupil", fmt.Errorf("pupil: must be bright or dim (got %q); hint: dim is for rooms and roads below 5 cd/m²", f.Pupil)
	}
	if err := checkTint(f.SurroundTint); err != nil {
		return "surround_tint", err
	}
	return "window", f.checkWindow()
}

func (f *file) checkWindow() error {
	w := f.Window
	if w == nil {
		return fmt.Errorf("window: missing; give x_deg, y_deg, width_deg and height_deg of the part to magnify")
	}
	if !finite(reflect.ValueOf(*w)) || !(w.WidthDeg > 0) || !(w.HeightDeg > 0) {
		return fmt.Errorf("window: width_deg and height_deg must be above 0 (got %g and %g)", w.WidthDeg, w.HeightDeg)
	}
	if math.Abs(w.XDeg)+w.WidthDeg/2 > f.WidthDeg/2 || math.Abs(w.YDeg)+w.HeightDeg/2 > f.HeightDeg/2 {
		return fmt.Errorf("window: must lie inside the frame of %g x %g degrees", f.WidthDeg, f.HeightDeg)
	}
	return nil
}

// checker walks the shapes as drawing will.
type checker struct {
	parts map[string][]shape
	marks int
}

func (f *file) checkShapes() (line int, err error) {
	if len(f.Shapes) == 0 {
		return 0, fmt.Errorf("shapes: missing; a scene needs at least one shape")
	}
	c := &checker{parts: f.Parts}
	for _, name := range partNames(f.Parts) {
		if line, err := c.list(f.Parts[name], 1, false, 0); err != nil {
			return line, err
		}
	}
	c.marks = 0
	return c.list(f.Shapes, 1, false, 0)
}

// list checks shapes that are drawn so many times each.
func (c *checker) list(shapes []shape, times int, onPlane bool, depth int) (line int, err error) {
	if depth > 8 {
		return shapes[0].line, fmt.Errorf("parts are used inside one another more than 8 deep; does a part use itself?")
	}
	for i := range shapes {
		s := &shapes[i]
		if err := s.check(onPlane); err != nil {
			return s.line, err
		}
		if c.marks += times * s.size(); c.marks > maxMarks {
			return s.line, fmt.Errorf("the scene would have more than %d shapes; lower count or rows", maxMarks)
		}
		if line, err := c.inner(s, times, onPlane, depth); err != nil {
			return line, err
		}
	}
	return 0, nil
}

func (c *checker) inner(s *shape, times int, onPlane bool, depth int) (int, error) {
	switch {
	case s.Group != nil && len(s.Group.Shapes) > 0:
		return c.list(s.Group.Shapes, times, onPlane || s.Group.Placing.Plane != nil, depth+1)
	case s.Scatter != nil:
		part, err := c.part("scatter", s.Scatter.Part)
		if err != nil {
			return s.line, err
		}
		return c.list(part, times*int(s.Scatter.Count), onPlane, depth+1)
	case s.Use != nil:
		u := s.Use
		part, err := c.part("use", u.Part)
		if err != nil {
			return s.line, err
		}
		n := int(max(u.Count, 1) * max(u.Rows, 1))
		return c.list(part, times*n, onPlane || u.Placing.Plane != nil, depth+1)
	}
	return 0, nil
}

// part finds a list of shapes by its name.
func (c *checker) part(kind, name string) ([]shape, error) {
	part := c.parts[name]
	if len(part) == 0 {
		return nil, fmt.Errorf("%s: there is no part %q%s", kind, name, didYouMean(name, partNames(c.parts)))
	}
	return part, nil
}

// size is the number of marks a shape makes.
func (s *shape) size() int {
	switch {
	case s.Text != nil:
		return len(strings.Join(s.Text.Lines, ""))
	case s.Letters != nil:
		return len(s.Letters.Letters)
	case s.Glitter != nil:
		return int(s.Glitter.Count)
	}
	return 1
}

// check checks one shape without what is inside it.
func (s *shape) check(onPlane bool) error {
	v, kinds := reflect.ValueOf(*s), []string{}
	var set reflect.Value
	for i := range v.NumField() {
		if v.Field(i).Kind() == reflect.Pointer && !v.Field(i).IsNil() {
			kinds = append(kinds, v.Type().Field(i).Tag.Get("yaml"))
			set = v.Field(i).Elem()
		}
	}
	if len(kinds) != 1 {
		return fmt.Errorf("a shape must be exactly one of %s (found %d); hint: begin each shape with a dash of its own", strings.Join(shapeKinds(), ", "), len(kinds))
	}
	if s.Group == nil && !finite(set) {
		return fmt.Errorf("%s: every number must be finite", kinds[0])
	}
	if p := set.FieldByName("Paint"); p.IsValid() {
		own := p.Interface().(paint)
		if err := own.check(onPlane, s.Ellipse != nil); err != nil {
			return fmt.Errorf("%s: %w", kinds[0], err)
		}
	}
	if err := s.checkKind(onPlane); err != nil {
		return fmt.Errorf("%s: %w", kinds[0], err)
	}
	return nil
}

func (s *shape) checkKind(onPlane bool) error {
	switch {
	case s.Rect != nil:
		return positive("size", s.Rect.Size[0], s.Rect.Size[1])
	case s.Ellipse != nil:
		return positive("radius", s.Ellipse.Radius[0], s.Ellipse.Radius[1])
	case s.Polygon != nil && len(s.Polygon.Points) < 3:
		return fmt.Errorf("points: at least 3 are needed (got %d)", len(s.Polygon.Points))
	case s.Line != nil:
		if len(s.Line.Points) < 2 {
			return fmt.Errorf("points: at least 2 are needed (got %d)", len(s.Line.Points))
		}
		return positive("width", s.Line.Width)
	case s.Text != nil:
		return s.Text.check(onPlane)
	case s.Letters != nil:
		return s.Letters.check()
	case s.Glitter != nil:
		return s.Glitter.check()
	case s.Picture != nil:
		return s.Picture.check()
	case s.Scatter != nil:
		return s.Scatter.check(onPlane)
	case s.Group != nil:
		return s.Group.Placing.check(onPlane, len(s.Group.Shapes))
	case s.Use != nil:
		if s.Use.Count < 0 || s.Use.Rows < 0 || s.Use.Count > 10000 || s.Use.Rows > 10000 {
			return fmt.Errorf("count and rows: must lie in 1 to 10000 (got %d and %d)", s.Use.Count, s.Use.Rows)
		}
		return s.Use.Placing.check(onPlane, 1)
	}
	return nil
}

func (p *placing) check(onPlane bool, shapes int) error {
	switch {
	case shapes == 0:
		return fmt.Errorf("shapes: at least one is needed")
	case onPlane && p.Plane != nil:
		return fmt.Errorf("plane: already inside a plane; planes cannot stand in planes")
	case (p.Scale[0] == 0) != (p.Scale[1] == 0):
		return fmt.Errorf("scale: neither number may be 0")
	case p.Dim < 0 || p.Dim > 100:
		return fmt.Errorf("dim: must lie above 0 and be at most 100 (got %g); it multiplies luminances", p.Dim)
	}
	if p.Plane != nil && !finite(reflect.ValueOf(*p.Plane)) {
		return fmt.Errorf("plane: every number must be finite")
	}
	return nil
}

func (t *textShape) check(onPlane bool) error {
	if (t.XHeight == 0) == (t.LogMAR == nil) {
		return fmt.Errorf("give either x_height or logmar")
	}
	if t.LogMAR != nil && onPlane {
		return fmt.Errorf("logmar: is an angle; on a plane give x_height in metres")
	}
	if t.LogMAR == nil && t.XHeight < 0 {
		return positive("x_height", t.XHeight)
	}
	switch t.Align {
	case "", "left", "center", "right":
	default:
		return fmt.Errorf("align: must be left, center or right (got %q)", t.Align)
	}
	face, ok := typefaces()[t.Font]
	if t.Font != "" && !ok {
		return fmt.Errorf("font: must be regular, bold, italic or mono (got %q)", t.Font)
	}
	if face == nil {
		face = typefaces()["regular"]
	}
	for _, r := range strings.Join(t.Lines, "") {
		if _, _, err := face.bounds(r); err != nil {
			return err
		}
	}
	return nil
}

func (l *lettersShape) check() error {
	if l.LogMAR < -1 || l.LogMAR > 3 {
		return fmt.Errorf("logmar: must lie in -1 to 3 (got %g)", l.LogMAR)
	}
	for _, r := range l.Letters {
		if _, err := letterOutline(r, 1); err != nil {
			return err
		}
	}
	return nil
}

func (g *glitterShape) check() error {
	if g.Count < 1 || g.Count > 2000 {
		return fmt.Errorf("count: must lie in 1 to 2000 (got %d)", g.Count)
	}
	return positive("length and width", g.Length, g.Width[0], g.Width[1])
}

func (p *paint) check(onPlane, isEllipse bool) error {
	if err := p.checkLight(); err != nil {
		return err
	}
	switch {
	case p.Fade != nil && p.Fade.From == p.Fade.To:
		return fmt.Errorf("fade: from and to must differ")
	case p.Opacity != nil && (*p.Opacity < 0 || *p.Opacity > 1):
		return fmt.Errorf("opacity: must lie in 0 to 1 (got %g)", *p.Opacity)
	case p.Soft && (onPlane || !isEllipse):
		return fmt.Errorf("soft: only for an ellipse that is not on a plane")
	}
	if t := p.Texture; t != nil {
		if err := positive("texture cell", t.Cell[0], t.Cell[1]); err != nil {
			return err
		}
		if t.Octaves < 1 || t.Octaves > 10 || t.Amplitude < 0 || t.Amplitude > 1 || t.GroundM < 0 {
			return fmt.Errorf("texture: octaves must lie in 1 to 10, amplitude in 0 to 1, ground_m not below 0")
		}
	}
	if p.Fade != nil {
		if err := checkTint(p.Fade.Tint); err != nil {
			return err
		}
	}
	return checkTint(p.Tint)
}

// checkLight checks the luminances of a paint.
func (p *paint) checkLight() error {
	if err := checkLuminance(p.CdM2); err != nil || p.Fade == nil {
		return err
	}
	if err := checkLuminance(p.Fade.CdM2); err != nil {
		return fmt.Errorf("fade: %w", err)
	}
	return nil
}

var hexColour = regexp.MustCompile(`^#[0-9a-fA-F]{6}$`)

func checkTint(t string) error {
	if t == "" || hexColour.MatchString(t) && t != "#000000" {
		return nil
	}
	return fmt.Errorf("tint: must be a colour such as \"#ffd9a0\", in quotes and not black (got %q)", t)
}

func positive(what string, values ...float64) error {
	for _, v := range values {
		if !(v > 0) || math.IsInf(v, 0) {
			return fmt.Errorf("%s: must be above 0 (got %g)", what, v)
		}
	}
	return nil
}

// finite reports whether no number inside v is NaN or infinite.
func finite(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Float64:
		return !math.IsNaN(v.Float()) && !math.IsInf(v.Float(), 0)
	case reflect.Pointer:
		return v.IsNil() || finite(v.Elem())
	case reflect.Struct:
		for i := range v.NumField() {
			if !finite(v.Field(i)) {
				return false
			}
		}
	case reflect.Array, reflect.Slice:
		for i := range v.Len() {
			if !finite(v.Index(i)) {
				return false
			}
		}
	}
	return true
}
