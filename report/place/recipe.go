package place

import (
	"fmt"

	"evenbass/model"
	"evenbass/optimize/score"
	"evenbass/report/html"
	"evenbass/report/unit"
)

// recipes says how each figure of the page comes about and what its words mean.
func recipes(goal model.Goal, s unit.Style) []html.Term {
	return []html.Term{
		{Name: "Level", Text: "Sound at the ears relative to the same speaker at " + s.Join("1 m", "3.3 ft") + " outdoors, so a speaker that is flat outdoors shows the room alone. Curves are drawn relative to their own mean."},
		{Name: "Smoothing", Text: fmt.Sprintf("Each point is the power mean over 1/%d octave around it (window edges by IEC 61260-1). Less smoothing gives larger figures, more gives smaller ones.", goal.Smoothing)},
		{Name: "Spread", Text: fmt.Sprintf("Half the distance between the highest and the lowest level from %g to %g Hz, written ±. It is the worst of left alone, right alone and both together.", goal.From, goal.To)},
		{Name: "Marks slightly off", Text: "The mean spread over small displacements of each speaker, and with the listener leaning " + s.Tape(score.LeanDistance) + " forwards, backwards and to either side. Layouts are ranked by it, the worst lean counting for a quarter."},
		{Name: "Hard to soft walls", Text: "The spread with every wall at the least and at the most that its construction may absorb."},
		{Name: "Trial", Text: "One random guess at walls, temperature, tape errors and woofer height. Ranges leave out the lowest and the highest tenth of the trials."},
		{Name: "Standard deviation", Text: "The usual one, of the smoothed level over the logarithm of frequency."},
		{Name: "Low-end reach", Text: "The lowest frequency that comes within 6 dB of the band's mean, smoothed to 1/3 octave. The speaker's own limit comes on top."},
		{Name: "Left versus right", Text: "The mean difference between the two smoothed curves in the band, without sign."},
		{Name: "Tolerance ring", Text: "How far you may misplace a mark before the spread grows by 1 dB."},
		{Name: "Layout", Text: "The places of both speakers and of the main seat. Layout 1 is the best one found."},
		{Name: "Woofer, ears", Text: "The points to measure to: the centre of the low-frequency cone in the front of the box, and midway between your ears."},
		{Name: "Mode", Text: "A resonance of the room between two walls (axial), four (tangential) or six (oblique). The three numbers count half waves along length, width and height."},
		{Name: "Decay time", Text: "The time in which a mode falls by 60 dB after the sound stops."},
	}
}
