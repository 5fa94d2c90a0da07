package material

func floors() []row {
	return []row{
		{
			name: "timber on joists", kind: Floor, rule: Sprung, mass: 13, cavity: 0.2,
			typical: [3]float64{0.15, 0.11, 0.10},
			source:  bies + ": wood floor on joists",
		},
		{
			name: "parquet on concrete", kind: Floor, rule: Massive,
			typical: [3]float64{0.04, 0.04, 0.07}, low: [3]float64{0.02, 0.03, 0.03},
			source: handbooks + ": wood parquet in asphalt on concrete; low: " + vorlaender + ", linoleum or cork tile on concrete",
		},
		{
			name: "linoleum on concrete", kind: Floor, rule: Massive,
			typical: [3]float64{0.02, 0.03, 0.03},
			source:  vorlaender + ": linoleum, rubber or cork tile on concrete",
		},
		{
			name: "tiles on concrete", kind: Floor | Wall, rule: Massive,
			typical: [3]float64{0.01, 0.01, 0.01}, high: [3]float64{0.02, 0.02, 0.03},
			source: vorlaender + ": ceramic tiles with a smooth surface; high: " + bies + ", hard surfaces",
		},
		{
			name: "carpet on concrete", kind: Floor, rule: Porous,
			typical: [3]float64{0.02, 0.06, 0.14}, low: [3]float64{0.02, 0.04, 0.08}, high: [3]float64{0.09, 0.08, 0.21},
			source: bies + ": heavy carpet on concrete; low and high: " + vorlaender + ", thin carpet and soft 10 mm carpet on concrete",
		},
		{
			name: "carpet on underlay", kind: Floor, rule: Porous,
			typical: [3]float64{0.08, 0.24, 0.57}, low: [3]float64{0.08, 0.08, 0.30}, high: [3]float64{0.10, 0.40, 0.62},
			source: bies + ": heavy carpet on felt or foam; low and high: " + vorlaender + ", pile carpet on felt and on hair pad",
			note:   "on concrete",
		},
		{
			name: "carpet on joists", kind: Floor, rule: Sprung, mass: 13, cavity: 0.2,
			typical: [3]float64{0.167, 0.163, 0.226}, low: [3]float64{0.15, 0.11, 0.10},
			source: "in no table; " + bies + ": wood floor on joists, and heavy carpet for what the floor does not absorb; low: the floor alone",
		},
		{
			name: "chipboard floating", kind: Floor, rule: Sprung, mass: 15, cavity: 0.05, filled: true,
			typical: [3]float64{0.12, 0.04, 0.06},
			source:  cox + ": 22 mm chipboard, 50 mm cavity full of wool",
			note:    "floating floor, about 22 mm on a soft layer",
		},
	}
}

func ceilings() []row {
	return []row{
		{
			name: "plasterboard on joists", kind: Ceiling, rule: Sprung, mass: 9, cavity: 0.2,
			typical: [3]float64{0.20, 0.15, 0.10}, low: [3]float64{0.08, 0.11, 0.05}, high: [3]float64{0.29, 0.15, 0.10},
			source: vorlaender + ": plasterboard ceiling on battens, large air space above; low: " + cox +
				", 13 mm on an empty cavity; high at 125 Hz: " + bies + ", gypsum board on studs",
		},
		{
			name: "plasterboard direct", kind: Ceiling | Wall, rule: Massive,
			typical: [3]float64{0.05, 0.05, 0.05}, low: [3]float64{0.013, 0.015, 0.02}, high: [3]float64{0.11, 0.13, 0.05},
			source: "in no table; typical lies between low, " + bies + ", plaster on brick, and high, " + cox +
				", 9.5 mm board on a cavity",
			note: "glued or screwed tight to masonry; dabs of adhesive leave air gaps, which bring absorption closer to high",
		},
		{
			name: "plaster on concrete", kind: Ceiling | Wall, rule: Massive,
			typical: [3]float64{0.02, 0.02, 0.03}, low: [3]float64{0.013, 0.015, 0.02},
			source: bies + ": average of hard surfaces; low: smooth plaster on brick",
		},
	}
}
