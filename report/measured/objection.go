package measured

import (
	"fmt"
	"math"

	"evenbass/model/measure/comparison"
	"evenbass/report/unit"
)

// objectionText says in words why two states do not compare well.
func (r Comparison) objectionText(o comparison.Objection) string {
	before, after := r.Names[0], r.Names[1]
	switch o.Matter {
	case comparison.SpeakerDiffers:
		return fmt.Sprintf("Not the same speaker played: %v, then %v. Measure the same one again.", r.Result.Before.Measurement.Speaker, r.Result.After.Measurement.Speaker)
	case comparison.SeatDiffers:
		return "The microphone stood at another seat. Measure at the same one again."
	case comparison.Moved:
		return fmt.Sprintf("The microphone stood %s away from where it was. At 10 cm, levels change by 1.3 dB on average.", r.Style.Fine(o.Amount))
	case comparison.Later:
		return laterText(o.Amount, r.speed(), r.Style)
	case comparison.SmoothingDiffers:
		return fmt.Sprintf("A table was smoothed to 1/%.0f octave, more than the 1/%d octave of these figures: its dips and peaks are blunted.", o.Amount, r.Result.Goal.Smoothing)
	case comparison.SmoothingUnknown:
		return "Nobody said how a table was smoothed. Smoothing makes a curve look more even; read differences in spread with care."
	case comparison.RowsCoarse:
		return fmt.Sprintf("Rows of a table are up to %.2f octaves apart: dips between them are not seen.", o.Amount)
	case comparison.Brief:
		return fmt.Sprintf("A response ends too soon after the sound begins: below %s its dips and peaks are blunted, so it looks more even.", unit.Frequency(o.Amount))
	case comparison.BandCut:
		return fmt.Sprintf("The data do not cover the whole goal: %v is compared.", r.Result.Goal)
	case comparison.LevelOff:
		return fmt.Sprintf("%s is %s louder on average. Nobody said that the gain stood still, so the curves are aligned by their means.",
			louder(o.Amount, before, after), unit.Difference(r.abs(o.Amount)))
	case comparison.Noisy:
		return fmt.Sprintf("Noise comes within 10 dB of the level over %s of the band: dips there are filled, decays look longer.", unit.Percent(o.Amount))
	case comparison.Warmer:
		return fmt.Sprintf("The air was %s %s: every mode moved by %s %%.", r.Style.Degrees(math.Abs(o.Amount)), warmerWord(o.Amount), unit.Decimal(math.Abs(o.Amount)/293.15/2*100, 1))
	case comparison.TemperatureUnknown:
		return "The temperature is not known. 10 °C more raise every mode by 1.7 %."
	case comparison.StateUnknown:
		return "Nothing says which treatments stood."
	case comparison.PlaceUnknown:
		return "Nothing says where the microphone stood. 10 cm change levels by 1.3 dB on average."
	}
	return "The prediction is for speakers that play any bass. Give speakers.low_limit in the room file: below it the measured level falls faster."
}

func louder(d float64, before, after string) string {
	if d > 0 {
		return "“" + after + "”"
	}
	return "“" + before + "”"
}

func warmerWord(d float64) string {
	if d > 0 {
		return "warmer"
	}
	return "colder"
}

// laterText says what a difference in arrival means.
func laterText(later, speed float64, s unit.Style) string {
	word := "later"
	if later < 0 {
		word = "earlier"
	}
	return fmt.Sprintf("The sound arrives %s ms %s, as if speaker and microphone were %s %s: one of them moved, or the time reference did.",
		unit.Decimal(1000*math.Abs(later), 2), word, s.Fine(math.Abs(later)*speed), map[bool]string{true: "farther apart", false: "closer"}[later > 0])
}
