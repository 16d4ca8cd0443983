// Package acuity predicts which letters an eye can read, by doing the task: the
// ten letters of a chart go through the optics and the nerve of this eye, get
// noise, and an observer names the letter that it finds most like.
//
// The observer knows the letters as the reference eye sees them and nothing of
// this eye's blur: each template is a letter through the reference eye's optics
// and the nerve, scaled to unit energy; the answer is the template with the
// largest correlation. With L a letter's spectrum, O the optics, N the nerve, c the
// contrast, s the share of light that is scattered, k what a field loss at
// fixation leaves, and n noise of density Noise,
//
//	t_i  = N O_ref L_i / |N O_ref L_i|
//	r_ik = c (1 - s) <t_i, k N O L_k> + <t_i, n>
//	the answer to letter k is the i with the largest r_ik
//
// r is normal with a known mean and covariance, so the share of right answers is
// counted on seeded draws of ten numbers instead of pictures of noise. The nerve is
// that of a patch of grating whose width goes with its period,
//
//	N(f) = f / T(f)
//
// which makes its threshold the same signal to noise at every frequency.
//
// The one free number, [Noise], was set once, so that the mean healthy eye reads
// -0.1 logMAR; nothing else is fitted. Letters stand alone: crowding, searching,
// trembling and guessing by experience are left out. Letters are read at
// fixation.
//
// # Conventions
//
// Axes and origin: letters and transfer functions are in the patient's axes, right
// + and up +, the letter's middle at the origin. Index scheme and normalisation:
// OTF(0) = 1; a letter is 1 on its strokes; the share of right answers is that
// over all ten letters. Sign: a higher logMAR is worse, so a loss is positive. Eye
// side: none. Internal units: height of letters in degrees inside, logMAR outside,
// frequencies in cycles per degree, contrast of Weber, 0 to 1. Sampling and
// centring: a letter's spectrum is sampled every third of a cycle per letter up to
// twelve cycles per letter, the mean left out; sizes lie every 0.05 logMAR.
package acuity
