package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"simview/internal/unit"
)

// Column is one state of the eye on a page: its section, its wavefront and how it
// spreads the light of a point.
type Column struct {
	Name    string // "Lens as measured"
	Section *Section
	Map     *Map
	Spread  *Spread
	Words   []string // lines beside it, short
}

// Page is a picture of one eye's optics.
type Page struct {
	Side    unit.Side
	Title   string
	Words   []string // what is drawn: amount, pupil, focus
	Columns []Column // the last one is drawn in section; 1 to 3
	Notes   []string // limits, at the foot
}

// Sizes of a page in pixels.
const (
	pageWidth  = 1640
	margin     = 40
	gap        = 24
	bigHeight  = 640
	tile       = 340 // side of a map, a spread, a close-up
	tileLabel  = 74
	lineHeight = 24
)

// sheet is a page in the making.
type sheet struct {
	*Page
	c *canvas
	y int
}

// Draw draws the page. One without columns, or a column that lacks a part, is an
// error.
func (p *Page) Draw() (*image.NRGBA, error) {
	if len(p.Columns) < 1 || len(p.Columns) > 3 {
		return nil, fmt.Errorf("page: needs 1 to 3 columns (got %d)", len(p.Columns))
	}
	for _, k := range p.Columns {
		if k.Section == nil || k.Map == nil || k.Spread == nil {
			return nil, fmt.Errorf("page: %q lacks its section, map or spread", k.Name)
		}
	}
	words, notes := p.lines(p.Words), p.lines(p.Notes)
	rowHeight := tileLabel + tile + 3*lineHeight + gap
	height := margin + 44 + len(words)*lineHeight + gap + bigHeight + gap + len(p.Columns)*rowHeight + len(notes)*lineHeight + margin
	s := &sheet{p, newCanvas(pageWidth, height, paper), margin}
	s.y += 30
	s.c.write(heading, ink, margin, s.y, p.Title)
	s.y += 14
	s.text(words, ink)
	s.y += gap
	s.sections()
	for _, k := range p.Columns {
		s.row(k)
		s.y += rowHeight
	}
	s.text(notes, soft)
	return s.c.img, nil
}

func (p *Page) lines(texts []string) []string {
	var out []string
	for _, t := range texts {
		out = append(out, plain.wrap(t, pageWidth-2*margin)...)
	}
	return out
}

func (s *sheet) text(lines []string, ink color.Color) {
	for _, l := range lines {
		s.y += lineHeight
		s.c.write(plain, ink, margin, s.y-4, l)
	}
}

// box is an empty framed field.
func (s *sheet) box(r image.Rectangle) {
	a, b := pixel{float64(r.Min.X), float64(r.Min.Y)}, pixel{float64(r.Max.X), float64(r.Max.Y)}
	outline := []pixel{a, {b.x, a.y}, b, {a.x, b.y}}
	s.c.fill(panel, outline)
	s.c.stroke(frame, 1.5, closed(outline))
}

// sections draws the last column's eye whole, and its front close by.
func (s *sheet) sections() {
	k := s.Columns[len(s.Columns)-1].Section
	half := (pageWidth - 2*margin - gap) / 2
	left := image.Rect(margin, s.y, margin+half, s.y+bigHeight)
	right := left.Add(image.Pt(half+gap, 0))
	back := k.Retina[len(k.Retina)/2].Z
	whole := viewport{left.Inset(2), Point{(back - 4) / 2, 0}, float64(half) / (back + 8)}
	s.section(k, whole, "The eye in section", 5)
	front := viewport{right.Inset(2), Point{3.3, 0}, float64(half) / 12}
	s.section(k, front, "Its front, closer", 1)
	s.y += bigHeight + gap
}

func (s *sheet) section(k *Section, v viewport, name string, barMM float64) {
	s.box(v.box.Inset(-2))
	k.draw(s.c, v)
	r := v.box
	upper, lower := endWords(s.Side, k.Meridian)
	x := r.Min.X + 16
	s.c.write(title, ink, x, r.Min.Y+28, name)
	s.c.write(small, soft, x, r.Min.Y+52, fmt.Sprintf("meridian %.0f°", float64(k.Meridian)))
	s.c.right(title, ink, r.Max.X-16, r.Min.Y+28, upper)
	s.c.right(title, ink, r.Max.X-16, r.Max.Y-14, lower)
	s.c.scaleBar(ink, x, r.Max.Y-20, barMM, v.scale, spaced(barMM, "mm"))
}

// row draws a column's map, spread and rays side by side.
func (s *sheet) row(k Column) {
	y := s.y + 24
	s.c.write(title, ink, margin, y, k.Name)
	top := s.y + tileLabel
	step := (pageWidth - 2*margin - tile) / 2
	s.wavefront(k, image.Rect(0, 0, tile, tile).Add(image.Pt(margin+90, top)))
	s.spread(k, image.Rect(0, 0, tile, tile).Add(image.Pt(margin+step+20, top)))
	s.closeUp(k, image.Rect(0, 0, tile, tile).Add(image.Pt(margin+2*step, top)))
	for i, w := range k.Words {
		s.c.write(small, soft, margin+s.nameWidth(k)+24, y+i*20, w)
	}
}

