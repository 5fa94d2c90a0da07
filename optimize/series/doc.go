// Package series packs the field between a zone of seats and the zones of speakers into a few
// hundred kilobytes, so that a page without the engine can answer for every place in them. An
// engine and a [table.Domain] go in; a [Table] comes out, which is itself an engine for the
// places of its domain.
//
// The field less the free field of the direct sound is smooth over the places of both ends. It
// is held as Chebyshev series over them, one coefficient for each degree along the seats' x and
// y and the woofers' x and y, for each of the woofers' heights and each frequency:
//
//	p(f) - jωρ e^{-jkr}/(4πr) = Σ c(f; a, b, m, n) T_a(sx) T_b(sy) T_m(x) T_n(y)
//
// with each coordinate scaled to -1..1 within its span. The coefficients are whole numbers of a
// step that is a fixed share of the field's rms at that frequency. Most of them are zero or
// small, so that they compress well.
package series
