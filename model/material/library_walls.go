package material

// The sources that the rows name. A row is one or two facts out of each, never a
// whole table.
const (
	bies       = "Bies, Hansen & Howard, Engineering Noise Control (2017), table 6.2"
	cox        = "Cox & D'Antonio, Acoustic Absorbers and Diffusers (2017), appendix A"
	vorlaender = "Vorländer, Auralization (2008), appendix"
	handbooks  = "handbook lists, from memory"
)

func walls() []row {
	return []row{
		{
			name: "brick plastered", kind: Wall, rule: Massive,
			typical: [3]float64{0.02, 0.02, 0.03}, low: [3]float64{0.013, 0.015, 0.02},
			source: bies + ": average of brick, plaster and hard floors; low: smooth plaster on brick",
		},
		{
			name: "brick painted", kind: Wall, rule: Massive,
			typical: [3]float64{0.01, 0.01, 0.02}, high: [3]float64{0.02, 0.02, 0.03},
			source: vorlaender + ": smooth brickwork, flush pointing, painted; high: " + bies + ", hard surfaces",
		},
		{
			name: "brick unplastered", kind: Wall, rule: Massive,
			typical: [3]float64{0.03, 0.03, 0.03}, high: [3]float64{0.08, 0.09, 0.12},
			source: cox + ": unglazed brick; high: " + vorlaender + ", brickwork with deep pointing",
		},
		{
			name: "concrete", kind: Wall | Floor | Ceiling, rule: Massive,
			typical: [3]float64{0.01, 0.01, 0.015}, high: [3]float64{0.02, 0.03, 0.03},
			source: bies + ": concrete; high: " + cox + ", rough concrete",
		},
		{
			name: "concrete block painted", kind: Wall, rule: Massive,
			typical: [3]float64{0.05, 0.05, 0.06}, low: [3]float64{0.01, 0.05, 0.06}, high: [3]float64{0.10, 0.05, 0.06},
			source: bies + ": painted block 0.01 at 125 Hz; other data books: 0.10; typical lies between",
			note:   "data books disagree by a factor of ten at 125 Hz",
		},
		{
			name: "plasterboard on studs", kind: Wall, rule: Sprung, mass: 9, cavity: 0.1, filled: true,
			typical: [3]float64{0.29, 0.10, 0.05}, high: [3]float64{0.30, 0.12, 0.08},
			source: bies + ": gypsum board on 50 × 100 mm studs; high: " + cox + ", 13 mm on 100 mm of wool",
			note:   "one 12.5 mm board, wool in the cavity",
		},
		{
			name: "plasterboard on studs empty", kind: Wall, rule: Sprung, mass: 9, cavity: 0.1,
			typical: [3]float64{0.08, 0.11, 0.05}, high: [3]float64{0.11, 0.13, 0.05},
			source: cox + ": 13 mm plasterboard, 100 mm empty cavity; high: 9.5 mm",
			note:   "one 12.5 mm board, nothing in the cavity",
		},
		{
			name: "double plasterboard on studs", kind: Wall | Ceiling, rule: Sprung, mass: 19, cavity: 0.05, filled: true,
			typical: [3]float64{0.15, 0.10, 0.06},
			source:  cox + ": two 13 mm plasterboards on a steel frame, 50 mm of wool",
		},
		{
			name: "plasterboard on battens", kind: Wall | Ceiling, rule: Sprung, mass: 9, cavity: 0.038,
			typical: [3]float64{0.15, 0.11, 0.05}, low: [3]float64{0.08, 0.11, 0.05}, high: [3]float64{0.29, 0.10, 0.05},
			source: "in no table; typical lies between low, " + cox + ", 13 mm on an empty cavity, and high, " +
				bies + ", gypsum board on studs",
			note: "dry lining: one 12.5 mm board on 38 mm battens over masonry",
		},
		{
			name: "timber panelling", kind: Wall | Ceiling, rule: Sprung, mass: 6, cavity: 0.05,
			typical: [3]float64{0.28, 0.22, 0.17}, high: [3]float64{0.42, 0.21, 0.10},
			source: cox + ": 10 mm plywood panelling; high: " + vorlaender + ", thin plywood panelling",
			note:   "about 10 mm thick on a 50 mm cavity",
		},
		{
			name: "lath and plaster", kind: Wall | Ceiling, rule: Sprung, mass: 30, cavity: 0.1,
			typical: [3]float64{0.14, 0.10, 0.06},
			source:  handbooks + ": plaster on lath",
		},
	}
}
