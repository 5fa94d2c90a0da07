package text

import (
	"fmt"
	"math"
	"strings"

	"gonum.org/v1/gonum/spatial/r3"

	"evenbass/model"
	"evenbass/report/unit"
)

// StepText says what to move from one layout to another and how far: "seat 14 cm towards the back wall, and
// both speakers 5 cm up".
func StepText(from, to model.Layout, s unit.Style) string { return StepOf("seat", from, to, s) }

// StepOf is StepText with a name for what holds the main seat.
func StepOf(seat string, from, to model.Layout, s unit.Style) string {
	var words []string
	if Apart(from.Seat, to.Seat) {
		words = append(words, seat+" "+Moves(from.Seat, to.Seat, s))
	}
	if Apart(from.Left, to.Left) || Apart(from.Right, to.Right) {
		words = append(words, speakersText(from, to, s))
	}
	return strings.Join(words, ", and ")
}

// Apart reports whether two places differ by as much as a tape shows.
func Apart(a, b r3.Vec) bool { return r3.Norm(r3.Sub(a, b)) >= 0.005 }

// speakersText says how the speakers move.
func speakersText(from, to model.Layout, s unit.Style) string {
	left, right := r3.Sub(to.Left, from.Left), r3.Sub(to.Right, from.Right)
	across := r3.Vec{Y: left.Y}
	switch {
	case !Apart(left, right):
		return "both speakers " + Moves(from.Left, to.Left, s)
	case Apart(r3.Sub(left, across), r3.Sub(right, r3.Scale(-1, across))):
		return fmt.Sprintf("left speaker %s, right speaker %s", Moves(from.Left, to.Left, s), Moves(from.Right, to.Right, s))
	}
	way := "inwards"
	if right.Y > 0 {
		way = "outwards"
	}
	words := fmt.Sprintf("each speaker %s %s", s.Tape(math.Abs(right.Y)), way)
	if along := r3.Sub(left, across); r3.Norm(along) >= 0.005 {
		words += " and " + Moves(from.Left, r3.Add(from.Left, along), s)
	}
	return words
}

// FurnitureName is what moves with the main seat: the piece of furniture that holds it, if the room
// file names one, else "seat".
func FurnitureName(p *model.Project) string {
	if p == nil || len(p.Seats) == 0 {
		return "seat"
	}
	if on := strings.TrimSpace(Printable(p.Seats[0].On)); on != "" {
		return on
	}
	return "seat"
}

// SeatTitle names seat i.
func SeatTitle(p *model.Project, i int) string {
	if name := strings.TrimSpace(Printable(p.Seats[i].Name)); name != "" {
		return name
	}
	return fmt.Sprintf("seat %d", i+1)
}

// FurnitureTitle names a piece of furniture and says what it is: "books (shelves)", "sofa".
func FurnitureTitle(b model.Block) string {
	name := strings.TrimSpace(Printable(b.Name))
	if name == "" || name == b.Kind.String() {
		return b.Kind.String()
	}
	return fmt.Sprintf("%s (%v)", name, b.Kind)
}
