// Package roomfile reads and writes the room file: one YAML file that holds a
// [model.Project]. It is strict. An unknown key, a number without a unit or a speaker in the
// chimney is an error that names its line and column and says what would be right.
//
// # Units
//
// Every quantity needs its unit; only a length of zero may go without. Read values are SI.
//
//	length             m, cm, mm, µm, mil, ft, in: 3.4 m, 11 ft 2 1/2 in, 11'2"
//	temperature        °C, °F, K
//	angle              °, rad
//	frequency          Hz, kHz
//	flow resistivity   kPa·s/m², Pa·s/m², krayl/m, rayl/m (1 rayl/m = 1 Pa·s/m²)
//	density            kg/m³
//	mass per area      kg/m², g/m²
//	share              %, or a plain number from 0 to 1
//	range              0.9 m to 2.0 m; one value for both ends; any for no limits
//	place              [from the front wall, from the left wall, above the floor]
//
// # Keys
//
// A file needs room, walls, speakers and seats; everything else is optional. Brackets show
// the value of a key that is left out.
//
//	room          name, length, width, height, temperature [20 °C], outer: the walls
//	              behind which it may be cold [not known],
//	              outline [the whole rectangle]: the corners of the floor in order,
//	              each [from the front wall, from the left wall], or {at: that, and
//	              for the wall from there to the next corner wall: its name, and one
//	              of construction, impedance, absorption [that of the wall which faces
//	              the same way]}
//	walls         front, back, left, right, floor, ceiling: each the name of a
//	              construction, or one of
//	                {impedance: 60 - 20j}                  Z/(ρc) at every frequency
//	                {absorption: {63 Hz: 0.12, ...}}       random incidence
//	ceiling       [level] one of, each with a surface of its own if wanted,
//	                slope: rises (left to right, right to left, front to back, back
//	                  to front), from, to [the room's height], over [all the way]
//	                ridge: along (x, y), at [midway], height [the room's], eaves: one
//	                  height, or two
//	                planes: list of {through: three points}
//	              Above all of them the room ends at its height.
//	openings      list: kind (door, window, hole), name, wall, from [0], width,
//	              sill [0], height, swing (inward, outward, sliding), and one of
//	              construction, impedance, absorption. A door that swings inward keeps
//	              a square of its own width clear. With an outline, wall: back means
//	              the wall that faces the same way as the back wall and holds the whole
//	              opening. Name a wall in the outline, and here, if it stands at an
//	              angle or behind another.
//	blocks        list of solids: name, from, to: two corners
//	materials     list of your own materials, to be named in layers: name, kind
//	              (porous, film, panel, perforated, slotted), source, frame (held,
//	              limp) and the figures of its kind: thickness [given with each use],
//	              flow_resistivity, density, mass_per_area, hole_diameter, slot_width,
//	              open_area, porosity, tortuosity, viscous_length, thermal_length,
//	              damping, stiffness
//	treatments    list: name, form [layer], layers from the room to the wall, and of a
//	                layer   wall, from [0], width [to the wall's end], sill [0],
//	                        height [to the wall's end]. A sloped ceiling trims it, 1 cm
//	                        clear
//	                corner  edge (two walls that meet), shape (triangle, square)
//	                        [triangle], leg, from [0], to [the edge's end]: layers are
//	                        the fill, which needs no thickness, or a film and the fill.
//	                        A sloped ceiling cuts it off; along the ceiling its legs
//	                        run down the wall and along the slope
//	                cloud   from, to: a rectangle on plan, gap to the ceiling [0]
//	                panel   from, to: a box whose thinnest side the layers fill
//	              built (yes, no) [no]: it stands already and is not bought
//	furniture     list of what you have: name [its kind], kind (sofa, bed, shelves, column,
//	              screen, cupboard, rug, curtain, diffuser), from, to: a box; of a rug two
//	              corners on plan. Of a sofa, bed, shelves, column or screen also filling:
//	              wool 10 kPa·s/m², or another porous layer [see evenbass check]; a column
//	              is as wide as deep, and round
//	speakers      now: {left, right}    where the woofers' centres are today
//	              arrangement           symmetric about the mid-line [symmetric], free, or
//	                              fixed: they stay where they are now
//	              box                   depth, width, height [a point]
//	              woofer_below_axis     [0 m]
//	              axis_height           one, or a list to choose from [1.2 m]
//	              rear_clearance        behind the box [0.05 m]
//	              side_clearance        from the box to a side wall [0.1 m]
//	              low_limit             -3 dB point outdoors: levels fall below it in
//	                              every command [none: flat]
//	              alignment             sealed, 12 dB per octave below low_limit, or
//	                              ported, 24 dB per octave [sealed]
//	              may_stand             list of zones {x, y} [the whole floor]
//	              apart                 between the woofers [any]
//	seats         list, the main seat first: name, at, may_move (zones) [stays],
//	              height [that of at, or 1.2 m], weight [1], on (the piece of furniture that
//	              holds it: seats on that of the first seat move with it) [none]. A zone of
//	              the main seat without y means the mid-line if the speakers are symmetric.
//	listening     distance [0.9 m to 2 m], angle [50° to 70°],
//	              back_distance from seat to back wall [0.6 m],
//	              balance, most that the two distances differ [5 cm if free, else any],
//	              also_face, walls to try beside the front wall: [left, back]; zones
//	              and all else stay where they are in the room [none]
//	keep_clear    list of boxes of air in which nothing may stand: name, from, to, and one of
//	              moves_with (speakers, seat) or may_move: how far to the front or to the
//	              back [stays]; carries_speakers (yes, no) [no, unless one is above it now]
//	stock         what you have to build with: currency, dated (the date of the
//	              prices), and lists of
//	                batts    name, material (wool 6 kPa·s/m² 14 kg/m³, or by name), size
//	                        (1200 mm x 600 mm x 100 mm), have, per_pack [1], price
//	                films   name, material (film 100 µm), size (width x length), have,
//	                        price; bags the same: ready made, lying flat
//	                cloths  name, mass, size (width x length), have, price
//	                timber  name, size (length x width x thickness), have, price
//	              A price is a number or a range, without currency, of a pack, a roll, a
//	              bag, a batten. Then where things may go: may_cover [all], list of wall,
//	              from, width, sill, height as in treatments, and deepest [no limit];
//	              keep_free, list of the same or of boxes from, to; rental (yes, no) [no]:
//	              no holes; passage: width, height, longest that a piece may have
//	measurements  list of what was measured: file (from the room file's folder), name [the
//	              file], seat [the main seat], speaker (left, right, both, sub), date [any
//	              text], state (bare, or the names of the treatments that stood, those of
//	              options too) [not known], correction (the microphone's file) [none],
//	              smoothing of a table, none or such as 1/12 octave [not known]
//	calibrated    what evenbass calibrate learned of the room and writes here: from (the
//	              measurements), seats (at how many), before and after (the rms difference of
//	              prediction and measurement), length, width, height (above those by tape,
//	              with ± one standard deviation), walls (of, shift, slope, curve: how a
//	              wall absorbs on the scale of its construction, -1 as little as is likely, 1
//	              as much, as a parabola over the octaves about 63 Hz) and the correlation of
//	              what is left unknown
//	report        what a page says of itself, any of: title [the room's name], client,
//	              project, author, date [the day of the run], notes (a paragraph or a list
//	              of them), logo (a PNG or SVG file, from the room file's folder)
//	goal          from [low_limit, or 30 Hz if that is lower or not given],
//	              to [300 Hz], smoothing [1/12 octave], decay_weight: how many dB of spread
//	              a second of decay counts for where treatments are chosen [10]
//
// On a wall, from counts along it from the corner nearer the origin, and sill from the floor
// up. On floor and ceiling, from counts from the front wall and sill from the left wall. On a
// wall named in the outline, from counts from the corner where the name stands.
// Coordinates are those of package [model].
//
// # What limits the search
//
//	what                         key
//	pair mirrored, free or fixed speakers.arrangement: symmetric, free, fixed
//	where speakers may stand     speakers.may_stand; a zone may be a line or a point
//	size of a box                speakers.box: stays out of walls, blocks and keep_clear
//	a port at the back           speakers.rear_clearance
//	stands to choose from        speakers.axis_height: one or several
//	heights of woofer and ears   speakers.woofer_below_axis, seats.height
//	how far apart                speakers.apart; never nearer than 40 cm or a box's width
//	a seat that moves or stays   seats.may_move, or at without it
//	seats that count less        seats.weight; 0 is only reported
//	listening triangle           listening.distance, angle, balance
//	not against the back wall    listening.back_distance, 60 cm if left out
//	walls that may be faced      listening.also_face
//	desk, radiator, walkway      keep_clear, as high as it is. A stand may not go through a
//	                             desk; boxes that stand on it do if it says carries_speakers
//	a desk that moves too        keep_clear.moves_with, or may_move: 40 cm
//	a sofa with several seats    seats.on
//	door that swings in          openings.swing: inward
//
// A listener is a point between the ears, so a low desk does not stop a seat from being
// above it. Begin the seat's zone behind the desk.
//
// # Layers
//
// A layer is a name and its figures, "wool 200 mm 6 kPa·s/m²". Names are film, wool, air,
// perforated, slotted, panel, each material of package material and each of the file's own:
// "stone wool batts 100 mm". A named material supplies the figures that the phrase leaves
// out. The unit identifies thickness, flow resistivity, density and mass per area. A word
// before the number identifies holes, slots, open, porosity, tortuosity, viscous length,
// thermal length, damping and stiffness:
//
//	wool 100 mm 8 kPa·s/m² porosity 98 % tortuosity 1.1 viscous length 130 µm
//
// The words held (or fixed) and limp say whether the fibres stand still or move with the
// air.
//
// # How it works
//
//  1. source reads at most 1 MB and refuses what is not plain text.
//  2. tree parses the YAML into nodes with places. Anchors, tags, merges and deep
//     nesting are refused before the parser sees them.
//  3. schema describes each mapping once, for reading and for writing.
//  4. Package model validates the project; the paths of its problems lead back to lines.
//  5. write turns a project into a file; rewrite changes only what differs in an owner's
//     file, so that comments and units stay.
//
// Every line of the schema calls the forms that carry it in and out, so both share this package.
package roomfile
