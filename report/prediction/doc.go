// Package prediction shows what an engine predicts for one layout: figures, dips with their causes, modes.
//
// In goes a [Report]; out comes its text for a terminal. [CSV] writes the transfers for other programs:
// pressure per volume velocity in Pa·s/m³, and the room gain in dB.
package prediction
