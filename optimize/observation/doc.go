// Package observation relates measurements of a room to what its file predicts.
//
// In go a [model.Project] and its measurements; out come the prediction for each microphone
// ([Stand]), the measurements beside it ([Present]) and what the measurements say about walls,
// sizes and speakers ([Calibrate]). A state is the list of treatments that stood in the room when
// it was measured. [Invent] makes a pair of measurements to try things out with.
package observation
