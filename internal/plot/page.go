package plot

import (
	"fmt"
	"image"
	"image/color"
	"math"

	"simview/internal/unit"
)

// Row is one state of the eye on a page: its wavefront, how it spreads the light
// of a point, and its section where rays were traced.
type Row struct {
	Name    string // "Lens as measured"
	Section *Section
	Map     *Map
	Spread  *Spread
	Spots   *Spots   // the same point by rays alone; nil: not drawn
	Words   []string // in the place of the section where there is none
}

// Page is a picture of one eye's optics. Its maps share a scale, and so do its
// spreads and its close-ups of the retina.
type Page struct {
	Side  unit.Side
	Title string
	Words []string // what is drawn: amount, pupil, focus
	Rows  []Row    // 1 to 3, at least one with a section; the last of these is drawn large
	Notes []string // limits, at the foot
}

// Sizes of a page in pixels.
const (
	pageWidth  = 1830
	margin     = 40
	gap        = 24
	bigHeight  = 710
	tile       = 310 // side of a map, a spread, a close-up
	tileLabel  = 74
	lineHeight = 24
	rowHeight  = tileLabel + tile + 4*lineHeight

	mapX, legendX, spreadX, spotsX, closeUpX = margin + 70, margin + 460, margin + 640, margin + 1050, margin + 1440
)

// sheet is a page in the making.
type sheet struct {
	*Page
	c     *canvas
	y     int
	drawn *Section // the one drawn large
	// The shared scales: path at the end of the legend, µm; half the side of a
	// spread, minutes of arc; half the side of a close-up, mm.
	endUM, halfArcmin, halfMM float64
}

// Draw draws the page. One without rows or without any section, or a row that
// lacks a map or spread, is an error.
func (p *Page) Draw() (*image.NRGBA, error) {
	s, err := p.sheet()
	if err != nil {
		return nil, err
	}
	return s.c.img, nil
}

// sheet draws the page and keeps what the drawing knows of itself.
func (p *Page) sheet() (*sheet, error) {
	if len(p.Rows) < 1 || len(p.Rows) > 3 {
		return nil, fmt.Errorf("page: needs 1 to 3 rows (got %d)", len(p.Rows))
	}
	s := &sheet{Page: p}
	if err := s.scales(); err != nil {
		return nil, err
	}
	words, notes := lines(append(p.Words[:len(p.Words):len(p.Words)], s.cut())), lines(p.Notes)
	height := 2*margin + 44 + (len(words)+len(notes))*lineHeight + 2*gap + bigHeight + len(p.Rows)*rowHeight
	s.begin(height, p.Title, words)
	s.y += gap
	s.sections()
	for _, k := range p.Rows {
		s.row(k)
		s.y += rowHeight
	}
	s.text(notes, soft)
	return s, nil
}

// scales works out what all rows share.
func (s *sheet) scales() error {
	const share, leastUM, leastMM = .95, .1, .005
	s.endUM, s.halfMM = leastUM, leastMM
	for _, k := range s.Rows {
		if k.Map == nil || k.Spread == nil {
			return fmt.Errorf("page: the row %q lacks its map or its spread", k.Name)
		}
		s.endUM = math.Max(s.endUM, k.Map.MaxUM)
		s.halfArcmin = math.Max(s.halfArcmin, k.Spread.HalfArcmin(share))
		if k.Section != nil {
			s.drawn = k.Section
			s.halfMM = math.Max(s.halfMM, 1.6*k.Section.landing().half)
		}
	}
	if s.drawn == nil {
		return fmt.Errorf("page: no row holds a section")
	}
	s.endUM, s.halfMM = niceAbove(s.endUM), niceAbove(s.halfMM)
	return nil
}

// begin takes a sheet of paper and writes what stands at its head.
func (s *sheet) begin(height int, title string, words []string) {
	s.c = newCanvas(pageWidth, height, paper)
	s.y = margin + 30
	s.c.write(heading, ink, margin, s.y, title)
	s.y += 14
	s.text(words, ink)
}

