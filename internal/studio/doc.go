// Package studio renders a room, a table or a road of simple geometry in true
// luminance, for scenes that are too rich in light to be drawn by hand: light is
// followed from the eye backwards until it meets a source, and sources are also
// sampled from every surface, the two ways weighted against each other.
//
// It knows Lambert surfaces with procedural textures, a dielectric coat over
// them (glaze, varnish, water on asphalt), glowing quads, lamps that have a
// luminous intensity and no size, and a sky by direction. There is no
// transparency. Nothing here is needed to use the program: the pictures are
// made once, stored, and read by package scene.
//
// Sources: path tracing with next-event estimation and the power heuristic
// (Veach1997, from memory); microfacets (Walter2007, from memory).
//
// # Conventions
//
// Axes and origin: metres in the world, x to the right, y up, z ahead; the eye
// stands anywhere and may look up or down. Pictures are equidistant in angle
// about the direction of looking, right +, up +, degrees. Index scheme and
// normalisation: colours are linear sRGB primaries scaled so that grey of
// luminance L has R = G = B = L. Sign: pitch is positive upwards, yaw to the
// right. Eye side: none. Internal units: metres, cd/m², cd, degrees at the
// camera. Sampling and centring: a pixel holds the mean over its square, from
// seeded samples; the same seed gives the same picture on any number of cores.
package studio
