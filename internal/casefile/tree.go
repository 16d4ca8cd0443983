package casefile

import (
	"errors"
	"fmt"
	"regexp"
	"strings"

	"github.com/goccy/go-yaml"
	"github.com/goccy/go-yaml/ast"
	"github.com/goccy/go-yaml/lexer"
	"github.com/goccy/go-yaml/parser"
	"github.com/goccy/go-yaml/token"
)

// Limits on the shape of a file, far above what a case needs, so that a file
// made to exhaust memory or stack is refused before it is parsed.
const (
	maxBytes      = 1 << 20 // bytes of a case file or of a field file
	maxFlowDepth  = 16      // brackets inside brackets
	maxLineItems  = 4       // list dashes on one line
	maxBlockDepth = 200     // columns of indentation
	maxTokens     = 20_000  // words, numbers and signs; ten listed 30-2 fields have half of that
)

// parseTree turns the text into a tree with positions. Anchors, aliases, tags
// and merges are refused: a case says everything where it belongs.
func parseTree(name string, data []byte) (tree ast.Node, err error) {
	defer func() {
		if r := recover(); r != nil { // the parser's own faults are the file's faults to the user
			tree, err = nil, Problems{{
				File: name, What: "cannot be read as YAML", Got: quoted(fmt.Sprint(r)),
				Hint: "compare it with the example in docs/case.md",
			}}
		}
	}()
	tokens := lexer.Tokenize(string(data))
	if p := refusedToken(name, tokens); p != nil {
		return nil, Problems{*p}
	}
	file, err := parser.Parse(tokens, 0)
	if err != nil {
		return nil, Problems{syntaxProblem(name, err)}
	}
	return onlyDocument(name, file)
}

// onlyDocument returns the body of a file that holds one document.
func onlyDocument(name string, file *ast.File) (ast.Node, error) {
	var body ast.Node
	for _, d := range file.Docs {
		if d.Body == nil {
			continue
		}
		if body != nil {
			return nil, Problems{{
				File: name, Line: line(d.Body), What: "a second document starts here",
				Hint: "write one case per file, without --- between parts",
			}}
		}
		body = d.Body
	}
	if body == nil {
		return nil, Problems{{File: name, What: "is empty", Hint: "start from the example in docs/case.md"}}
	}
	return body, nil
}

// refusedToken finds the first thing that a case file may not contain.
func refusedToken(name string, tokens token.Tokens) *Problem {
	if len(tokens) > maxTokens {
		return &Problem{
			File: name, What: "is too long for a case", Got: fmt.Sprintf("%d words and signs", len(tokens)),
			Hint: fmt.Sprintf("at most %d are read; put the points of fields into files and name these with csv", maxTokens),
		}
	}
	depth, dashes, lastLine := 0, 0, 0
	for _, t := range tokens {
		if t.Position.Line != lastLine {
			lastLine, dashes = t.Position.Line, 0
		}
		switch t.Type {
		case token.MappingStartType, token.SequenceStartType:
			depth++
		case token.MappingEndType, token.SequenceEndType:
			depth--
		case token.SequenceEntryType:
			dashes++
		}
		p := Problem{File: name, Line: t.Position.Line}
		switch {
		case depth > maxFlowDepth || dashes > maxLineItems || depth == 0 && t.Position.Column > maxBlockDepth && startsNesting(t):
			p.What, p.Hint = "is nested too deeply for a case", "a case needs at most 8 levels"
			return &p
		case refusedType(t.Type):
			p.What, p.Got = "anchors, aliases, tags, merges and directives are not used in a case", quoted(t.Value)
			p.Hint = "write the values out where they belong; put text that starts with & * ! ? or % in quotes"
			return &p
		}
	}
	return nil
}

// startsNesting reports whether the token opens a level of the tree.
func startsNesting(t *token.Token) bool {
	return t.Type == token.MappingValueType || t.Type == token.SequenceEntryType
}

// refusedType reports the YAML features that a case does without.
func refusedType(t token.Type) bool {
	switch t {
	case token.AnchorType, token.AliasType, token.TagType, token.MergeKeyType, token.MappingKeyType, token.DirectiveType:
		return true
	}
	return false
}

// keyTwice is the parser's message for a key that a group holds twice.
var keyTwice = regexp.MustCompile(`^mapping key "(.*)" already defined at \[(\d+):\d+\]`)

// syntaxProblem turns the parser's error into one of ours.
func syntaxProblem(name string, err error) Problem {
	p := Problem{File: name, Hint: "check indentation (spaces, no tabs), the colon and space after each key, and quotes"}
	var at yaml.Error
	if !errors.As(err, &at) {
		p.What = "is not YAML: " + firstLine(err.Error())
		return p
	}
	if t := at.GetToken(); t != nil {
		p.Line = t.Position.Line
	}
	if m := keyTwice.FindStringSubmatch(at.GetMessage()); m != nil {
		p.Key, p.What, p.Hint = m[1], "is given twice in one group, first in line "+m[2], "keep one of them"
		return p
	}
	p.What = "is not YAML: " + firstLine(at.GetMessage())
	return p
}

// firstLine returns s up to its first line break.
func firstLine(s string) string {
	s, _, _ = strings.Cut(s, "\n")
	return s
}

// line returns the line on which a node starts.
func line(n ast.Node) int {
	if n == nil || n.GetToken() == nil {
		return 0
	}
	return n.GetToken().Position.Line
}

// text returns a scalar as it stands in the file, and whether it is one.
func text(n ast.Node) (string, bool) {
	switch s := n.(type) {
	case *ast.StringNode:
		return s.Value, true
	case *ast.LiteralNode:
		return s.Value.Value, true
	case *ast.IntegerNode, *ast.FloatNode, *ast.BoolNode, *ast.InfinityNode, *ast.NanNode:
		return n.GetToken().Value, true
	}
	return "", false
}

// shown describes a node for a message.
func shown(n ast.Node) string {
	switch n.(type) {
	case *ast.MappingNode, *ast.MappingValueNode:
		return "a group of keys"
	case *ast.SequenceNode:
		return "a list"
	case *ast.NullNode:
		return "nothing"
	}
	if s, ok := text(n); ok {
		return quoted(strings.TrimSpace(s))
	}
	return "something else"
}

// entries returns the keys and values of a mapping, and whether it is one.
func entries(n ast.Node) ([]*ast.MappingValueNode, bool) {
	switch m := n.(type) {
	case *ast.MappingNode:
		return m.Values, true
	case *ast.MappingValueNode:
		return []*ast.MappingValueNode{m}, true
	}
	return nil, false
}
