package roomfile

import (
	"fmt"

	"evenbass/model/material"
)

// construction is the codec of the name of a construction, in the library's spelling.
var construction = codec[string]{
	func(s string) (string, error) {
		if c, ok := material.Lookup(s); ok {
			return c.Name, nil
		}
		return "", &Mistake{fmt.Sprintf("no construction is called %q", s), "did you mean \"" + material.Nearest(s) + "\"?"}
	},
	func(s string) string { return s },
}
