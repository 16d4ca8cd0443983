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
	if !terminal(stderr) {
		return func(int, int, string) {}, func() {}
	}
	return teller(stderr, time.Now)
}

func terminal(w io.Writer) bool {
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

func teller(w io.Writer, now func() time.Time) (tell func(done, of int, next string), clear func()) {
	start, said := now(), false
	tell = func(done, of int, next string) {
		if now().Sub(start) < patience {
			return
		}
		said = true
		fmt.Fprintf(w, "\r\x1b[K%d of %d: %s", done, of, next)
	}
	return tell, func() {
		if said {
			fmt.Fprint(w, "\r\x1b[K")
		}
		said = false
	}
}
