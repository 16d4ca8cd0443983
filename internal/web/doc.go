// Package web is the page in the room: a local server that shows one case to the
// people before one screen. It turns questions of the page into views, with the
// same functions as every other output, and keeps pictures, within bounds, and the
// sessions of a match.
//
// The way of a picture: guard (who may ask) -> ask (what is asked, checked) ->
// turns (a newer question of the same pane ends an older one) -> studio (scene,
// tone, spread: kept) -> picture. A further screen of the page needs a row in
// routes and, in the page, a row in screens.js.
//
// A match (match*.go) is the only part that changes anything: a set-up makes a plan,
// package match asks, and every answer is a line that is on the disk before the page
// hears of it. What the patient's side is told (asked) holds no name of a view.
//
// A question holds strengths, never a measurement, and the state of the page lives
// behind the # of its address, which a browser does not send. Nothing is logged.
//
// # Conventions
//
// Axes and origin: gaze in the patient's axes, degrees from the scene's centre.
// Index scheme and normalisation: none here. Sign: none here. Eye side: each pane
// names its own. Internal units: degrees, mm, metres; a strength k of 1 is as
// measured. Sampling and centring: a preview has samples of 5 minutes of arc and
// three wavelengths; a full picture is that of package render.
package web