func lines(texts []string) []string {
	var out []string
	for _, t := range texts {
		out = append(out, plain.Wrap(t, pageWidth-2*margin)...)
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
	s.c.fill(panel, corners(r))
	s.c.stroke(frame, 1.5, closed(corners(r)))
}

// row draws a state's map, spread and rays side by side.
func (s *sheet) row(k Row) {
	s.c.write(title, ink, margin, s.y+24, k.Name)
	square := image.Rect(0, 0, tile, tile)
	top := s.y + tileLabel
	s.wavefront(k, square.Add(image.Pt(mapX, top)))
	s.spread(k, square.Add(image.Pt(spreadX, top)))
	if k.Spots != nil {
		s.spots(k.Spots, square.Add(image.Pt(spotsX, top)))
	}
	if k.Section != nil {
		s.closeUp(k.Section, square.Add(image.Pt(closeUpX, top)))
		return
	}
	y := top + 18
	for _, w := range k.Words {
		for _, l := range small.Wrap(w, pageWidth-margin-closeUpX) {
			s.c.write(small, ink, closeUpX, y, l)
			y += lineHeight
		}
		y += lineHeight / 3
	}
}

// caption writes two lines below a tile, the first one room lines down.
func (s *sheet) caption(r image.Rectangle, room int, first, second string) {
	x, y := (r.Min.X+r.Max.X)/2, r.Max.Y+20+room*lineHeight
	s.c.middle(small, ink, x, y, first)
	s.c.middle(small, soft, x, y+lineHeight, second)
}

// around writes the directions at the rim of a tile.
func (s *sheet) around(r image.Rectangle, left, right string) {
	x, y := (r.Min.X+r.Max.X)/2, (r.Min.Y+r.Max.Y)/2+5
	s.c.middle(small, ink, x, r.Min.Y-8, "up")
	s.c.right(small, ink, r.Min.X-8, y, left)
	s.c.write(small, ink, r.Max.X+8, y, right)
}

func (s *sheet) wavefront(k Row, r image.Rectangle) {
	every := niceLength(s.endUM / 5)
	k.Map.draw(s.c, r, s.endUM, every)
	right, left := rimWords(s.Side)
	s.around(r, left, right)
	s.caption(r, 0, "wavefront over the pupil, facing the patient",
		fmt.Sprintf("RMS %.2f µm; a line every %s", k.Map.RMSUM, spaced(every, "µm")))
	s.legend(image.Rect(legendX, r.Min.Y+10, legendX+22, r.Max.Y-10))
}

// legend draws the scale of the maps.
func (s *sheet) legend(r image.Rectangle) {
	p := Diverging()
	for j := range r.Dy() {
		t := 1 - (float64(j)+.5)/float64(r.Dy())
		for i := range r.Dx() {
			s.c.img.SetNRGBA(r.Min.X+i, r.Min.Y+j, p.At(t))
		}
	}
	for i, words := range [...]string{" ahead", "", "", "", " behind"} {
		v := s.endUM * (1 - float64(i)/2)
		y := float64(r.Min.Y + i*r.Dy()/4)
		s.c.stroke(ink, 1.5, []pixel{{float64(r.Max.X), y}, {float64(r.Max.X + 5), y}})
		s.c.write(small, ink, r.Max.X+10, int(y)+6, signed(v)+" µm"+words)
	}
}

// signed writes a number with its sign, 0 without.
func signed(v float64) string {
	if v == 0 {
		return "0"
	}
	return fmt.Sprintf("%+g", v)
}

func (s *sheet) spread(k Row, r image.Rectangle) {
	half := s.halfArcmin
	k.Spread.draw(s.c, r, half)
	perArcmin, bar := tile/(2*half), niceLength(half/2)
	s.c.in(r).scaleBar(color.White, r.Min.X+14, r.Max.Y-16, bar, perArcmin, spaced(bar, "minutes of arc"))
	s.around(r, "left", "right")
	second := "brightness: square root of the light"
	if first := s.Rows[0].Spread; first != k.Spread {
		second = fmt.Sprintf("brightest place %.2g %% of the first row's", 100*k.Spread.psf.Peak()/first.psf.Peak())
	}
	s.caption(r, 0, "a far point of light, as the patient sees it", second)
}

// spots draws the rays of the whole pupil to the scale of the spread.
func (s *sheet) spots(k *Spots, r image.Rectangle) {
	s.box(r)
	k.draw(s.c, r, s.halfArcmin)
	perArcmin, bar := tile/(2*s.halfArcmin), niceLength(s.halfArcmin/2)
	s.c.in(r).scaleBar(ink, r.Min.X+14, r.Max.Y-16, bar, perArcmin, spaced(bar, "minutes of arc"))
	s.around(r, "left", "right")
	s.caption(r, 0, "the same point by rays alone", fmt.Sprintf("%d places of the pupil; RMS %.2g minutes of arc", len(k.Arcmin), k.RMSArcmin))
}

// closeUp draws the rays where they meet the retina.
func (s *sheet) closeUp(k *Section, r image.Rectangle) {
	s.box(r)
	perMM, bar := tile/(2*s.halfMM), niceLength(s.halfMM/2)
	l := k.landing()
	k.drawFocus(s.c, viewport{r.Inset(2), Point{k.Chief.Z - s.halfMM/3, l.mid}, perMM})
	s.c.in(r).scaleBar(ink, r.Min.X+14, r.Max.Y-16, bar, perMM, spaced(bar, "mm"))
	upper, lower := endWords(s.Side, k.Meridian)
	x := (r.Min.X + r.Max.X) / 2
	s.c.middle(small, ink, x, r.Min.Y-8, upper)
	s.c.middle(small, ink, x, r.Max.Y+20, lower)
	s.c.middle(small, soft, x, r.Max.Y+20+lineHeight, fmt.Sprintf("rays of the section (%.0f°) at the retina", float64(k.Meridian)))
}
