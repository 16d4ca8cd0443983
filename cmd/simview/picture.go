package main

import (
	"fmt"
	"path/filepath"

	"simview/internal/scene"
)

// maxPictureBytes is far above any stored picture.
const maxPictureBytes = 8 << 20

// parseScene reads a scene whose pictures stand beside its file.
func parseScene(path string, data []byte) (*scene.Scene, error) {
	return scene.ParseWith(path, data, scene.Pictures{Open: func(file string) ([]byte, error) {
		data, err := readUpTo(filepath.Join(filepath.Dir(path), file), maxPictureBytes)
		if err != nil {
			return nil, fmt.Errorf("cannot be read: %w; hint: it stands beside the scene's file", bare(err))
		}
		return data, nil
	}})
}
