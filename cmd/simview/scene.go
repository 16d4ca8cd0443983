package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"simview/internal/cause"
	"simview/internal/compare"
	"simview/internal/light"
	"simview/internal/scene"
	"simview/scenes"
)

func sceneCommand() *cobra.Command {
	var a alone
	c := &cobra.Command{
		Use:   "scene SCENE|FILE.yaml [-o FILE.png|FILE.npy]",
		Short: "Show a scene alone, without an eye; list the scenes; check one of your own",
		Long: `scene says how far away a scene is, how large, how bright its surfaces and lamps
are and what it is good for, and with -o draws it as it is, before any eye. SCENE
is one that is built in, FILE.yaml one of your own.

A .png holds 8-bit sRGB with the scene's tone curve and its lamps lit as discs;
with --linear it holds 16-bit linear light instead, 65535 being white. A .npy
holds float32 [y][x][red, green, blue] in cd/m², row 0 at the top. The last two
leave the lamps out: beside the file, FILE.json lists them with their places and
light, and says what white is and how many degrees a sample takes.`,
		Example: `  simview scene letters
  simview scene harbour-night -o harbour.png
  simview scene my-kitchen.yaml --window -o part.png
  simview scene street-day -o street.npy --step-arcmin 2`,
		Args: oneScene, ValidArgsFunction: sceneFiles,
		RunE: func(c *cobra.Command, args []string) error {
			s, err := sceneNamed(args[0])
			if err != nil {
				return err
			}
			if err := a.check(c, s, args[0]); err != nil {
				return err
			}
			if a.json {
				err = encode(c.OutOrStdout(), factsOf(s))
			} else {
				err = factsOf(s).print(c.OutOrStdout())
			}
			if err != nil || a.out == "" {
				return err
			}
			return a.write(s)
		},
	}
	f := c.Flags()
	f.StringVarP(&a.out, "out", "o", "", "output `file`, .png or .npy; without it only the facts are printed")
	f.BoolVar(&a.linear, "linear", false, "16-bit linear light in the .png instead of 8-bit sRGB")
	f.BoolVar(&a.window, "window", false, "the magnified window instead of the whole")
	f.Float64Var(&a.step, "step-arcmin", 0, "size of a sample in `minutes of arc`, 0.1 to 60 (default: 1400 samples across)")
	f.StringVar(&a.tone, "tone", compare.ByScene, "tone `curve` of an 8-bit picture: linear, photographic, visibility, or by-scene")
	f.BoolVar(&a.json, "json", false, "print the facts as JSON")
	complete(c, "tone", fixedWords(tones...))
	c.AddCommand(sceneListCommand(), sceneCheckCommand())
	return c
}

func sceneListCommand() *cobra.Command {
	c := scenesCommand()
	c.Use = "list"
	c.Example = strings.ReplaceAll(c.Example, "simview scenes", "simview scene list")
	return c
}

func sceneCheckCommand() *cobra.Command {
	return &cobra.Command{
		Use:   "check FILE.yaml...",
		Short: "Check scene files of your own",
		Long: `check reads scene files and prints what was understood. A slip is named with its
file and line and what was expected; nothing is guessed and nothing is clamped.`,
		Example: `  simview scene check my-kitchen.yaml`,
		Args: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return usagef("scene check: name a scene file, as in `simview scene check my.yaml`")
			}
			return nil
		},
		ValidArgsFunction: caseFiles,
		RunE: func(c *cobra.Command, args []string) error {
			var slips []error
			for _, name := range args {
				s, err := openScene(name)
				if err == nil {
					err = factsOf(s).print(c.OutOrStdout())
				}
				slips = append(slips, err)
			}
			return errors.Join(slips...)
		},
	}
}

// oneScene wants exactly one argument.
func oneScene(_ *cobra.Command, args []string) error {
	switch len(args) {
	case 0:
		return usagef("scene: name a scene or a file, as in `simview scene letters`; hint: `simview scene list` lists them")
	case 1:
		return nil
	}
	return usagef("one scene at most may be named (got %q)", strings.Join(args, " "))
}

// sceneFiles completes the name of a scene, or of a file.
func sceneFiles(_ *cobra.Command, args []string, typed string) ([]string, cobra.ShellCompDirective) {
	var out []string
	for _, id := range sceneWords(nil) {
		if len(args) == 0 && strings.HasPrefix(id, typed) {
			out = append(out, id)
		}
	}
	return out, cobra.ShellCompDirectiveDefault
}

// sceneNamed returns a scene that is built in, or one from a file: what ends in
// .yaml or .yml is a file.
func sceneNamed(name string) (*scene.Scene, error) {
	if isSceneFile(name) {
		return openScene(name)
	}
	s, err := scenes.Builtin(name)
	if err != nil {
		return nil, usagef("%w; hint: a file of your own ends in .yaml", err)
	}
	return s, nil
}

// ownScenes takes the text of scene files, and their pictures, into the settings,
// where they are known by their names without the folders, as records hold no
// place.
func ownScenes(set *compare.Settings) error {
	for i, name := range set.Scenes {
		if !isSceneFile(name) {
			continue
		}
		data, err := readScene(name)
		if err != nil {
			return err
		}
		if set.SceneFiles == nil {
			set.SceneFiles, set.ScenePictures = map[string]string{}, map[string][]byte{}
		}
		set.Scenes[i] = filepath.Base(name)
		keep := func(file string, data []byte) { set.ScenePictures[compare.PictureKey(set.Scenes[i], file)] = data }
		if _, err := parseKeeping(name, data, keep); err != nil { // named as it was typed
			return err
		}
		set.SceneFiles[set.Scenes[i]] = string(data)
	}
	return distinct("--scene", set.Scenes)
}

