package phrase

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"evenbass/model"
	"evenbass/model/roomfile/quantity"
)

// MaxName is the longest name in characters.
const MaxName = 200

// Name reads a name: any text of one line.
func Name(s string) (string, error) { return Line(s, "name", MaxName) }

// Line reads one line of text of at most so many characters.
func Line(s, what string, most int) (string, error) {
	if !utf8.ValidString(s) {
		return "", &quantity.Mistake{What: model.Sprintf("a %s is not UTF-8 text", what), Right: "write it in UTF-8"}
	}
	for _, r := range s {
		if Hidden(r) {
			return "", &quantity.Mistake{What: model.Sprintf("a %s holds a control character (%U)", what, r), Right: "write it as one line of text"}
		}
	}
	if n := utf8.RuneCountInString(s); n > most {
		return "", &quantity.Mistake{What: model.Sprintf("a %s has %d characters", what, n), Right: model.Sprintf("keep it below %d", most)}
	}
	return s, nil
}

// Hidden reports whether a character has no place in a line of text: control
// characters, line separators, a stray byte order mark.
func Hidden(r rune) bool {
	return unicode.IsControl(r) || r == '\u2028' || r == '\u2029' || r == '\ufeff' || r == '\ufffe' || r == '\uffff'
}

// Face reads the name of a wall.
func Face(s string) (model.Face, error) {
	f, err := model.ParseFace(s)
	if err != nil {
		names := make([]string, len(model.Faces))
		for i, f := range model.Faces {
			names[i] = f.String()
		}
		return 0, &quantity.Mistake{What: err.Error(), Right: quantity.Suggestion(s, names)}
	}
	return f, nil
}

// Edge reads the edge between two walls: "front left".
func Edge(s string) ([2]model.Face, error) {
	var walls [2]model.Face
	names := strings.Fields(s)
	if len(names) != 2 {
		return walls, &quantity.Mistake{What: model.Sprintf("%q is not an edge", s), Right: "write the two walls that meet, such as front left or back ceiling"}
	}
	for i, name := range names {
		w, err := Face(name)
		if err != nil {
			return walls, err
		}
		walls[i] = w
	}
	if walls[0].Axis() == walls[1].Axis() {
		return walls, &quantity.Mistake{What: model.Sprintf("%s and %s do not meet", walls[0], walls[1]), Right: "write two walls that do, such as front left or back ceiling"}
	}
	return walls, nil
}
