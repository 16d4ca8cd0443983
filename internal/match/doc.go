// Package match lets someone say, among views with neutral labels, which is more
// like what they see, and works out what the answers are worth. It knows views by
// their names only: no picture, no page, no file.
//
// A [Session] starts from a [Setup], asks at most 40 questions with [Session.Next]
// and takes an [Answer] to each. Every change is one line of a log that is written
// before it counts, so nothing answered is lost; [Read] makes the same state of the
// log. [Evaluate] turns a state into a [Result]: ranking, outcome, side bias, catch
// trials, own words, severity; [Result.Beside] sets what was measured beside it.
//
// Which pair is asked follows from the seed and the answers so far. Pairs that the
// fellow eye is predicted not to tell apart are never asked. Identical, repeated and
// obvious pairs are mixed in; a page must not show a question's kind to the patient.
//
// Answers are weighed by the model of Bradley and Terry with an advantage of the
// left (Agresti 2002) and weak normal priors,
//
//	P(left chosen) = 1 / (1 + exp(-(lambda_left - lambda_right + delta)))
//
// and intervals are those of the normal distribution at the top of the posterior. A
// view is named only where its chance of being the best passes a limit that equal
// views reach in at most one session of ten; otherwise the outcome is not decided.
// The limits hold for sessions whose length was fixed before: ending a session just
// when a view leads names false winners more often.
//
// A match is a conversation, not a finding, and not choosing a field-loss picture
// does not speak against field loss; every result carries both sentences.
//
// # Conventions
//
// Axes and origin: none; left and right are places on the patient's screen. Index
// scheme and normalisation: views count from 0 in the order of the setup, the foil
// is -1, questions count from 1; lambda is given against the mean of all views of
// the session. Sign: lambda above 0 is more like what is seen; delta above 0 is a
// habit of choosing the left; the gap of a severity is above minus below. Eye side:
// none, the caller says which eye looks. Internal units: logits for lambda and delta
// (0.3 is 57 to 43, 1.1 is 75 to 25, 1.7 is 85 to 15); strengths in the unit of the
// caller. Sampling and centring: all chance is drawn from the setup's seed, one
// stream for each purpose; the same seed and answers ask the same questions on the
// same kind of processor, and a log keeps the questions that were asked.
package match
