package mode

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"testing"
)

// axisT is a 5 m axis at a frequency, c = 343 m/s.
func axisT(t *testing.T, f float64, near, far complex128, n int) axis {
	t.Helper()
	k := complex(2*math.Pi*f/343, 0)
	ax, err := newAxis(5, k*near, k*far, n)
	if err != nil {
		t.Fatal(err)
	}
	return ax
}

// Driven eigenvalues of an axis, solved with 30 digits and a second time by
// Chebyshev collocation (check values, computed for this project). The last case
// is one where following each root from rigid walls finds one root twice and
// misses 0.98+0.27j.
func TestDrivenEigenvalues(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		f         float64
		near, far complex128
		want      []complex128
	}{
		{50, 0.05, 0.05, []complex128{
			0.097490863528631 + 0.093839483813190i, 0.629666377267520 + 0.029080990598662i, 1.256806346462000 + 0.014579785472352i}},
		{100, 0.05, 0.2, []complex128{
			0.236559572101110 + 0.162122080795690i, 0.664648457667750 + 0.141331585387460i, 1.261203179161200 + 0.074081782086864i}},
		{80, 0.02 + 0.05i, 0.02 + 0.05i, []complex128{
			0.036931766340975 + 0.179505529370840i, 0.578605313618170 + 0.021823529133300i, 1.232955263865200 + 0.009662293392890i}},
		{80, 0.1 - 0.1i, 0, []complex128{
			0.172847886244600 + 0.051285675690851i, 0.675101290825180 + 0.039144577457112i, 1.280110192771000 + 0.022277759388954i}},
		{200, 0.3 + 0.1i, 0.01, []complex128{
			0.324431302885 + 0.080502974567i, 0.980538091744 + 0.274341104696i, 1.186707803982 + 0.327186517194i,
			1.838367681464 + 0.138861239407i, 2.481276043750 + 0.097097917695i}},
	} {
		ax := axisT(t, c.f, c.near, c.far, len(c.want))
		for i, want := range c.want {
			if got := ax.modes[i].q; cmplx.Abs(got-want) > 1e-11 {
				t.Errorf("%v Hz, %v and %v: q%d = %.13f, want %.13f", c.f, c.near, c.far, i, got, want)
			}
		}
	}
}

// randomEnds draws two passive walls, |β| from 0.002 to 2.7 at any phase, and kL
// from 0.2 to 33; one time in four both alike.
func randomEnds(rng *rand.Rand) ends {
	kl := complex(0, math.Exp(rng.Float64()*5-1.5))
	beta := func() complex128 { return cmplx.Rect(math.Exp(rng.Float64()*7-6), (rng.Float64()-0.5)*math.Pi) }
	e := ends{a: kl * beta(), b: kl * beta()}
	if rng.IntN(4) == 0 {
		e.b = e.a
	}
	return e
}

// zerosInside counts the zeros of F with |√u| < (m+½)π by the argument principle:
// the turns of F along the circle.
func zerosInside(e ends, m int) int {
	radius := math.Pow((float64(m)+0.5)*math.Pi, 2)
	steps := 400 * (m + 2)
	turns := 0.0
	characteristic := func(u complex128) complex128 {
		c, s, _ := trig(u)
		return (u-e.a*e.b)*s - (e.a+e.b)*c
	}
	last := characteristic(complex(radius, 0))
	for i := range steps {
		f := characteristic(cmplx.Rect(radius, 2*math.Pi*float64(i+1)/float64(steps)))
		turns += cmplx.Phase(f/last) / (2 * math.Pi)
		last = f
	}
	return int(math.Round(turns))
}

// The argument principle counts roots without looking for any: the set found must
// be as many, all different, all zeros, whatever the walls.
func TestEigenvaluesComplete(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(1, 2))
	for i := range 1500 {
		e := randomEnds(rng)
		if i == 0 { // once left with a zero from beyond the disc in place of one inside
			e = ends{-7.476 + 59.49i, -27.12 + 63.04i}
		}
		us, err := e.eigenvalues(8)
		if err != nil {
			t.Fatal(err)
		}
		if want := zerosInside(e, len(us)-1); len(us) != want {
			t.Errorf("%v: %d eigenvalues, the argument principle counts %d", e, len(us), want)
		}
		for i, u := range us {
			if off := 1 / cmplx.Abs(e.logSlope(u)); off > 1e-11*(1+cmplx.Abs(u)) {
				t.Errorf("%v: eigenvalue %d = %v is off by %.2g", e, i, u, off)
			}
		}
	}
}
