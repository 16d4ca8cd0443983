package main

import (
	"fmt"
	"io"
	"os"
	"time"

	"golang.org/x/term"
)

// patience is how long a run stays silent.
const patience = 2 * time.Second

// progress returns a function that says on a terminal what is being made, once
// the run has lasted longer than patience, and one that clears the line.
func progress(stderr io.Writer) (tell func(done, of int, next string), clear func()) {
	f, ok := stderr.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		return func(int, int, string) {}, func() {}
	}
	start, said := time.Now(), false
	tell = func(done, of int, next string) {
		if time.Since(start) < patience {
			return
		}
		said = true
		fmt.Fprintf(f, "\r\x1b[K%d of %d: %s", done, of, next)
	}
	return tell, func() {
		if said {
			fmt.Fprint(f, "\r\x1b[K")
		}
	}
}
