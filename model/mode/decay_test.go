package mode

import (
	"math"
	"math/cmplx"
	"testing"

	"evenbass/model"
	"evenbass/model/trust"
)

// Ducts of 5 m (an axial mode between walls that are rigid on the other axes).
// For real β in closed form, kL = nπ + (j/2)|ln R0RL|, R = (1-β)/(1+β): the law of
// Eyring in one dimension. Check values computed for this project.
func TestFreeDecayDuct(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		near, far complex128
		f1, rate  float64
	}{
		{0.05, 0.05, 34.3, 6.86572525701},
		{0.02, 0.2, 34.3, 15.2796361854},
		{0, 0.1, 34.3, 6.88300485435},
		{0.02 + 0.05i, 0.02 + 0.05i, 33.2086708455, 2.73751760462},
		{0.02 - 0.05i, 0.02 - 0.05i, 35.3913291545, 2.73751760462},
		{0.1 + 0.1i, 0.1 + 0.1i, 32.1020139532, 13.6274516532},
	} {
		box := roomT(0, c.near, c.far)
		for n := range 3 {
			m, err := FreeDecay(box, [3]int{n + 1, 0, 0})
			if err != nil {
				t.Fatal(err)
			}
			if f := c.f1 + 34.3*float64(n); math.Abs(m.Frequency-f) > 1e-9 || math.Abs(m.Rate-c.rate) > 1e-9 {
				t.Errorf("β %v, %v, mode %v: %.10f Hz, %.10f 1/s, want %.10f, %.10f", c.near, c.far, m, m.Frequency, m.Rate, f, c.rate)
			}
		}
	}
}

// Coupled free decay in the 5 x 4 x 2.5 m room, solved with 30 digits and verified
// a second way (check values computed for this project).
func TestFreeDecayRoom(t *testing.T) {
	t.Parallel()
	modes := [][3]int{{1, 0, 0}, {0, 1, 0}, {1, 1, 0}, {0, 0, 1}, {2, 0, 0}, {1, 0, 1}, {1, 1, 1}, {2, 1, 1}}
	for _, c := range []struct {
		name  string
		walls []complex128
		want  [8][2]float64 // Hz, 1/s
	}{
		{"U1", even(0.01), [8][2]float64{{34.2970482457, 3.60185669673}, {42.8730924636, 3.77335690798}, {54.9053441436, 4.45944533596},
			{68.6002831060, 4.28783157612}, {68.6002395081, 3.60173021228}, {76.6974338276, 4.97393477119},
			{87.8680438708, 5.83156006299}, {106.067668414, 5.83148518375}}},
		{"U2", even(0.05), [8][2]float64{{34.2257648832, 18.0522817344}, {42.8270706131, 18.9098055205}, {54.8704369333, 22.3509092722},
			{68.6071844944, 21.4790952717}, {68.6059997558, 18.0363573405}, {76.7047781028, 24.9220628003},
			{87.8787196420, 29.2253090813}, {106.086318398, 29.2158884672}}},
		{"C1", even(0.02 + 0.05i), [8][2]float64{{31.4996599854, 6.78562648337}, {39.9162802507, 7.25803686300}, {51.3934039501, 8.67514958940},
			{65.1856236039, 8.56276228441}, {65.7313764560, 7.20041730070}, {72.7375236306, 9.92274344571},
			{83.2240042294, 11.6375321962}, {101.415468533, 11.6907986371}}},
		{"N1", wallsN1, [8][2]float64{{34.3151201676, 25.4756609545}, {43.0560905579, 23.8227253250}, {55.1344202410, 27.9159933713},
			{68.6260414420, 35.9163475678}, {68.9464901763, 25.0919442264}, {76.6754102306, 40.2322488113},
			{87.8907922390, 42.9404918118}, {106.143004921, 43.0489620325}}},
	} {
		for i, n := range modes {
			m, err := FreeDecay(roomT(0, c.walls...), n)
			if err != nil {
				t.Fatal(err)
			}
			if math.Abs(m.Frequency-c.want[i][0]) > 1e-8 || math.Abs(m.Rate-c.want[i][1]) > 1e-9 {
				t.Errorf("%s %v: %.10f Hz, %.10f 1/s, want %v", c.name, m, m.Frequency, m.Rate, c.want[i])
			}
		}
	}
}

// firstOrder returns decay rate and shift of a mode to first order in the admittance
// (Morse & Bolt 1944, Rev. Mod. Phys. 16, 69; Kuttruff, Room Acoustics, ch. 3):
//
//	δ - j2πΔf = (c/2V) Σ ε S β
//
// with ε = 2 for a wall that the mode runs against and 1 for one that it grazes.
func firstOrder(box model.Box, m Mode) (rate, shift float64) {
	var sum complex128
	for _, face := range model.Faces {
		d := face.Axis()
		share := 1 / component(box.Size, d) // S/V
		if m.N[d] > 0 {
			share *= 2
		}
		sum += complex(share, 0) * box.Admittance(face, m.Rigid)
	}
	half := box.Air.Speed / 2
	return half * real(sum), -half * imag(sum) / (2 * math.Pi)
}

