package studio

import (
	"math"

	"simview/internal/light"
)

// Camera is an eye that looks somewhere: turned first up, then to the right.
type Camera struct {
	Eye              V3
	PitchDeg, YawDeg float64 // up and right positive
}

// Ray returns the direction into the world of a place in the picture, degrees;
// a place at angle r from the centre lies r degrees from the direction of
// looking.
func (c Camera) Ray(xDeg, yDeg float64) V3 {
	const rad = math.Pi / 180
	r := math.Hypot(xDeg, yDeg)
	if r == 0 {
		return c.turn(V3{0, 0, 1})
	}
	k := math.Sin(r*rad) / r
	return c.turn(V3{k * xDeg, k * yDeg, math.Cos(r * rad)})
}

func (c Camera) turn(d V3) V3 {
	return d.rotX(c.PitchDeg).RotY(c.YawDeg)
}

// Place returns where a point of the world is seen in the picture, degrees, and
// its distance, m. A point at the eye is no direction.
func (c Camera) Place(p V3) (xDeg, yDeg, distanceM float64) {
	d := p.Sub(c.Eye).RotY(-c.YawDeg).rotX(-c.PitchDeg)
	across := math.Hypot(d.X, d.Y)
	if across == 0 {
		return 0, 0, d.Len()
	}
	k := math.Atan2(across, d.Z) * 180 / math.Pi / across
	return d.X * k, d.Y * k, d.Len()
}

// ray returns the ray of a place inside pixel (i, j), u and v in 0 to 1 to the
// right and down.
func (c Camera) ray(g light.Grid, i, j int, u, v float64) ray {
	x := g.LeftDeg + (float64(i)+u)*g.StepDeg
	y := g.TopDeg - (float64(j)+v)*g.StepDeg
	return ray{c.Eye, c.Ray(x, y)}
}
