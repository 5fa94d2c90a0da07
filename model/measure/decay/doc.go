// Package decay reads decay times off a measured impulse response in third octaves from 25 to 315
// Hz, after ISO 3382-2:2008. In go samples, their rate and where the sound begins; out comes one
// [Band] per third octave, with the limits that noise and the filter set.
//
// # Recipe
//
//	filter      real (without phase), a raised cosine over lg f that is a third octave wide at
//	            half height, the same as for predictions (response.DecayReader)
//	e(t)        squared envelope of the filtered response
//	N           noise: mean of e where the decay has sunk into it
//	t1          where the line through the late decay meets N (Lundeby, Vigran, Bietz &
//	            Vorländer, Acustica 81 (1995) 344)
//	L(t)        10 lg of ∫ (e - N) from t to t1, plus what an exponential decay would add
//	            beyond t1 (Schroeder, JASA 37 (1965) 409; ISO 3382-2 §5.3.3)
//	EDT         6 times the time to fall from 0 to -10 dB on the fitted line
//	T20, T30    3 and 2 times that from -5 to -25 and to -35 dB
//	C           100 (T30/T20 - 1) %, the curvature; above 10 % the decay has two slopes or more
//	            (ISO 3382-2 annex B)
//
// All times are those to fall by 60 dB, in s. T20 asks for a response 35 dB above the noise
// and T30 for 45 dB (ISO 3382-1). A filter of bandwidth B rings by itself. With a filter
// without phase, times below 4/B are its own (ISO 3382-2 §7.3).
package decay
