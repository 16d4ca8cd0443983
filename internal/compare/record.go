package compare

import (
	"fmt"

	"simview/internal/cause"
	"simview/internal/unit"
)

// Format is the version of the record's layout.
const Format = 1

// Record is enough to make every picture of a sheet again, byte for byte, with
// the same program on the same family of processor: the case's own text, the
// options, and beside them what was made. It holds nothing that is not in the
// case, and no time or place.
type Record struct {
	Format  int               `json:"simview_record"`
	Version string            `json:"program_version"`
	Case    string            `json:"case_file"`  // name among Files
	Files   map[string]string `json:"case_files"` // text of the case and of the files it names
	Options Settings          `json:"options"`
	Scenes  []SceneRecord     `json:"scenes"`
	Assumed []string          `json:"assumed"`
	RestsOn []string          `json:"trials_rest_on,omitempty"`
	Notice  []string          `json:"notice"` // what every output says
}

// Settings are the options as a record keeps them.
type Settings struct {
	Eye             string       `json:"eye"`
	GazeXDeg        float64      `json:"gaze_x_deg"`
	GazeYDeg        float64      `json:"gaze_y_deg"`
	Tone            string       `json:"tone"`
	PupilFromLight  bool         `json:"pupil_from_light,omitempty"`
	OneEye          bool         `json:"one_eye,omitempty"`        // the pupil from light is that with the other eye covered
	Colour          string       `json:"colour,omitempty"`         // shared, beyond or own; none is shared
	LCA             string       `json:"lca,omitempty"`            // thibos or atchison-smith; none is thibos
	Layers          []string     `json:"layers,omitempty"`         // ring, needles
	LensTintFrom    float64      `json:"lens_tint_from,omitempty"` // years; 0 is no tint
	CSF             string       `json:"csf,omitempty"`            // key of the contrast sensitivity model; none is the usual
	NormalPeriphery bool         `json:"normal_periphery,omitempty"`
	Appearance      string       `json:"appearance,omitempty"` // how field loss is drawn; none is faded
	Outline         bool         `json:"outline,omitempty"`
	FieldDraw       int          `json:"field_draw,omitempty"` // number of an equally likely field; 0 is the one as measured
	FieldSeed       uint64       `json:"field_seed,omitempty"`
	MoreGazesDeg    [][2]float64 `json:"more_gazes_deg,omitempty"` // x, y of further fixations
	BothEyes        bool         `json:"both_eyes,omitempty"`
	AllBut          bool         `json:"all_but"`
	Trials          []string     `json:"trials,omitempty"`
	Extrapolate     bool         `json:"extrapolate"`
	Scenes          []string     `json:"scenes"`
	// SceneFiles is the text of the scenes that are not built in, by the name that
	// stands in Scenes.
	SceneFiles map[string]string `json:"scene_files,omitempty"`
	// ScenePictures holds the stored pictures that those scenes name, by
	// [PictureKey].
	ScenePictures map[string][]byte `json:"scene_pictures,omitempty"`
	Photo         *Photo            `json:"photo,omitempty"`
}

// PictureKey is the name of a scene's stored picture in [Settings.ScenePictures]:
// the scene's name in SceneFiles and the picture's file name.
func PictureKey(sceneFile, picture string) string { return sceneFile + "/" + picture }

// Photo is a photograph of the user's own, as a scene; the record keeps its
// check sum, not its content.
type Photo struct {
	File      string  `json:"file"`
	SHA256    string  `json:"sha256"`
	WidthDeg  float64 `json:"width_deg"`
	WhiteCdM2 float64 `json:"white_cdm2"` // 0 = not stated, no glare
	DistanceM float64 `json:"distance_m"`
}

// SceneRecord is one scene and its views.
type SceneRecord struct {
	ID           string       `json:"scene"`
	Title        string       `json:"title"`
	Tone         string       `json:"tone"`
	ClippedShare float64      `json:"clipped_share"` // of the reference view
	Light        string       `json:"light"`         // colour, layers and tint, in words
	FocusNM      float64      `json:"focus_nm"`      // the wavelength in focus where a refraction says so
	NeedleSeed   uint64       `json:"needle_seed,omitempty"`
	Views        []ViewRecord `json:"views"`
}

// ViewRecord is one view: which eye, which causes, how focused, and its files.
type ViewRecord struct {
	ID            string          `json:"view"`
	Name          string          `json:"name"`
	Eye           string          `json:"eye"`
	Strengths     cause.Strengths `json:"strengths"`
	Trial         string          `json:"trial,omitempty"`
	WhatIf        *WhatIf         `json:"what_if,omitempty"`
	GazeDeg       *[2]float64     `json:"gaze_deg,omitempty"` // x, y; none: that of the sheet
	Field         *FieldAs        `json:"field,omitempty"`    // none: as measured
	PupilMM       float64         `json:"pupil_mm"`
	LightShare    float64         `json:"light_share"`
	Trolands      float64         `json:"adaptation_td"`
	Condition     string          `json:"condition"`
	Focus         string          `json:"focus"`
	Notes         []string        `json:"notes,omitempty"`
	NotVisible    bool            `json:"not_visible_here"`
	PSFSamples    int             `json:"psf_samples"`
	PSFStepDeg    float64         `json:"psf_step_deg"`
	Wide          string          `json:"wide_file"`
	Window        string          `json:"window_file,omitempty"`
	Magnification float64         `json:"window_magnification,omitempty"`
}

// Options turns settings back into options; an eye that is neither right nor
// left is an error.
func (s Settings) Options() (Options, error) {
	side, err := unit.ParseSide(s.Eye)
	if err != nil {
		return Options{}, err
	}
	m, err := s.manner()
	if s.FieldDraw < 0 {
		return Options{}, fmt.Errorf("field draw: must be 1 or more, or 0 for the field as measured (got %d)", s.FieldDraw)
	}
	var more []unit.SightPoint
	for _, g := range s.MoreGazesDeg {
		more = append(more, unit.SightPoint{X: unit.Degrees(g[0]), Y: unit.Degrees(g[1])})
	}
	return Options{
		Field: FieldAs{Draw: s.FieldDraw, Seed: s.FieldSeed}, MoreGazes: more, BothEyes: s.BothEyes,
		Eye: side, Gaze: unit.SightPoint{X: unit.Degrees(s.GazeXDeg), Y: unit.Degrees(s.GazeYDeg)},
		Tone: s.Tone, PupilFromLight: s.PupilFromLight, OneEye: s.OneEye, Manner: m, AllBut: s.AllBut, Trials: s.Trials, Extrapolate: s.Extrapolate,
	}, err
}
