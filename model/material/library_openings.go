package material

import "evenbass/model"

func doorsAndWindows() []row {
	return []row{
		{
			name: "hollow door", kind: Door, rule: Pane, mass: 10,
			typical: [3]float64{0.20, 0.15, 0.10}, low: [3]float64{0.14, 0.10, 0.06}, high: [3]float64{0.28, 0.22, 0.17},
			source: "in no table; typical lies between low, " + bies + ", solid timber door, and high, " + cox + ", 10 mm plywood panelling",
			note:   "the gap under a door may lose as much sound as the leaf absorbs",
		},
		{
			name: "solid door", kind: Door, rule: Pane, mass: 25,
			typical: [3]float64{0.14, 0.10, 0.06}, low: [3]float64{0.01, 0.05, 0.05},
			source: bies + ": solid timber door; low: " + cox + ", wood 50 mm thick",
		},
		{
			name: "single glazing", kind: Window, rule: Pane, mass: 10,
			typical: [3]float64{0.19, 0.13, 0.08}, low: [3]float64{0.08, 0.04, 0.03}, high: [3]float64{0.35, 0.25, 0.18},
			source: "geometric mean of " + cox + ", single pane over 4 mm thick, 0.10 at 125 Hz, and high, " + bies +
				", ordinary window; low: " + vorlaender + ", 3 mm pane",
			note: "data books disagree by a factor of four",
		},
		{
			name: "double glazing", kind: Window, rule: Pane, mass: 20,
			typical: [3]float64{0.12, 0.06, 0.04}, low: [3]float64{0.10, 0.05, 0.03}, high: [3]float64{0.15, 0.07, 0.05},
			source: "between " + cox + ", panes of 2 to 3 mm with more than 30 mm between, and " + vorlaender + ", the same with 10 mm",
		},
		{
			name: "heavy glass", kind: Window | Wall, rule: Pane, mass: 25,
			typical: [3]float64{0.18, 0.06, 0.04},
			source:  bies + ": large panes of heavy plate glass",
		},
		{
			name: "heavy curtain", kind: Window | Wall, rule: Porous,
			typical: [3]float64{0.14, 0.35, 0.55}, low: [3]float64{0.05, 0.12, 0.35}, high: [3]float64{0.30, 0.45, 0.65},
			source: bies + ": heavy velour, draped; low and high: " + vorlaender + ", tight velvet and cotton hung 130 mm off",
			note:   "drawn across a hard surface; it absorbs next to nothing in the bass",
		},
	}
}

// idealBoundaries are ideal surfaces for models, not constructions.
func idealBoundaries() []row {
	hole := model.Plain(1)
	every := Wall | Floor | Ceiling | Door | Window
	return []row{
		{
			name: "rigid", kind: every,
			source: "by definition",
			note:   "absorbs nothing; for comparing with theory",
		},
		{
			name: "open", kind: every, plain: &hole,
			// β = 1 by definition; Paris gives 8(3/2 - 2 ln 2).
			typical: [3]float64{0.9096451110408751}, high: [3]float64{0.9096451110408751}, low: [3]float64{0.47},
			source: "by definition: ζ = 1, all head-on sound leaves; low: one square metre in a wall at 63 Hz, " +
				"ζ = 0.20 + 0.49j of a piston in a baffle (Rayleigh), which absorbs 0.47 head-on",
			note: "a hole reflects part of every wave that is much longer than the hole is wide, and the space behind it resonates too",
		},
		{
			name: "unknown", kind: every,
			typical: [3]float64{0.10}, low: [3]float64{0.02}, high: [3]float64{0.35},
			source: "common practice, no source: from plaster on masonry to a light wall",
			note:   "name the construction to narrow the range of the result",
		},
	}
}
