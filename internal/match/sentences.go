package match

import (
	"fmt"
	"strings"
)

// Sentences that stand beside every result, whatever came out.
const (
	Conversation      = "A match is a conversation, not a finding."
	NotAgainstTheLoss = "Not choosing a field-loss picture does not speak against field loss: most people do not see what they miss."
)

// UrgentSentence stands above a result in which [Result.Urgent] is not empty.
const UrgentSentence = "Words were used that can mean something urgent. Ask about them now, before the pictures are talked about."

// sentences says what must not be read past.
func (r Result) sentences() []string {
	out := []string{Conversation, NotAgainstTheLoss}
	if len(r.Urgent) > 0 {
		out = append([]string{UrgentSentence + " The words: " + strings.Join(r.Urgent, ", ") + "."}, out...)
	}
	if r.Outcome != Decided {
		out = append(out, "The order of the views below is not settled: "+r.Why+".")
	}
	for _, p := range r.NotAsked {
		out = append(out, fmt.Sprintf("%s and %s were not compared: the fellow eye is predicted not to tell them apart.", p[0], p[1]))
	}
	if r.Side.Bias.Lo > 0 {
		out = append(out, "The left picture was chosen more often than what it showed accounts for; the ranking allows for that.")
	}
	if r.Side.Bias.Hi < 0 {
		out = append(out, "The right picture was chosen more often than what it showed accounts for; the ranking allows for that.")
	}
	if r.Catches.Obvious == 0 {
		out = append(out, "No pair with an obvious answer was asked, so nothing tests whether the answers follow the pictures.")
	}
	for _, s := range r.Severity {
		if s.AtEnd > 0 {
			out = append(out, fmt.Sprintf("The strength of %s was set to an end of its range %d times; the true one may lie beyond.", s.View, s.AtEnd))
		}
	}
	return out
}
