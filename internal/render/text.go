package render

import "simview/internal/lettering"

// style is a face at a size in pixels.
type style = lettering.Style
