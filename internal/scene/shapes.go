package scene

// xy is a pair in degrees, or in metres inside a plane.
type xy [2]float64

// xyz is a place or direction in metres: right, up, ahead of the eye.
type xyz [3]float64

// whole is a number without a fraction; one with a fraction is refused on
// reading, not cut.
type whole int64

// shape is one entry of a list of shapes; exactly one field is set.
type shape struct {
	Rect    *rectShape    `yaml:"rect"`
	Polygon *polygonShape `yaml:"polygon"`
	Ellipse *ellipseShape `yaml:"ellipse"`
	Line    *lineShape    `yaml:"line"`
	Text    *textShape    `yaml:"text"`
	Letters *lettersShape `yaml:"letters"`
	Glitter *glitterShape `yaml:"glitter"`
	Scatter *scatterShape `yaml:"scatter"`
	Picture *pictureShape `yaml:"picture"`
	Use     *useShape     `yaml:"use"`
	Group   *groupShape   `yaml:"group"`

	line int // in the file, for messages
}

// paint says how a shape is filled.
type paint struct {
	CdM2    *float64 `yaml:"cdm2"`    // needed
	Tint    string   `yaml:"tint"`    // #rrggbb, its hue only; luminance is cdm2
	Fade    *fade    `yaml:"fade"`    // turns into another luminance across the shape
	Texture *texture `yaml:"texture"` // multiplies by 1 + noise
	Opacity *float64 `yaml:"opacity"` // 0 to 1, default 1
	Add     bool     `yaml:"add"`     // adds light instead of covering
	Soft    bool     `yaml:"soft"`    // ellipse only: fades out towards the rim
}

// fade is a linear gradient between two points.
type fade struct {
	CdM2 *float64 `yaml:"cdm2"` // needed
	Tint string   `yaml:"tint"`
	From xy       `yaml:"from"` // where the paint's own luminance still holds
	To   xy       `yaml:"to"`   // where the fade's luminance is reached
}

// texture is seeded noise of equal strength in every octave (1/f amplitude).
type texture struct {
	Seed      whole   `yaml:"seed"`
	Cell      xy      `yaml:"cell"`      // largest grain, degrees; metres with ground_m
	Octaves   whole   `yaml:"octaves"`   // each half the grain of the one before
	Amplitude float64 `yaml:"amplitude"` // rms as a fraction of the luminance
	GroundM   float64 `yaml:"ground_m"`  // above 0: lies on level ground so far below the eye
}

type rectShape struct {
	At    xy    `yaml:"at"`   // lower left corner
	Size  xy    `yaml:"size"` // width and height
	Paint paint `yaml:",inline"`
}

type polygonShape struct {
	Points []xy  `yaml:"points"`
	Smooth bool  `yaml:"smooth"` // a closed curve through the points
	Paint  paint `yaml:",inline"`
}

type ellipseShape struct {
	At     xy    `yaml:"at"`     // centre
	Radius xy    `yaml:"radius"` // across and up
	Paint  paint `yaml:",inline"`
}

type lineShape struct {
	Points []xy    `yaml:"points"`
	Width  float64 `yaml:"width"`
	Closed bool    `yaml:"closed"`
	Smooth bool    `yaml:"smooth"`
	Paint  paint   `yaml:",inline"`
}

type textShape struct {
	Lines   []string `yaml:"lines"`
	At      xy       `yaml:"at"`       // on the baseline of the first line
	XHeight float64  `yaml:"x_height"` // height of the small x; or
	LogMAR  *float64 `yaml:"logmar"`   // small x as high as a letter of this size
	Leading float64  `yaml:"leading"`  // baseline to baseline in x-heights, default 2.3
	Align   string   `yaml:"align"`    // left (default), center, right
	Font    string   `yaml:"font"`     // regular (default), bold, italic, mono
	Paint   paint    `yaml:",inline"`
}

type lettersShape struct {
	Letters string  `yaml:"letters"`
	At      xy      `yaml:"at"` // centre of the row
	LogMAR  float64 `yaml:"logmar"`
	Gap     float64 `yaml:"gap"` // in letter widths, default 1
	Paint   paint   `yaml:",inline"`
}

// glitterShape is the broken streak of a light on moving water.
type glitterShape struct {
	At     xy      `yaml:"at"`     // top centre
	Length float64 `yaml:"length"` // downwards
	Width  xy      `yaml:"width"`  // at the top and at the bottom
	Count  whole   `yaml:"count"`
	Seed   whole   `yaml:"seed"`
	Paint  paint   `yaml:",inline"`
}

// placing puts shapes somewhere else: scaled, then moved, then on a plane.
type placing struct {
	At    xy      `yaml:"at"`
	Scale xy      `yaml:"scale"` // across and up, default [1, 1]; negative mirrors
	Plane *plane  `yaml:"plane"`
	Dim   float64 `yaml:"dim"` // multiplies every luminance, default 1
}

type useShape struct {
	Part    string  `yaml:"part"`
	Placing placing `yaml:",inline"`
	Count   whole   `yaml:"count"` // copies, default 1
	Step    xy      `yaml:"step"`
	StepM   xyz     `yaml:"step_m"` // moves the plane from copy to copy
	Rows    whole   `yaml:"rows"`   // copies of the row, default 1
	RowStep xy      `yaml:"row_step"`
}

type groupShape struct {
	Placing placing `yaml:",inline"`
	Shapes  []shape `yaml:"shapes"`
}

// plane is a flat surface in the world, in metres from the eye.
type plane struct {
	Origin xyz `yaml:"origin_m"`
	Right  xyz `yaml:"right"` // direction of the surface's x, default [1, 0, 0]
	Up     xyz `yaml:"up"`    // direction of its y, default [0, 1, 0]
}

// scatterShape strews copies of a part over an area: leaves, grass, pebbles.
type scatterShape struct {
	Part    string   `yaml:"part"`
	At      xy       `yaml:"at"`    // lower left corner
	Size    xy       `yaml:"size"`  // width and height
	Round   bool     `yaml:"round"` // only inside the ellipse that fills the area
	Count   whole    `yaml:"count"`
	Seed    whole    `yaml:"seed"`
	Scales  xy       `yaml:"scales"`  // smallest and largest, default [1, 1]; half are mirrored
	Dims    xy       `yaml:"dims"`    // least and most that luminance is multiplied by, default [1, 1]
	Horizon *float64 `yaml:"horizon"` // height at which sizes vanish; they are as stated at the lower edge
}
