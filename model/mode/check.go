package mode

import (
	"fmt"
	"math/cmplx"

	"evenbass/model"
)

// check refuses a box, a grid and settings that make no sense.
func check(box model.Box, grid model.Grid, settings Settings) error {
	for d := range 3 {
		if l := component(box.Size, d); !(l > 0 && l < 1000) {
			return fmt.Errorf("mode: box of %v m", box.Size)
		}
	}
	if a := box.Air; !(a.Speed > 0 && a.Density > 0 && a.Loss >= 0) {
		return fmt.Errorf("mode: air with speed %v m/s, density %v kg/m³, loss %v", a.Speed, a.Density, a.Loss)
	}
	if !(settings.Accuracy > 0 && settings.Accuracy < 1 && settings.Near > 0) {
		return fmt.Errorf("mode: accuracy %v and nearest separation %v m", settings.Accuracy, settings.Near)
	}
	if len(grid) == 0 {
		return fmt.Errorf("mode: grid without frequencies")
	}
	for i, f := range grid {
		if !(f > 0 && f < 1e5) || i > 0 && f <= grid[i-1] {
			return fmt.Errorf("mode: frequency %v Hz at position %d of the grid", f, i)
		}
	}
	return nil
}

// checkWalls refuses walls that give out energy beyond rounding, or are so soft that their waves overflow
// float64.
func (e *Engine) checkWalls() error {
	for i, f := range e.grid {
		for _, face := range model.Faces {
			b := e.walls[i][face]
			kl := cmplx.Abs(e.k[i]) * component(e.box.Size, face.Axis())
			if cmplx.IsNaN(b) || real(b) < -1e-9 || !(kl*cmplx.Abs(b) < 500) {
				return fmt.Errorf("mode: %s has specific admittance %.4g at %.4g Hz", face.Wall(), b, f)
			}
		}
	}
	return nil
}

// doubtfulAdmittance is where a wall becomes more absorbent layer than wall: in a
// layer so thick sound runs sideways too. Common practice, no source.
const doubtfulAdmittance = 0.5

// doubts lists warnings about the box itself. Sums are less accurate at places nearer
// than Settings.Near. No listener is that near, so only the package comment says it.
func (e *Engine) doubts() []model.Warning {
	var warnings []model.Warning
	lossless := e.box.Air.Loss == 0
	for _, face := range model.Faces {
		var most float64
		for i := range e.grid {
			most = max(most, real(e.walls[i][face]))
		}
		lossless = lossless && most <= 0
		if most > doubtfulAdmittance {
			warnings = append(warnings, model.NotLocal{Wall: face.Wall(), Admittance: most})
		}
	}
	if lossless {
		warnings = append(warnings, model.Remark("nothing in this room takes energy out, so its peaks have no height"))
	}
	return warnings
}
