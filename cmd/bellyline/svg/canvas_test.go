package svg

import (
	"encoding/xml"
	"errors"
	"io"
	"strings"
	"testing"
)

// classes counts the elements of each class in a picture, which must be well-formed.
func classes(t *testing.T, picture string) map[string]int {
	t.Helper()
	count := map[string]int{}
	in := xml.NewDecoder(strings.NewReader(picture))
	for {
		token, err := in.Token()
		if errors.Is(err, io.EOF) {
			return count
		}
		if err != nil {
			t.Fatal(err)
		}
		if e, ok := token.(xml.StartElement); ok {
			for _, a := range e.Attr {
				if a.Name.Local == "class" {
					count[a.Value]++
				}
			}
		}
	}
}
