package optimize

import (
	"cmp"
	"math"
	"slices"
	"testing"
)

// agreement is how a cheap rating of layouts compares with the exact one.
type agreement struct {
	rms, worst, bias float64 // dB
	rank             float64 // correlation of the ranks
	regret, first    float64 // at most in any draw: regret of the best eight, and of the best one, dB
	place            int     // at most in any draw: where the best layout stands, counted from 1
	apart            float64 // regret of the best eight of all that are as far apart as layouts offered, dB
}

// Layouts of one draw, and how many of them the dear engine looks at: as many as the
// wide search hands on.
const drawn, handed = 200, 8

// regret returns by how much the best of the n that are cheaply rated best is worse than
// the best of all, both by the exact rating.
func regret(cheap, exact []float64, n int) float64 {
	best := math.Inf(1)
	for _, i := range order(cheap)[:n] {
		best = min(best, exact[i])
	}
	return best - slices.Min(exact)
}

// order returns the indices of numbers from the least to the largest.
func order(v []float64) []int {
	list := make([]int, len(v))
	for i := range list {
		list[i] = i
	}
	slices.SortStableFunc(list, func(a, b int) int { return cmp.Compare(v[a], v[b]) })
	return list
}

// spearman returns the correlation of the ranks of two lists without ties, 1 - 6 Σd²/(n³-n)
// (Spearman, Am. J. Psychol. 15, 1904).
func spearman(a, b []float64) float64 {
	rank := make([]float64, len(b))
	for r, i := range order(b) {
		rank[i] = float64(r)
	}
	var sum float64
	for r, i := range order(a) {
		sum += (float64(r) - rank[i]) * (float64(r) - rank[i])
	}
	n := float64(len(a))
	return 1 - 6*sum/(n*n*n-n)
}

// within fails if an agreement is worse than one that was measured, by half and more.
func (a agreement) within(t *testing.T, measured agreement) {
	t.Helper()
	const slack, most = 1.5, 0.1
	if a.rms > slack*measured.rms || a.worst > slack*measured.worst || 1-a.rank > slack*(1-measured.rank) {
		t.Errorf("%+v, measured was %+v", a, measured)
	}
	if math.Abs(a.bias) > most || a.regret > most || a.apart > most {
		t.Errorf("%+v: bias and regret may be %v dB", a, most)
	}
}

// Ranks that agree correlate fully, turned round fully the other way, and the published
// example of ten has -29/165 (from memory: the common textbook one of ten people's wits
// and hours before a screen). What regret is, by hand.
func TestAgreementOfRatings(t *testing.T) {
	t.Parallel()
	wits := []float64{106, 86, 100, 101, 99, 103, 97, 113, 112, 110}
	hours := []float64{7, 0, 27, 50, 28, 29, 20, 12, 6, 17}
	if got := spearman(wits, hours); math.Abs(got+29.0/165) > 1e-12 {
		t.Errorf("rank correlation %v, want -29/165", got)
	}
	back := slices.Clone(wits)
	for i := range back {
		back[i] = -back[i]
	}
	if spearman(wits, wits) != 1 || spearman(wits, back) != -1 {
		t.Errorf("rank correlation %v with itself, %v turned round", spearman(wits, wits), spearman(wits, back))
	}
	cheap, exact := []float64{3, 1, 2, 9}, []float64{5, 8, 7, 4}
	for n, want := range []float64{1: 4, 3, 1, 0} {
		if n > 0 && regret(cheap, exact, n) != want {
			t.Errorf("regret of the best %d is %v, want %v", n, regret(cheap, exact, n), want)
		}
	}
}
