package report

import (
	"slices"

	"evenbass/optimize"
)

// caution is one thing that can hurt someone or something: what may happen, what
// to do instead, who decides.
type caution struct{ Title, Risk, Instead, Decides string }

// cautions returns those that concern moving loudspeakers and building
// absorbers. They are guidance in our words; none quotes a rule.
func cautions() []caution {
	return []caution{
		{
			"Lifting and toppling",
			"A loudspeaker, a stand or a tall panel that falls breaks feet and fingers.",
			"Lift with two people from about 15 kg or 2 m; put heavy boxes on stands made for them; tie tall pieces to the wall.",
			"The makers of stand and loudspeaker; for fixings in the wall, a joiner or builder.",
		},
		{
			"Heaters, sockets, vents, ways out",
			"Covered heaters and power supplies overheat; a blocked door or window traps people; a closed vent makes air stale.",
			"Keep heaters, sockets, breakers, valves and vents uncovered, and doors and escape windows free to open fully.",
			"The heater's instructions, local rules, the owner of the building.",
		},
		{
			"Electricity",
			"Damaged cables and overloaded strips give shocks and start fires.",
			"Switch off before moving equipment, lay cables where nobody treads on them, put no power strip inside a panel.",
			"A licensed electrician for anything behind a cover plate.",
		},
		{
			"Hearing and loudspeakers",
			"Loud low sweeps hurt ears and loudspeakers before they sound loud.",
			"Begin quietly; about 75 to 80 dB at the seat is enough; leave the room or protect the ears; stop if a cone rattles.",
			"The loudspeaker's instructions; workplace noise rules where people are employed.",
		},
		{
			"Loads over heads",
			"A panel that comes off a ceiling injures whoever sits under it.",
			"Fix into joists or concrete, never into board alone; use several closed hooks and an independent safety wire.",
			"A structural engineer where the ceiling is old or in doubt, or the piece is heavy.",
		},
		{
			"Fibres and dust",
			"Cut mineral wool itches in skin, eyes and throat. Old coatings, boards and lagging may hold asbestos or lead.",
			"Wear sleeves, gloves, goggles and a dust mask, ventilate, cover every face of the wool. Stop before old material and have it tested.",
			"The material's safety sheet; for old material, a licensed surveyor.",
		},
		{
			"Fire",
			"Foam, film and cloth can carry flames fast and give off poisonous smoke.",
			"Use material with a fire class for rooms, keep film behind wool or cloth, use no more than needed; fit a smoke alarm.",
			"The fire authority or a licensed designer, above all where the public, staff or lodgers use the room.",
		},
		{
			"Damp",
			"Wool on a cold outer wall makes it colder still; water may gather behind it unseen.",
			"Leave a ventilated gap, look behind it through the first winter, mend leaks first, seal no film against a cold wall.",
			"A building surveyor where there are stains, mould or a cellar wall.",
		},
	}
}

// cautionsRule stands over the cautions.
const cautionsRule = "Guidance only. Local rules, the owner of the building and licensed trades decide; where this page and a rule differ, the rule wins."

// measuringSteps tells how to find out whether the prediction holds.
func measuringSteps() []string {
	return []string{
		"Leave the room as it is used: furniture in, doors and windows shut, fans off. Note the temperature.",
		"Put a measuring microphone where the middle of the head is, at ear height. Tape its distance from the front wall, a side wall and the floor, and photograph it: 10 cm off spoils the comparison.",
		"Measure before anything moves: left alone, right alone, then both. Twice each; the difference of the two is the error of the measurement.",
		"Keep the gain, the microphone and the software's settings untouched until the end. No equaliser, no loudness switch.",
		"Move speakers and chair to the floor marks, check the diagonals, and measure again at the new head mark.",
		"Compare with the same smoothing and the same scale as here. The shape should agree; single dips may be deeper or shallower by several dB.",
		"If it does not agree, check the room's sizes with the tape first: a length that is 3 % wrong moves every dip by 3 %.",
	}
}

// limits lists what the prediction leaves out whatever the room.
func limits(r *optimize.Result) []string {
	judged := "Only the main seat counts, and only within the goal's band."
	if seats := r.Candidates[0].Seats; slices.ContainsFunc(seats[min(1, len(seats)):], func(f optimize.SeatFigures) bool { return f.Weight > 0 }) {
		judged = "Only the seats with a weight count, and only within the goal's band."
	}
	return []string{
		"Loudspeakers are taken as points that radiate evenly at these frequencies; their own response and low limit come on top.",
		"Furniture, people, shelves and the desk top are not in the sound field; they matter most in the upper half of the band (common practice, no source).",
		"Walls are taken as even over their whole area, and as known; the table above gives the range that each may have.",
		judged,
		"This plans the sound within the room. It does not stop sound from reaching neighbours.",
	}
}
