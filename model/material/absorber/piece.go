package absorber

// Piece is one layer of a build-up as a time-domain solver can draw it where it
// stands.
type Piece struct {
	Kind        PieceKind
	Thickness   float64      // m
	Porous      PorousVolume // of wool
	SurfaceMass float64      // kg/m²; of a film or a panel
}

// PieceKind is what a layer can be drawn as.
type PieceKind int

// The kinds of pieces.
const (
	AirPiece     PieceKind = iota
	WoolPiece              // a volume
	FilmPiece              // a limp sheet without thickness
	PanelPiece             // a sheet that also has stiffness and damping
	PiercedPiece           // a perforated or slotted sheet
)

// Pieces returns the layers from the room to the wall. The volume of wool is that of
// Johnson-Champoux-Allard whatever law the stack is computed by.
func (s *Stack) Pieces() []Piece {
	list := make([]Piece, len(s.layers))
	for i, l := range s.layers {
		p := Piece{Thickness: s.source[i].Thickness}
		switch l := l.(type) {
		case *gap:
			p.Kind = AirPiece
		case *porous:
			p.Kind, p.Porous = WoolPiece, l.figures.Volume(l.air, l.gas)
			p.Porous.Skeleton = l.frame
		case *film:
			p.Kind, p.SurfaceMass = FilmPiece, l.mass
		case *panel:
			p.Kind, p.SurfaceMass = PanelPiece, l.mass
		default:
			p.Kind = PiercedPiece
		}
		list[i] = p
	}
	return list
}
