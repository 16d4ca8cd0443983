package plot

import (
	"fmt"
	"image"
	"math"
)

// FieldRow is one field on a page: its loss, and how sure it is.
type FieldRow struct {
	Name  string
	Words []string    // beside or above the maps
	Maps  []*FieldMap // 1 or 2
}

// FieldPage is a page of maps of visual fields.
type FieldPage struct {
	Title string
	Words []string
	Rows  []FieldRow // at least one
	Notes []string   // limits, at the foot
}

// Size of a field map and of the scale beside it, pixels.
const (
	fieldSide  = 760
	fieldScale = 74 // room for a scale of colours, right of its map
	fieldHead  = 64
)

// Draw draws the page. One without rows, a row without maps or with more than two,
// or a map that cannot be drawn, is an error.
func (p *FieldPage) Draw() (*image.NRGBA, error) {
	c, err := p.draw()
	if err != nil {
		return nil, err
	}
	return c.img, nil
}

func (p *FieldPage) draw() (*canvas, error) {
	if len(p.Rows) == 0 {
		return nil, fmt.Errorf("page: needs at least one field")
	}
	words, notes := lines(p.Words), lines(p.Notes)
	height := 2*margin + 44 + (len(words)+len(notes))*lineHeight + 2*gap
	for _, r := range p.Rows {
		if len(r.Maps) < 1 || len(r.Maps) > 2 {
			return nil, fmt.Errorf("page: %q needs one or two maps (got %d)", r.Name, len(r.Maps))
		}
		for _, m := range r.Maps {
			if err := m.check(); err != nil {
				return nil, err
			}
		}
		height += r.height()
	}
	var s sheet
	s.begin(height, p.Title, words)
	s.y += gap
	for _, r := range p.Rows {
		s.field(r)
	}
	s.y += gap
	s.text(notes, soft)
	return s.c, nil
}

func (r FieldRow) height() int {
	return 40 + len(lines(r.Words))*lineHeight + fieldHead + fieldSide + gap
}

// field draws one row.
func (s *sheet) field(r FieldRow) {
	s.y += 30
	s.c.write(title, ink, margin, s.y, r.Name)
	s.y += 10
	s.text(lines(r.Words), soft)
	s.y += fieldHead
	for k, m := range r.Maps {
		x := margin + k*(fieldSide+fieldScale+2*gap)
		box := image.Rect(x, s.y, x+fieldSide, s.y+fieldSide)
		s.c.write(title, ink, x, s.y-34, m.Title)
		s.c.write(small, soft, x, s.y-10, m.Left)
		s.c.right(small, soft, x+fieldSide, s.y-10, m.Right)
		s.c.middle(small, soft, x+fieldSide/2, s.y-10, "up")
		m.draw(s.c, box)
		m.scale(s.c, image.Rect(box.Max.X+18, s.y, box.Max.X+42, s.y+fieldSide))
	}
	s.y += fieldSide + gap
}

// scale draws the colours beside a map, 0 at the foot.
func (m *FieldMap) scale(c *canvas, box image.Rectangle) {
	p := Diverging()
	for j := range box.Dy() {
		v := m.EndDB * (1 - (float64(j)+.5)/float64(box.Dy()))
		for i := range box.Dx() {
			c.img.SetNRGBA(box.Min.X+i, box.Min.Y+j, m.ink(p, v))
		}
	}
	for v := 0.0; v <= m.EndDB+1e-9; v += m.EveryDB {
		y := float64(box.Max.Y) - v/m.EndDB*float64(box.Dy())
		c.stroke(ink, 1, []pixel{{float64(box.Min.X), y}, {float64(box.Max.X), y}})
		c.write(small, soft, box.Max.X+5, int(math.Min(math.Max(y+5, float64(box.Min.Y)+12), float64(box.Max.Y))), fmt.Sprintf("%g", v))
	}
	c.middle(small, soft, (box.Min.X+box.Max.X)/2, box.Min.Y-10, "dB")
}
