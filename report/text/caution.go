package text

import (
	"slices"
	"strings"

	"evenbass/report/unit"
)

// Caution is one thing that can hurt someone or damage something: what may happen, what
// to do instead, who decides. Brief is what to do in one sentence.
type Caution struct{ Title, Risk, Instead, Decides, Brief string }

// Cautions returns those that concern moving loudspeakers and building
// absorbers. They are guidance in our words; none quotes a rule.
func Cautions(s unit.Style) []Caution {
	return []Caution{
		{
			"Lifting and toppling",
			"A loudspeaker, a stand or a tall panel that falls breaks feet and fingers.",
			"Lift anything over about " + s.Join("15 kg or 2 m", "35 lb or 6 ft") + " long with two people; put heavy boxes on stands made for them; tie tall pieces to the wall.",
			"The makers of stand and loudspeaker; for fixings in the wall, a joiner or builder.",
			"Lift heavy and long pieces in pairs, and tie tall ones to the wall.",
		},
		{
			"Heaters, sockets, vents, ways out",
			"Covered heaters and power supplies overheat; a blocked door or window traps people; a closed vent makes air stale.",
			"Keep heaters, sockets, breakers, valves and vents uncovered, and doors and escape windows free to open fully.",
			"The heater's instructions, local rules, the owner of the building.",
			"Keep heaters, sockets, vents and ways out free.",
		},
		{
			"Electricity",
			"Damaged cables and overloaded strips give shocks and start fires.",
			"Switch off before moving equipment, route cables where nobody steps on them, and put no power strip inside a panel.",
			"A licensed electrician for anything behind a cover plate.",
			"Switch off before you move equipment.",
		},
		{
			"Drilling",
			"A drill that meets a cable or a pipe gives shocks, starts fires or floods the room.",
			"Find cables and pipes with a detector before you drill or screw. Keep off the lines straight above and beside sockets and switches. Wear goggles.",
			"A licensed electrician or plumber where you are not sure.",
			"Find cables and pipes before you drill.",
		},
		{
			"Hearing and loudspeakers",
			"Bass can damage ears and drivers before it sounds loud.",
			"Start quietly; 75 to 80 dB at the seat is enough. Leave the room or wear hearing protection. Stop if a cone rattles.",
			"The loudspeaker's instructions; workplace noise rules where people are employed.",
			"Start test sounds quietly.",
		},
		{
			"Loads over heads",
			"A panel that falls off a ceiling injures whoever sits under it.",
			"Fix into joists or concrete, never into board alone; use several closed hooks and an independent safety wire.",
			"A structural engineer where the ceiling is old or in doubt, or the piece is heavy.",
			"Fix loads over heads to joists or concrete, with a second fixing.",
		},
		{
			"Fibres and dust",
			"Cutting mineral wool irritates skin, eyes and throat. Old coatings, boards and lagging may hold asbestos or lead.",
			"Wear sleeves, gloves, goggles and a dust mask; ventilate; cover every face of the wool. Stop when you meet old material, and have it tested.",
			"The material's safety sheet; for old material, a licensed surveyor.",
			"Wear sleeves, gloves, goggles and a dust mask; have old material tested before you cut or drill it.",
		},
		{
			"Fire",
			"Foam, film and cloth can carry flames fast and give off poisonous smoke.",
			"Use material with a fire class for rooms, keep film behind wool or cloth, and use no more than you need. Fit a smoke alarm.",
			"The fire authority or a licensed designer, above all where the public, staff or lodgers use the room.",
			"Use material with a fire class, away from heat.",
		},
		{
			"Damp",
			"Wool on a cold outside wall makes the wall colder; water can condense behind it unseen.",
			"Fix leaks first, leave a ventilated gap, look behind it through the first winter, and never seal film against a cold wall.",
			"A building surveyor if you see stains or mould, or the wall is below ground.",
			"Leave a ventilated gap before a cold outside wall.",
		},
	}
}

// CautionsRule stands over the cautions.
const CautionsRule = "Guidance only. Local codes, the owner of the building and licensed trades decide. Where this page and a rule differ, follow the rule."

// CautionOf returns the cautions of these titles, in this order. A title that no caution has
// is a mistake of the program, and panics.
func CautionOf(s unit.Style, titles ...string) []Caution {
	var list []Caution
	all := Cautions(s)
	for _, title := range titles {
		i := slices.IndexFunc(all, func(c Caution) bool { return c.Title == title })
		if i < 0 {
			panic("report: no caution is called " + title)
		}
		list = append(list, all[i])
	}
	return list
}

// AbsorberCautions are the cautions for those who build and hang absorbers.
func AbsorberCautions(s unit.Style) []Caution {
	return CautionOf(s, "Lifting and toppling", "Heaters, sockets, vents, ways out", "Loads over heads", "Fibres and dust", "Fire", "Damp")
}

// MovingCautions are the cautions for those who move and play heavy boxes.
func MovingCautions(s unit.Style) []Caution {
	return CautionOf(s, "Lifting and toppling", "Heaters, sockets, vents, ways out", "Electricity", "Hearing and loudspeakers")
}

// CautionLines puts each caution into one line, the risk and what to do instead, and ends with the rule above
// all others.
func CautionLines(list []Caution) []string {
	var lines []string
	for _, c := range list {
		lines = append(lines, c.Title+": "+c.Risk+" "+c.Instead)
	}
	return append(lines, CautionsRule)
}

// WriteBriefCautions writes what to do about each caution, a sentence each, as one paragraph.
func WriteBriefCautions(b *strings.Builder, list []Caution) {
	words := "Cautions:"
	for _, c := range list {
		words += " " + c.Brief
	}
	b.WriteString("\n" + Wrap(words+" Local codes and licensed trades decide.", Columns, "  ") + "\n")
}