// The eigenvalues must tend to the first order as the walls turn rigid, with an error of
// second order: halving β must quarter it.
func TestFirstOrder(t *testing.T) {
	t.Parallel()
	gap := func(beta complex128, n [3]int) float64 {
		box := roomT(0, even(beta)...)
		free, err := FreeDecay(box, n)
		if err != nil {
			t.Fatal(err)
		}
		rate, shift := firstOrder(box, free)
		return math.Hypot(rate-free.Rate, 2*math.Pi*(free.Rigid+shift-free.Frequency))
	}
	for _, n := range [][3]int{{1, 0, 0}, {0, 1, 1}, {2, 1, 1}} {
		if order := math.Log2(gap(0.01+0.004i, n) / gap(0.005+0.002i, n)); math.Abs(order-2) > 0.1 {
			t.Errorf("mode %v: first-order error falls with power %.2f of β, want 2", n, order)
		}
	}
}

// In a rigid box with lossy air every mode decays with δ = ωη/(1+η²), from ω(1-jη) = ck.
func TestFreeDecayLossyAir(t *testing.T) {
	t.Parallel()
	const eta = 0.01
	m, err := FreeDecay(roomT(eta), [3]int{1, 1, 0})
	if err != nil {
		t.Fatal(err)
	}
	omega := 2 * math.Pi * m.Rigid / (1 + eta*eta)
	if math.Abs(m.Rate-omega*eta) > 1e-9 || math.Abs(2*math.Pi*m.Frequency-omega) > 1e-9 {
		t.Errorf("%v Hz, %v 1/s; want %v, %v", m.Frequency, m.Rate, omega/2/math.Pi, omega*eta)
	}
}

// lawWall is a wall whose admittance is a law of the complex frequency f + jδ/2π.
type lawWall func(f complex128) complex128

func (w lawWall) Admittance(f float64) complex128 { return w(complex(f, 0)) }

// ductDecay returns f + jδ/2π of mode n of a duct of length l in m with a law for the wall
// at each end, by Newton's method on the condition that a wave repeats itself after a
// round trip:
//
//	R0 RL e^{-2jkL} = 1,  R = (1-β)/(1+β)
func ductDecay(l, c float64, n int, near, far lawWall) complex128 {
	trip := func(f complex128) complex128 {
		a, b := near(f), far(f)
		k := complex(2*math.Pi/c, 0) * f
		phase := cmplx.Log((1-a)/(1+a)) + cmplx.Log((1-b)/(1+b)) - complex(0, 2*l)*k
		return phase + complex(0, 2*math.Pi*float64(n))
	}
	f := complex(float64(n)*c/(2*l), 0.5)
	for range 50 {
		const h = 1e-5
		f -= trip(f) * 2 * h / (trip(f+h) - trip(f-h))
	}
	return f
}

// Walls of which the admittance changes with frequency, against the exact solution of the
// duct at complex frequency: a spring, 200 mm of wool as its low-frequency law, a sheet that
// resonates, and Z = 1.5, where the first order misjudges the decay.
func TestFreeDecayOfLaws(t *testing.T) {
	t.Parallel()
	plain := func(beta complex128) lawWall { return func(complex128) complex128 { return beta } }
	spring := lawWall(func(f complex128) complex128 { return 0.01 + 0.1i*f/50 })
	wool := lawWall(func(f complex128) complex128 { // σd/3 and the isothermal air, in series
		jw := 2i * math.Pi * f
		return 413 / (6000*0.2/3 + 101325/(jw*0.2))
	})
	sheet := lawWall(func(f complex128) complex128 {
		jw := 2i * math.Pi * f
		return 413 / (jw*9 + 1200 + 1.4e6/jw)
	})
	const sheetCase = "sheet, one mode near its resonance"
	var usual, beside float64 // worst error, share of the rate
	for _, c := range []struct {
		name      string
		near, far lawWall
		tolerance float64 // share of the rate
	}{
		{"spring", plain(0.03), spring, 1e-9},
		{"wool", plain(0.03), wool, 2e-3},
		{"two layers of wool", wool, wool, 5e-3},
		{sheetCase, plain(0.03), sheet, 0.015},
		{"Z = 1.5", plain(0.02), plain(1 / 1.5), 1e-9},
	} {
		box := roomT(0)
		box.Walls[model.Front], box.Walls[model.Back] = c.near, c.far
		for n := 1; n <= 4; n++ {
			m, err := FreeDecay(box, [3]int{n, 0, 0})
			if err != nil {
				t.Fatal(err)
			}
			want := ductDecay(5, 343, n, c.near, c.far)
			rate, _ := firstOrder(box, m)
			t.Logf("%s, mode %d: %.3f Hz, %.3f 1/s; exact %.3f, %.3f; first order %.3f 1/s", c.name, n, m.Frequency, m.Rate, real(want), 2*math.Pi*imag(want), rate)
			off := cmplx.Abs(complex(m.Frequency, m.Rate/(2*math.Pi)) - want)
			if c.name == sheetCase {
				beside = max(beside, off/imag(want))
			} else {
				usual = max(usual, off/imag(want))
			}
			if off > c.tolerance*imag(want) {
				t.Errorf("%s, mode %d: off by %.2g Hz of %.4g", c.name, n, off, want)
			}
		}
	}
	trust.Seen(t, "decay of a mode, plain boxes", "%s %% of the rate; %s %% beside a wall's own resonance", trust.Within(100*usual, 1), trust.Within(100*beside, 2))
}
