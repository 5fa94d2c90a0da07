// Package resonance finds the modes of a room in measured impulse responses: the frequency and the
// decay of each, and how certain they are. In go samples from one seat or several, out comes a list
// of [Mode].
//
// # Method
//
// After the sound has stopped, a response is a sum of damped tones,
//
//	x(t) = Σ A e^{-δt} cos(2πft + φ)
//
// In a Hankel matrix of its samples each tone adds two to the rank. ESPRIT (Roy & Kailath, IEEE
// Trans. ASSP 37 (1989) 984) reads their poles z = e^{(-δ+j2πf)Δ} off the right singular vectors
// V: without the last row they are V1, without the first V2, and the eigenvalues of V1⁺V2 are
// the z. It is a matrix pencil (Hua & Sarkar, IEEE Trans. ASSP 38 (1990) 814) of least noise.
// Several seats share their poles, so that their matrices are stacked.
//
// The range is cut into narrow bands, shifted down and decimated. The filter of a band looks
// ahead in time, never back. A damped tone then passes it as a damped tone from the first
// sample on, and no transient hides the fast decays.
//
// # Confidence
//
// Nobody knows how many modes a band holds. The poles are found for many assumed numbers and
// several windows. A pole that many trials agree on is a mode. Its confidence is the share of
// trials that found it, and its spreads come from the quartiles of their values.
package resonance
