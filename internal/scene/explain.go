package scene

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/goccy/go-yaml"
)

// explain turns an error of the YAML reader into a line and one sentence.
func explain(err error) (int, error) {
	var own *lineError
	if errors.As(err, &own) {
		return own.line, own
	}
	var y yaml.Error
	if !errors.As(err, &y) {
		return 0, err
	}
	msg, line, got := strings.ReplaceAll(y.GetMessage(), "unknown field", "unknown key"), 0, ""
	if t := y.GetToken(); t != nil {
		line, got = t.Position.Line, t.Value
	}
	if strings.HasPrefix(msg, "unknown key") {
		return line, errors.New(msg + didYouMean(got, allKeys()))
	}
	return line, errors.New(inPlainWords(msg, got))
}

var (
	wrongType = regexp.MustCompile(`^cannot unmarshal .* of type (\w+)$`)
	wrongForm = regexp.MustCompile(`^(\w+) was used where (\w+) is expected$`)
)

// expected says what a value of a type looks like in a file.
var expected = map[string]string{
	"float64": "a number such as 2.5", "bool": "true or false", "string": "words",
	"sequence": "a list in square brackets, or one line with a dash for each", "mapping": "keys with values, as in {at: [0, 0], size: [1, 1], cdm2: 100}",
}

// inPlainWords replaces what the YAML reader says in the words of this language.
func inPlainWords(msg, got string) string {
	if m := wrongType.FindStringSubmatch(msg); m != nil && expected[m[1]] != "" {
		return fmt.Sprintf("expected %s (got %q)", expected[m[1]], got)
	}
	if m := wrongForm.FindStringSubmatch(msg); m != nil && expected[m[2]] != "" {
		if strings.ContainsAny(got, "[{") {
			return "expected " + expected[m[2]]
		}
		return fmt.Sprintf("expected %s (got %q)", expected[m[2]], got)
	}
	if strings.Contains(msg, "already defined") {
		return fmt.Sprintf("the key %q stands here twice; hint: keep one of the two", got)
	}
	if strings.Contains(msg, "must be specified") {
		return msg + "; hint: a bracket may not be closed in the line above"
	}
	return msg
}
