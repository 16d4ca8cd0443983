package scene

import (
	"os"
	"strings"
	"testing"
)

func TestEveryKeyOfASceneFileIsExplained(t *testing.T) {
	text, err := os.ReadFile("../../scenes/README.md")
	if err != nil {
		t.Fatal(err)
	}
	for _, key := range allKeys() {
		if !strings.Contains(string(text), "`"+key+"`") {
			t.Errorf("scenes/README.md does not explain `%s`", key)
		}
	}
}
