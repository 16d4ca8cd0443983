package web

import (
	"embed"
	"io/fs"
	"net/http"
)

//go:embed page
var files embed.FS

// pages serves the page itself from within the program.
func pages() http.Handler {
	sub, err := fs.Sub(files, "page")
	if err != nil {
		panic("web: page: " + err.Error()) // the folder is embedded above
	}
	return http.FileServerFS(sub)
}
