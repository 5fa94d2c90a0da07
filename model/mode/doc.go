// Package mode treats a box room through its standing waves. It lists the modes
// with their kind, frequency, damping and shape, and it is an exact engine for
// the sound field of a [model.Box] whose walls are even and locally reacting.
//
// # Two questions, two sets of modes
//
// What rings after the sound stops? Free decay: [FreeDecay] solves for the complex
// frequency of a mode, [List] does so for all.
//
// What does a steady source do? Driven response: [New] and [Engine.Field]. Here
// the frequency is given and real, and the modes are those of each axis at that
// frequency. They are found anew at every frequency, with the walls as they are
// there, so the sum over them is exact.
//
// # The driven field
//
// Along one axis of length L, between walls of specific admittance β0 and βL,
//
//	d²ψ/dx² + q²ψ = 0,  ψ'(0) = jkβ0 ψ(0),  ψ'(L) = -jkβL ψ(L)
//
// has solutions only for the roots q of
//
//	(q² + k²β0βL) sin(qL)/q - jk(β0+βL) cos(qL) = 0
//
// (Morse & Ingard, Theoretical Acoustics, 1968, §9.4; Kuttruff, Room Acoustics,
// ch. 3). The Helmholtz equation in the box separates into three of these, and
// the Green function is a double sum over the modes of two axes with the closed
// Green function g of the third:
//
//	G = Σ ψm(y)ψm(ys) ψn(z)ψn(zs) / (ΛmΛn) g(x, xs; κ),  κ² = k² - qm² - qn²
//
// A pair with κ nearly real runs along the third axis, one with κ = -jγ dies off
// as e^{-γ|x-xs|}, so the sum converges exponentially with the separation on
// that axis. [Field] picks the axis for each place.
//
// # Symbols
//
//	q    wavenumber along one axis, 1/m, complex, Im q ≥ 0
//	Λ    ∫ψ² dx without conjugation, m: driven modes are biorthogonal
//	κ    wavenumber along the axis of the closed form, 1/m, Im κ ≤ 0
//	γ    -Im κ
//	δ    decay rate of the pressure e^{-δt}, 1/s; the decay time is 3 ln10/δ
//
// In lossy air k is complex in the walls' condition too, so that a plane wave is
// reflected by (1-β)/(1+β) whatever the loss.
//
// # Limits
//
// The walls are even and locally reacting and the room is a bare box. Against
// that problem the sum is exact to [Settings].Accuracy as long as source and seat
// are at least [Settings].Near apart on some axis; nearer, accuracy is lost
// gradually: as the settings come, 0.05 % at 0.3 m, 0.6 % at 0.2 m, 8 % at 0.1 m.
// The modes of every axis at every frequency are a complete set, counted by a
// theorem and not only sought, for walls up to kL|β| = 500.
// Nothing here knows furniture, doors that differ from their wall, or
// absorbers in which sound runs sideways.
package mode
