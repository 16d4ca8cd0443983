package scene

import (
	"math"

	"github.com/lucasb-eyer/go-colorful"

	"simview/internal/light"
)

// ink is a paint in linear light and degrees.
type ink struct {
	rgb, toRGB [3]float32
	from, to   pt // of the fade, degrees
	fades      bool
	tex        *texture
	alpha      float32
	add        bool
	soft       *softEdge
	picture    *pictureInk
}

// softEdge makes an ellipse fade: (1 - r^2)^2, r = 1 at its rim.
type softEdge struct{ x, y, rx, ry float64 }

func (p *paint) ink(f frame) *ink {
	k := &ink{rgb: linear(*p.CdM2*f.dim, p.Tint), tex: p.Texture, alpha: 1, add: p.Add}
	if p.Opacity != nil {
		k.alpha = float32(*p.Opacity)
	}
	if p.Fade != nil {
		k.fades = true
		tint := p.Fade.Tint
		if tint == "" {
			tint = p.Tint
		}
		k.toRGB = linear(*p.Fade.CdM2*f.dim, tint)
		k.from = f.point(pt{p.Fade.From[0], p.Fade.From[1]})
		k.to = f.point(pt{p.Fade.To[0], p.Fade.To[1]})
	}
	return k
}

// linear returns linear sRGB of the tint's hue whose luminance is l, cd/m².
func linear(l float64, tint string) [3]float32 {
	if tint == "" {
		return [3]float32{float32(l), float32(l), float32(l)}
	}
	c, err := colorful.Hex(tint)
	if err != nil {
		return [3]float32{float32(l), float32(l), float32(l)} // refused on reading
	}
	r, g, b := c.LinearRgb()
	k := l / (light.WeightR*r + light.WeightG*g + light.WeightB*b)
	return [3]float32{float32(r * k), float32(g * k), float32(b * k)}
}

// painter is the memory of one worker.
type painter struct {
	cov   coverage
	noise noiseRow
	tex   []float32
	local []pt
	line  []float32
}

// paintMark covers the rows j0 up to j1 of the picture with a mark.
func (p *painter) paintMark(img *light.Image, k *mark, j0, j1 int) {
	g := img.Grid
	ia := max(int(math.Floor((k.x0-g.LeftDeg)/g.StepDeg)), 0)
	ib := min(int(math.Ceil((k.x1-g.LeftDeg)/g.StepDeg)), g.W)
	ja := max(int(math.Floor((g.TopDeg-k.y1)/g.StepDeg)), j0)
	jb := min(int(math.Ceil((g.TopDeg-k.y0)/g.StepDeg)), j1)
	if ia >= ib || ja >= jb {
		return
	}
	p.cov.reset(ib-ia, jb-ja)
	for _, o := range k.outlines {
		p.local = p.local[:0]
		for _, q := range o {
			p.local = append(p.local, pt{(q.x-g.LeftDeg)/g.StepDeg - float64(ia), (g.TopDeg-q.y)/g.StepDeg - float64(ja)})
		}
		p.cov.outline(p.local)
	}
	for j := ja; j < jb; j++ {
		p.paintRow(img, k.ink, p.cov.row(j-ja), j, ia)
	}
}

// paintRow lays ink over one row, from column ia on.
func (p *painter) paintRow(img *light.Image, k *ink, cov []float32, j, ia int) {
	a, b := 0, len(cov)
	for a < b && cov[a] == 0 {
		a++
	}
	for b > a && cov[b-1] == 0 {
		b--
	}
	if a == b {
		return
	}
	cov, ia = cov[a:b], ia+a
	if k.picture != nil {
		p.pictureRow(img, k.picture, cov, j, ia)
		return
	}
	k.thin(cov, img.Grid, j, ia)
	row := j*img.W + ia
	r, g, bl := img.R[row:row+len(cov)], img.G[row:row+len(cov)], img.B[row:row+len(cov)]
	if k.tex == nil && !k.fades {
		k.flat(r, g, bl, cov)
		return
	}
	p.shade(img.Grid, k, j, ia, len(cov))
	k.varied(r, g, bl, cov, p.tex, img.Grid, j, ia)
}

// thin multiplies the coverage by opacity and soft edge.
func (k *ink) thin(cov []float32, g light.Grid, j, ia int) {
	if k.soft != nil {
		_, y := g.Centre(0, j)
		vy := (y - k.soft.y) / k.soft.ry
		for i := range cov {
			x, _ := g.Centre(ia+i, j)
			vx := (x - k.soft.x) / k.soft.rx
			s := max(1-vx*vx-vy*vy, 0)
			cov[i] *= float32(s * s)
		}
	}
	if k.alpha != 1 {
		for i := range cov {
			cov[i] *= k.alpha
		}
	}
}

func (k *ink) flat(r, g, b, cov []float32) {
	for i, c := range cov {
		keep := 1 - c
		if k.add {
			keep = 1
		}
		r[i] = r[i]*keep + k.rgb[0]*c
		g[i] = g[i]*keep + k.rgb[1]*c
		b[i] = b[i]*keep + k.rgb[2]*c
	}
}

// shade fills p.tex with the texture of the row, or with ones.
func (p *painter) shade(g light.Grid, k *ink, j, ia, n int) {
	if cap(p.tex) < n {
		p.tex = make([]float32, n)
	}
	p.tex = p.tex[:n]
	if k.tex != nil {
		p.noise.fill(p.tex, k.tex, g, j, ia)
		return
	}
	for i := range p.tex {
		p.tex[i] = 1
	}
}

func (k *ink) varied(r, g, b, cov, tex []float32, grid light.Grid, j, ia int) {
	t, dt := k.along(grid, j, ia)
	for i, c := range cov {
		keep := 1 - c
		if k.add {
			keep = 1
		}
		s := float32(min(max(t, 0), 1))
		t += dt
		c *= tex[i]
		r[i] = r[i]*keep + (k.rgb[0]+s*(k.toRGB[0]-k.rgb[0]))*c
		g[i] = g[i]*keep + (k.rgb[1]+s*(k.toRGB[1]-k.rgb[1]))*c
		b[i] = b[i]*keep + (k.rgb[2]+s*(k.toRGB[2]-k.rgb[2]))*c
	}
}

// along returns how far the fade has come at a pixel and its step per column.
func (k *ink) along(g light.Grid, j, ia int) (t, dt float64) {
	if !k.fades {
		return 0, 0
	}
	x, y := g.Centre(ia, j)
	dx, dy := k.to.x-k.from.x, k.to.y-k.from.y
	n := dx*dx + dy*dy
	return ((x-k.from.x)*dx + (y-k.from.y)*dy) / n, dx * g.StepDeg / n
}
