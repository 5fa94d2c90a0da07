package text

import (
	"fmt"
	"math"

	"evenbass/model"
	"evenbass/report/unit"
)

// engineWarning puts a warning about an engine into words, or returns "".
func engineWarning(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.ImageSumEnds:
		return fmt.Sprintf("the sum over mirror images ends at a path of %s, where the energy still to come is %.0f dB of the whole instead of %.0f dB, so sharp resonances come out too low",
			s.Length(w.Length), float64(w.Remaining), float64(w.Wanted))
	case model.ImagesAbsorb:
		return fmt.Sprintf("the %s absorbs much for mirror images (specific admittance %.2f at %.0f Hz): errors of 1 to 2 dB are usual at any frequency", w.Wall, w.Admittance, w.Frequency)
	case model.ImagesYield:
		return fmt.Sprintf("the %s yields like a spring or a mass (specific admittance %.2fj at %.0f Hz), which moves resonances; mirror images model that badly and may be off by 10 dB in a dip",
			w.Wall, w.Admittance, w.Frequency)
	case model.NotLocal:
		return fmt.Sprintf("the %s absorbs so much (specific admittance up to %.2g) that local reaction is doubtful and modes may be missing from the list", w.Wall, w.Admittance)
	case model.CellsUsed:
		return fmt.Sprintf("the figures come from cells of %s. A search first tries layouts on cells of %s, then moves the best of them "+
			"on the finer ones. The effects of hard walls, soft walls or a missing wall are differences between runs on coarse cells", s.Tape(w.Fine), s.Tape(w.Coarse))
	case model.RunStopped:
		return fmt.Sprintf("the wave run was stopped after %.1f s, when its energy had fallen by only %.0f dB; sharp peaks and dips are blurred", w.Seconds, float64(w.Fallen))
	}
	return pieceWarning(w, s)
}

// pieceWarning puts a warning about a piece in cells into words, or returns "".
func pieceWarning(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.AbsorptionOff:
		word := "high"
		if w.Off < 0 {
			word = "low"
		}
		return fmt.Sprintf("%s: on cells of %s its absorption is up to %.2f too %s, most near %.0f Hz; treat its effect there as approximate",
			w.Name, s.Thickness(w.Cell), math.Abs(w.Off), word, w.Near)
	case model.ThinForCells:
		return fmt.Sprintf("%s is thinner than a cell of %s: near %.0f Hz its absorption may be 0.05 off, or more if it is dense", w.Name, s.Thickness(w.Cell), w.Near)
	case model.DenseForCells:
		return fmt.Sprintf("%s is too dense for cells of %s above %.0f Hz; its absorption there is some hundredths too high", w.Name, s.Thickness(w.Cell), w.Above)
	case model.LimpPanel:
		return w.Name + ": a free-standing panel is modelled as a limp sheet of its mass"
	case model.LayersTrimmed:
		return fmt.Sprintf("%s is trimmed along the sloped ceiling, %s clear of it: %s high at the lower end, %s at most", w.Name, s.Thickness(w.Clear), s.Tape(w.Low), s.Tape(w.High))
	case model.FilmAtWall:
		return w.Name + " is within half a cell of a wall and was left out"
	}
	return ""
}

// simplifications say how an engine treats what each of them names.
var simplifications = map[model.Simplification]string{
	model.BlocksOmitted:       "left out, because this engine models empty boxes only: ",
	model.FreeOmitted:         "left out, because this engine models only what covers a wall: ",
	model.WallsFitted:         "absorption fitted to measurements in this room, not taken from tables: ",
	model.OpeningsSpread:      "absorption averaged over the whole wall, although it is in one place: ",
	model.TreatmentsSpread:    "treatment averaged over its whole wall, and its depth not subtracted from the room: ",
	model.LightWallsRigid:     "light walls also vibrate, which is not modelled, so the lowest modes may be a few per cent off: ",
	model.TablesExtrapolated:  "tables stop at 125 Hz; below that, absorption is extrapolated, and at 63 Hz it could be wrong by 100 % (ISO 12999-2): ",
	model.BranchesApproximate: "the absorption of these surfaces is only approximated, with the error in brackets: ",
	model.ImpedanceAcausal: "no wall has one complex impedance at all frequencies, so these are followed only in part and levels can be several dB off " +
		"(the greatest error in the reflection factor in brackets); write layers or absorption by frequency instead: ",
	model.LayersAsBlocks:    "modelled as solid blocks with the layers' surface impedance, which is more accurate here: ",
	model.LayersAsImpedance: "modelled as a surface impedance on the wall, ignoring the depth: ",
	model.OmittedOnGrid:     "left out, because the grid cannot represent it there: ",
}

// simplified puts a simplification of an engine into words, or returns "".
func simplified(w model.Warning, _ unit.Style) string {
	is, ok := w.(model.Simplified)
	switch {
	case !ok:
		return ""
	case is.How == model.WallsUnset:
		return "no construction given for " + is.Names + ": taken as unknown, so the range of the result is wider"
	}
	return simplifications[is.How] + is.Names
}
