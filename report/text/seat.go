package text

import (
	"fmt"
	"strings"

	"evenbass/model"
)

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
