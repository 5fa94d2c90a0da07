package interview

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"evenbass/model/material"
	"evenbass/model/roomfile"
	"evenbass/model/roomfile/quantity"
)

// ErrEnded says that the answers ended before the last question.
var ErrEnded = errors.New("the answers ended before the last question; nothing was written")

// errListed says that an answer asked for a list, which is printed.
var errListed = errors.New("listed")

// interview holds the answers so far and the streams of answers and questions.
type interview struct {
	in  *bufio.Scanner
	out io.Writer
	*form
}

// Room asks about a room and returns the text of its room file, which reads without error, and whether
// its length was typed in feet or inches.
func Room(in io.Reader, out io.Writer) (file string, imperial bool, err error) {
	i := &interview{in: bufio.NewScanner(in), out: out, form: newForm()}
	fmt.Fprint(out, "Sit in your chair: the wall that you face is the front wall. Lengths may be 4.31 m, 431 cm,\n"+
		"14 ft 2 in or 14'2\". Press Enter to accept the value in brackets.\n\n")
	for _, part := range []func() error{i.sizes, i.corners, i.slope, i.constructions, i.speakers, i.seat, i.furnish} {
		if err := part(); err != nil {
			return "", false, err
		}
	}
	return i.text(), isImperial(i.length), nil
}

func (i *interview) line(question, fallback string) (string, error) {
	if fallback != "" {
		question += " [" + fallback + "]"
	}
	fmt.Fprint(i.out, question+": ")
	if !i.in.Scan() {
		fmt.Fprintln(i.out)
		return "", errors.Join(ErrEnded, i.in.Err())
	}
	if text := strings.TrimSpace(i.in.Text()); text != "" {
		return text, nil
	}
	return fallback, nil
}

// ask asks until an answer fits the room file.
func (i *interview) ask(question, fallback string, set func(*form, string) error) error {
	for {
		answer, err := i.line(question, fallback)
		if err != nil {
			return err
		}
		tried := *i.form
		if err := set(&tried, answer); errors.Is(err, errListed) {
			continue
		} else if err != nil {
			i.refuse(err.Error())
			continue
		}
		if fault := faultOf(tried.text()); fault != "" {
			i.refuse(fault)
			continue
		}
		*i.form = tried
		return nil
	}
}

// refuse says why an answer is asked for again.
func (i *interview) refuse(why string) {
	if !strings.HasSuffix(why, "?") {
		why += "."
	}
	fmt.Fprintf(i.out, "  That will not do: %s\n", why)
}

// faultOf says what is wrong with a room file, or "".
func faultOf(text string) string {
	_, err := roomfile.Read(strings.NewReader(text), "room file")
	var faults *roomfile.Error
	switch {
	case err == nil:
		return ""
	case errors.As(err, &faults) && len(faults.Faults) > 0:
		first := faults.Faults[0]
		if first.Right != "" {
			return fmt.Sprintf("%s %s; %s", first.Path, first.What, first.Right)
		}
		return first.Path + " " + first.What
	}
	return err.Error()
}

// length keeps a length as it is typed.
func length(to func(*form) *string) func(*form, string) error {
	return func(f *form, answer string) error {
		if _, err := quantity.ParseLength(answer); err != nil {
			return err
		}
		*to(f) = answer
		return nil
	}
}

func (i *interview) sizes() error {
	err := i.ask("What do you call the room?", i.name, func(f *form, s string) error { f.name = s; return nil })
	for _, size := range []struct {
		question string
		to       func(*form) *string
	}{
		{"How long is it, from the wall in front of you to the wall behind you?", func(f *form) *string { return &f.length }},
		{"How wide is it, from the left to the right wall?", func(f *form) *string { return &f.width }},
		{"How high is it, at its highest?", func(f *form) *string { return &f.height }},
	} {
		if err == nil {
			err = i.ask(size.question, "", length(size.to))
		}
	}
	if err == nil {
		fmt.Fprint(i.out, i.drawing())
	}
	return err
}

// yes asks a question that is answered yes or no.
func (i *interview) yes(question string, usual bool) (bool, error) {
	for {
		answer, err := i.line(question, map[bool]string{true: "yes", false: "no"}[usual])
		if err != nil {
			return false, err
		}
		switch strings.ToLower(answer) {
		case "y", "yes":
			return true, nil
		case "n", "no":
			return false, nil
		}
		fmt.Fprintln(i.out, "  That will not do: answer yes or no.")
	}
}

// corners asks for the outline of a room that is no rectangle.
func (i *interview) corners() error {
	plain, err := i.yes("Seen from above, is it a plain rectangle?", true)
	if err != nil || plain {
		return err
	}
	fmt.Fprintln(i.out, "Name the corners one after the other, going round: the distance from the front wall, a comma,\nthe distance from the left wall. Enter ends the list.")
	for {
		var list [][2]string
		for {
			answer, err := i.line(fmt.Sprintf("Corner %d", len(list)+1), "")
			if err != nil {
				return err
			}
			if answer == "" {
				break
			}
			x, y, _ := strings.Cut(answer, ",")
			corner := [2]string{strings.TrimSpace(x), strings.TrimSpace(y)}
			_, errX := quantity.ParseLength(corner[0])
			_, errY := quantity.ParseLength(corner[1])
			if err := errors.Join(errX, errY); err != nil {
				i.refuse(err.Error())
				continue
			}
			list = append(list, corner)
		}
		tried := *i.form
		tried.outline = list
		if fault := faultOf(tried.text()); fault != "" || len(list) == 0 {
			fmt.Fprintf(i.out, "  That will not do: %s. Begin again with corner 1.\n", fault)
			continue
		}
		*i.form = tried
		fmt.Fprint(i.out, i.drawing())
		return nil
	}
}

