package main

import (
	"fmt"
	"path/filepath"

	"simview/internal/compare"
	"simview/internal/scene"
)

// maxPictureBytes is far above any stored picture.
const maxPictureBytes = 8 << 20

// parseScene reads a scene whose pictures stand beside its file.
func parseScene(path string, data []byte) (*scene.Scene, error) {
	return parseKeeping(path, data, func(string, []byte) {})
}

// parseKeeping reads a scene and hands over each picture beside its file.
func parseKeeping(path string, data []byte, keep func(file string, data []byte)) (*scene.Scene, error) {
	return scene.ParseWith(path, data, scene.Pictures{Open: func(file string) ([]byte, error) {
		data, err := readUpTo(filepath.Join(filepath.Dir(path), file), maxPictureBytes)
		if err != nil {
			return nil, fmt.Errorf("cannot be read: %w; hint: it stands beside the scene's file", bare(err))
		}
		keep(file, data)
		return data, nil
	}})
}

// keptScene reads a scene whose text and pictures are in the settings.
func keptScene(name string, set compare.Settings) (*scene.Scene, error) {
	return scene.ParseWith(name, []byte(set.SceneFiles[name]), scene.Pictures{Open: func(file string) ([]byte, error) {
		data, ok := set.ScenePictures[compare.PictureKey(name, file)]
		if !ok {
			return nil, fmt.Errorf("is not in the record; hint: make the sheet anew from the scene's file")
		}
		return data, nil
	}})
}