// glareKnown refuses to show scattered light of a photograph whose brightness is
// unknown.
func (k *which) glareKnown(s *scene.Scene) error {
	if !s.GlareOff {
		return nil
	}
	for _, word := range k.causes {
		if id, _, _ := strings.Cut(word, "="); id == string(cause.Scatter) {
			return usagef("--view: %s cannot be shown on a photograph whose white is not stated; hint: --photo-white-cdm2, about 120 for paper in a room, 5000 for a bright sky", id)
		}
	}
	return nil
}

func isSceneFile(name string) bool {
	ext := filepath.Ext(name)
	return ext == ".yaml" || ext == ".yml"
}

// openScene reads a scene file; its messages name the file as it was typed.
func openScene(path string) (*scene.Scene, error) {
	data, err := readScene(path)
	if err != nil {
		return nil, err
	}
	return parseScene(path, data)
}

func readScene(path string) ([]byte, error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be opened; hint: check the path, or see `simview scene list` for what is built in", path)
	}
	if !info.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: is not a file; hint: name a scene file ending in .yaml", path)
	}
	data, err := readUpTo(path, maxSceneBytes)
	if err != nil {
		return nil, fmt.Errorf("%s: cannot be read: %w", path, bare(err))
	}
	return data, nil
}

// maxSceneBytes is more than a scene file takes, so that it can refuse the file
// by itself without all of it being read.
const maxSceneBytes = 1 << 20

// alone holds the flags for a scene without an eye.
type alone struct {
	out, tone            string
	step                 float64
	linear, window, json bool
}

const (
	minArcmin, maxArcmin = 0.1, 60.0
	acrossDefault        = 1400 // samples
	mostSamples          = 64 << 20
)

// check refuses flags that do not fit, before anything is drawn.
func (a *alone) check(c *cobra.Command, s *scene.Scene, name string) error {
	for _, flag := range []string{"linear", "window", "step-arcmin", "tone"} {
		if a.out == "" && c.Flags().Changed(flag) {
			return usagef("--%s: nothing is drawn; hint: name a picture with -o FILE.png", flag)
		}
	}
	if c.Flags().Changed("step-arcmin") && !within(a.step, minArcmin, maxArcmin) {
		return usagef("--step-arcmin: must be 0.1 to 60 (got %g)", a.step)
	}
	if err := knownTone(a.tone); err != nil || a.out == "" {
		return err
	}
	return a.checkOut(s, name)
}

func (a *alone) checkOut(s *scene.Scene, name string) error {
	ext := filepath.Ext(a.out)
	if ext != ".png" && ext != ".npy" {
		return usagef("-o: must end in .png or .npy (got %q)", a.out)
	}
	if ext == ".npy" && a.linear {
		return usagef("--linear: goes with .png; a .npy is linear already")
	}
	if g := a.grid(s); g.Len() > mostSamples || g.Len() == 0 {
		return usagef("--step-arcmin: gives %d x %d samples; at most %d million are drawn; hint: a larger step, or --window", g.W, g.H, mostSamples>>20)
	}
	return free([]string{a.out, nextTo(a.out, ".json")}, name)
}

// grid returns what is drawn.
func (a *alone) grid(s *scene.Scene) light.Grid {
	width := s.WidthDeg
	if a.window {
		width = s.Window.WidthDeg
	}
	step := a.step / 60
	if step == 0 {
		step = width / acrossDefault
	}
	if a.window {
		return s.WindowGrid(step)
	}
	return s.Grid(step)
}

// write draws the scene into its file and, for linear light, says beside it how
// the numbers are meant.
func (a *alone) write(s *scene.Scene) error {
	g := a.grid(s)
	if filepath.Ext(a.out) == ".png" && !a.linear {
		img := s.Draw(g)
		whole := img
		if a.window { // a part is exposed as its whole is
			whole = s.Draw(s.Grid(s.WidthDeg / acrossDefault))
		}
		tone, err := light.ToneFor(whole, compare.Curve(a.tone, s), s.AdaptCdM2)
		if err != nil {
			return err
		}
		s.Light(img, tone.WhiteCdM2)
		return writePNG(a.out, tone.Encode(img))
	}
	img := s.Draw(g)
	white := 0.0
	for _, p := range img.Planes() {
		for _, v := range p {
			white = max(white, float64(v))
		}
	}
	meant := sheetOf(s, g)
	if a.linear {
		if white == 0 {
			return fmt.Errorf("scene: %s is black here, there is nothing to scale to; hint: write a .npy", s.ID)
		}
		meant.White = white
		if err := writePNG(a.out, light.EncodeLinear16(img, white)); err != nil {
			return err
		}
		return writeJSON(nextTo(a.out, ".json"), meant)
	}
	err := writeFile(a.out, func(w io.Writer) error { return writeNPY(w, interleaved(img), img.H, img.W, 3) })
	if err != nil {
		return err
	}
	return writeJSON(nextTo(a.out, ".json"), meant)
}

// interleaved returns the planes sample by sample.
func interleaved(m *light.Image) []float32 {
	out := make([]float32, 0, 3*m.Len())
	for k := range m.R {
		out = append(out, m.R[k], m.G[k], m.B[k])
	}
	return out
}
