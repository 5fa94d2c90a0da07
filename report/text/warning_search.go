package text

import (
	"fmt"

	"evenbass/model"
	"evenbass/report/unit"
)

// recordingWarning puts a warning about a measurement into words, or returns "".
func recordingWarning(w model.Warning, s unit.Style) string {
	switch w := w.(type) {
	case model.MarkMissed:
		return fmt.Sprintf("the mark of the %v speaker was not heard; time zero is that of the %v one", w.Speaker, w.Zero)
	case model.RecordingFaint:
		return fmt.Sprintf("the recording is faint: its loudest moment is %.0f dB below full scale; raise the recording level", -float64(w.Peak))
	case model.RecordingClipped:
		return fmt.Sprintf("the loudest moments are cut off (%.2f %% of a sweep); lower the recording level", 100*w.Share)
	case model.NoiseNear:
		return fmt.Sprintf("the response of %v is only %.0f dB above the noise: its dips are filled by noise", w.Speaker, float64(w.Above))
	case model.SweepDisturbed:
		return fmt.Sprintf("during the sweep of %v it was %.0f dB louder than in the silence before it: a passing sound, or something that rattles", w.Speaker, float64(w.Louder))
	case model.MainsHum:
		words := fmt.Sprintf("the mains hums: %g Hz stands %.0f dB above the noise beside it", w.Frequency, float64(w.Above))
		if w.Taken >= 1 {
			return words + "; its steady tones are removed from the responses"
		}
		return words + ", and is still in the responses: do not trust levels and decay within 3 Hz of it"
	case model.ClocksDiffer:
		return fmt.Sprintf("the clocks of player and recorder differ by %.0f parts in a million, which was corrected", 1e6*w.Drift)
	case model.SumOff:
		return fmt.Sprintf("left and right added up are not both together: the difference is %.0f dB below it. Something changed between the sweeps, or the recorder changes its level by itself",
			-float64(w.Difference))
	case model.TapeOff:
		return fmt.Sprintf("by its sound the right speaker is %s farther than the left one, by the room file %s", s.Length(w.Sound), s.Length(w.Taped))
	case model.RowsCoarse:
		return fmt.Sprintf("rows of the table are up to %.2f octaves apart: peaks and dips between them are missed, and figures look better than they are", w.Octaves)
	case model.ResponseBrief:
		return fmt.Sprintf("a response ends %s after the sound begins: dips and peaks below %s are blunted, and figures look better than they are", unit.Seconds(w.Long), unit.Frequency(w.Below))
	case model.MeasurementUnused:
		return w.Name + " is not used: " + w.Why
	}
	return ""
}

// missing says what a missing part of a result is, before why.
var missing = map[model.Part]string{
	model.CostPart:      "the cost is not known: ",
	model.StabilityPart: "how often each layout stays first could not be computed: ",
	model.MapsPart:      "there are no maps of the floor: ",
	model.AnswersPart:   "the page does not answer for other places: ",
}

// searchWarning puts a warning about a search into words, or returns "".
func searchWarning(w model.Warning, _ unit.Style) string {
	switch w := w.(type) {
	case model.SeatStays:
		where := "where it is"
		if !w.Placed {
			where = "in the middle of its first zone"
		}
		return fmt.Sprintf("%s may move, but the search moves only the first seat: it is judged %s; to try it elsewhere, change its \"at\"", w.Name, where)
	case model.SearchOff:
		return fmt.Sprintf("the wide search, which is coarser than the figures shown, was up to %.1f dB off for the layouts that it proposed, so it may have passed over a good one", float64(w.Off))
	case model.PlansCut:
		return fmt.Sprintf("the search was stopped by hand before plans with more than %d of up to %d subwoofers were tried", w.Tried, w.Most)
	case model.PartMissing:
		return missing[w.Part] + w.Why
	case model.OptionUntried:
		why := w.Why
		if why == "" {
			why = "what it needs is too large for a page, or not exact enough"
		}
		return fmt.Sprintf("the page cannot switch on %s: %s", w.Name, why)
	case model.StepFailed:
		return "a mistake in the program ended " + w.Step + ": what it computes is missing"
	}
	return ""
}