func (s *sheet) nameWidth(k Column) int { return title.width(k.Name) }

// scaleEndUM is the end of the scale that all maps of the page share.
func (p *Page) scaleEndUM() float64 {
	most := 0.0
	for _, k := range p.Columns {
		most = math.Max(most, k.Map.MaxUM)
	}
	return niceAbove(math.Max(most, .1))
}

func (s *sheet) wavefront(k Column, r image.Rectangle) {
	end := s.scaleEndUM()
	k.Map.draw(s.c, r, end, end/10)
	midX, midY := (r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2
	right, left := rimWords(s.Side)
	s.c.middle(small, ink, midX, r.Min.Y-8, "up")
	s.c.right(small, ink, r.Min.X-8, midY, left)
	s.c.write(small, ink, r.Max.X+8, midY, right)
	s.c.middle(small, ink, midX, r.Max.Y+20, "down")
	s.c.middle(small, soft, midX, r.Max.Y+20+lineHeight, fmt.Sprintf("wavefront, as the clinician sees the eye; RMS %.2f µm", k.Map.RMSUM))
	s.legend(image.Rect(r.Max.X+70, r.Min.Y+10, r.Max.X+92, r.Max.Y-10), end)
}

// legend draws the scale of the maps.
func (s *sheet) legend(r image.Rectangle, end float64) {
	p := Diverging()
	for j := range r.Dy() {
		t := 1 - (float64(j)+.5)/float64(r.Dy())
		for i := range r.Dx() {
			s.c.img.SetNRGBA(r.Min.X+i, r.Min.Y+j, p.At(t))
		}
	}
	for i := range 5 {
		v := end * (1 - float64(i)/2)
		y := r.Min.Y + i*r.Dy()/4
		s.c.stroke(ink, 1.5, []pixel{{float64(r.Max.X), float64(y)}, {float64(r.Max.X + 5), float64(y)}})
		s.c.write(small, ink, r.Max.X+9, y+6, signed(v)+" µm")
	}
	s.c.middle(small, soft, r.Min.X+30, r.Max.Y+30, "advanced +")
}

// signed writes a number with its sign, 0 without.
func signed(v float64) string {
	if v == 0 {
		return "0"
	}
	return fmt.Sprintf("%+g", v)
}

// halfArcmin is half the side of the square that all spreads of the page share.
func (p *Page) halfArcmin() float64 {
	const share = .95
	half := 0.0
	for _, k := range p.Columns {
		half = math.Max(half, k.Spread.HalfArcmin(share))
	}
	return half
}

func (s *sheet) spread(k Column, r image.Rectangle) {
	half := s.halfArcmin()
	k.Spread.draw(s.c, r, half)
	s.c.in(r).scaleBar(color.White, r.Min.X+14, r.Max.Y-16, niceLength(half/2), float64(tile)/(2*half), spaced(niceLength(half/2), "arcmin"))
	midX := (r.Min.X + r.Max.X) / 2
	s.c.middle(small, ink, midX, r.Min.Y-8, "up")
	s.c.middle(small, ink, midX, r.Max.Y+20, "a far point of light, as the patient sees it")
	s.c.middle(small, soft, midX, r.Max.Y+20+lineHeight, "brightness: square root of the light, own peak = white")
	s.c.right(small, ink, r.Min.X-8, (r.Min.Y+r.Max.Y)/2, "left")
	s.c.write(small, ink, r.Max.X+8, (r.Min.Y+r.Max.Y)/2, "right")
}

// closeUp draws the rays where they meet the retina.
func (s *sheet) closeUp(k Column, r image.Rectangle) {
	half := s.retinaHalfMM()
	s.box(r)
	k.Section.drawFocus(s.c, viewport{r.Inset(2), k.Section.Chief, float64(tile) / (2 * half)})
	bar := niceLength(half / 2)
	s.c.in(r).scaleBar(ink, r.Min.X+14, r.Max.Y-16, bar, float64(tile)/(2*half), spaced(bar, "mm"))
	midX := (r.Min.X + r.Max.X) / 2
	s.c.middle(small, ink, midX, r.Max.Y+20, "rays at the retina, best sphere and cylinder worn")
	s.c.middle(small, soft, midX, r.Max.Y+20+lineHeight, fmt.Sprintf("meridian %.0f°", float64(k.Section.Meridian)))
}

// retinaHalfMM is half the side of every close-up: room for the widest bundle.
func (p *Page) retinaHalfMM() float64 {
	most := .01
	for _, k := range p.Columns {
		most = math.Max(most, k.Section.spreadMM())
	}
	return niceAbove(2 * most)
}

// spreadMM is how far from the chief ray the other rays meet the retina, those
// beside the lens left out.
func (s *Section) spreadMM() (most float64) {
	for _, t := range s.Rays {
		if !t.Past {
			most = math.Max(most, math.Abs(t.Points[len(t.Points)-1].H-s.Chief.H))
		}
	}
	return most
}

// drawFocus draws rays and retina alone.
func (s *Section) drawFocus(c *canvas, v viewport) {
	c = c.in(v.box)
	s.drawRays(c, v)
	c.stroke(retinaInk, 4, v.all(s.Retina))
}
