package spectrum

import "math/cmplx"

// folder turns the records of several cells at once into their spectra at real phases. About the
// middle m of a record of N values,
//
//	X(φ) = e^{-jφm} (Σ even[k] cos kφ - j Σ odd[k] sin kφ),  k = 0..m,
//	even[k] = x[m+k] + x[m-k],  odd[k] = x[m+k] - x[m-k],
//
// which is half the work of the plain sum. With vectors it is faster than a fast transform, since a
// record is not much longer than there are frequencies.
type folder struct {
	length   int // of the records
	phases   int
	end      []float32 // weights by time
	cos, sin []float32 // by block of phases, by k, by phase of the block
	middle   []complex128
}

// Sums are made for a group of cells and a block of phases at a time: as many as there are
// registers for.
const (
	groupCells  = 16
	blockPhases = 4
)

// newFolder prepares sums over records weighted by end, at real phases.
func newFolder(phases []complex128, end []float32) *folder {
	f := &folder{length: len(end), phases: len(phases), end: end}
	blocks, rows := (len(phases)+blockPhases-1)/blockPhases, f.rows()
	f.cos, f.sin = make([]float32, blocks*blockPhases*rows), make([]float32, blocks*blockPhases*rows)
	for i, p := range phases {
		one, at := cmplx.Exp(1i*p), complex(1, 0)
		first := i/blockPhases*blockPhases*rows + i%blockPhases
		for k := range rows {
			f.cos[first+k*blockPhases], f.sin[first+k*blockPhases] = float32(real(at)), float32(imag(at))
			at *= one
		}
		f.middle = append(f.middle, cmplx.Exp(-1i*p*complex(float64(len(end)/2), 0)))
	}
	return f
}

// rows returns how many values a folded record has.
func (f *folder) rows() int { return f.length/2 + 1 }

// workspace is the working memory for one group of cells, by row and cell.
type workspace struct{ even, odd []float32 }

// newWorkspace returns working memory for one group of cells.
func (f *folder) newWorkspace() *workspace {
	return &workspace{make([]float32, f.rows()*groupCells), make([]float32, f.rows()*groupCells)}
}

// fold folds the records of up to groupCells cells, starting with the first given.
func (f *folder) fold(w *workspace, frames [][]float32, first, count int) {
	if count < groupCells {
		clear(w.even)
		clear(w.odd)
	}
	middle := f.length / 2
	for k := range f.rows() {
		if count == groupCells && k > 0 && middle+k < f.length {
			late, early := frames[middle+k][first:], frames[middle-k][first:]
			foldGroup(w.even[k*groupCells:], w.odd[k*groupCells:], late, early, f.end[middle+k], f.end[middle-k])
			continue
		}
		even, odd := w.even[k*groupCells:][:count], w.odd[k*groupCells:][:count]
		clear(even)
		clear(odd)
		if n := middle + k; n < f.length {
			v := f.end[n]
			for i, x := range frames[n][first:][:count] {
				even[i], odd[i] = v*x, v*x
			}
		}
		if n := middle - k; k > 0 {
			v := f.end[n]
			for i, x := range frames[n][first:][:count] {
				even[i] += v * x
				odd[i] -= v * x
			}
		}
	}
}

// portableFoldGroup fills even and odd with v late ± w early for a whole group of cells.
func portableFoldGroup(even, odd, late, early []float32, v, w float32) {
	even, odd, late, early = even[:groupCells], odd[:groupCells], late[:groupCells], early[:groupCells]
	for i, x := range late {
		even[i], odd[i] = v*x+w*early[i], v*x-w*early[i]
	}
}

// spectra calls add with the spectrum of each cell in the workspace at each phase.
func (f *folder) spectra(w *workspace, count int, add func(cell, phase int, x complex128)) {
	var re, im [blockPhases][groupCells]float32
	for from := 0; from < f.phases; from += blockPhases {
		at := from * f.rows()
		groupSums(&re, w.even, f.cos[at:])
		groupSums(&im, w.odd, f.sin[at:])
		for cell := range count {
			for p := range min(blockPhases, f.phases-from) {
				add(cell, from+p, complex(float64(re[p][cell]), -float64(im[p][cell]))*f.middle[from+p])
			}
		}
	}
}

// portableGroupSums fills dst, by phase and cell, with the sums over k of row k of a group times
// row k of a block.
func portableGroupSums(dst *[blockPhases][groupCells]float32, group, block []float32) {
	*dst = [blockPhases][groupCells]float32{}
	for k := range len(group) / groupCells {
		row, turns := group[k*groupCells:][:groupCells], block[k*blockPhases:][:blockPhases]
		for p, t := range turns {
			for i, x := range row {
				dst[p][i] += x * t
			}
		}
	}
}