// slope asks for a sloped ceiling.
func (i *interview) slope() error {
	level, err := i.yes("Is the ceiling level all over?", true)
	if err != nil || level {
		return err
	}
	ways := map[string]string{"left": "left to right", "right": "right to left", "front": "front to back", "back": "back to front"}
	var side string
	for ways[side] == "" {
		if side, err = i.line("On which side is it lowest: left, right, front or back?", ""); err != nil {
			return err
		}
	}
	low := ""
	err = i.ask("How high is it there?", "", func(f *form, s string) error {
		f.rises, f.over = ways[side], map[bool]string{true: f.width, false: f.length}[side == "left" || side == "right"]
		low = s
		return length(func(f *form) *string { return &f.low })(f, s)
	})
	if err == nil {
		err = i.ask("Over which distance does it rise, measured along the floor?", i.over, length(func(f *form) *string { return &f.over }))
	}
	if err == nil && low != "" {
		fmt.Fprint(i.out, i.drawing())
	}
	return err
}

// constructions asks what walls, floor and ceiling are made of.
func (i *interview) constructions() error {
	construction := func(to func(*form) *string) func(*form, string) error {
		return func(f *form, s string) error {
			if s == "?" {
				fmt.Fprint(i.out, Constructions())
				return errListed
			}
			if _, known := material.Lookup(s); !known && s != "unknown" {
				nearest := "nothing is near it"
				if n := material.Nearest(s); n != "unknown" {
					nearest = fmt.Sprintf("the nearest is %q", n)
				}
				return fmt.Errorf("no construction is called %q; %s, and ? lists all", s, nearest)
			}
			*to(f) = s
			return nil
		}
	}
	fmt.Fprintln(i.out, "For example brick plastered, plasterboard on studs, concrete, timber on joists, or unknown; ? lists all.")
	err := i.ask("What are the walls made of, most of them?", "unknown", construction(func(f *form) *string { return &f.walls }))
	if err == nil {
		err = i.ask("And the floor?", "unknown", construction(func(f *form) *string { return &f.floor }))
	}
	if err == nil {
		err = i.ask("And the ceiling?", "unknown", construction(func(f *form) *string { return &f.ceiling }))
	}
	return err
}

// Constructions names every construction with the surfaces that it can be, one a line.
func Constructions() string {
	var b strings.Builder
	for _, name := range material.Names() {
		c, _ := material.Lookup(name)
		fmt.Fprintf(&b, "%-32s %v\n", name, c.Kind)
	}
	return b.String()
}

// placed keeps a length, or notes that something has no place yet.
func placed(to func(*form) *string) func(*form, string) error {
	return func(f *form, s string) error {
		if s == nowhere {
			return nil
		}
		return length(to)(f, s)
	}
}

const nowhere = "nowhere yet"

// speakers asks for the boxes and where they stand.
func (i *interview) speakers() error {
	err := i.ask("How deep, wide and high is one speaker?", strings.Join(i.box[:], " x "), func(f *form, s string) error {
		parts := strings.FieldsFunc(s, func(r rune) bool { return r == 'x' || r == '×' || r == ',' })
		if len(parts) != 3 {
			return errors.New("give three lengths, such as 28 cm x 21 cm x 34 cm")
		}
		for n, part := range parts {
			f.box[n] = strings.TrimSpace(part)
		}
		return nil
	})
	if err == nil {
		err = i.ask("How far are the woofers from the front wall now?", nowhere, placed(func(f *form) *string { return &f.speakersAt }))
	}
	if err != nil || i.speakersAt == "" {
		return err
	}
	err = i.ask("How far apart are the woofers?", i.apart, length(func(f *form) *string { return &f.apart }))
	if err == nil {
		err = i.ask("How high are the woofers above the floor?", i.up, length(func(f *form) *string { return &f.up }))
	}
	if err == nil {
		fmt.Fprint(i.out, i.drawing())
	}
	return err
}

// seat asks where the listener sits.
func (i *interview) seat() error {
	err := i.ask("How high are your ears above the floor?", i.ears, length(func(f *form) *string { return &f.ears }))
	if err == nil {
		err = i.ask("How far are they from the front wall now?", nowhere, placed(func(f *form) *string { return &f.seatAt }))
	}
	if err == nil {
		fmt.Fprint(i.out, i.drawing())
	}
	return err
}

// furnish asks for the furniture that is large enough to matter.
func (i *interview) furnish() error {
	example := "sofa, 3.1 m, 0.7 m, 90 cm x 200 cm x 85 cm"
	if isImperial(i.length) {
		example = "sofa, 10 ft, 2 ft, 3 ft x 6 ft 6 in x 33 in"
	}
	fmt.Fprint(i.out, "Name large furniture, such as a sofa, a bed or shelves, one a line: its kind, the distances of its\n"+
		"nearest corner from the front and from the left wall, its depth, width and height. For example\n"+example+". Enter ends the list.\n")
	for {
		last := false
		err := i.ask(fmt.Sprintf("Furniture %d", len(i.form.furniture)+1), "", func(f *form, s string) error {
			if last = s == ""; last {
				return nil
			}
			p, err := newPiece(s)
			f.furniture = append(f.furniture[:len(f.furniture):len(f.furniture)], p)
			return err
		})
		if err != nil || last {
			if err == nil && len(i.form.furniture) > 0 {
				fmt.Fprint(i.out, i.drawing())
			}
			return err
		}
	}
}
