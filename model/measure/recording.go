package measure

// Recording is sound as it was recorded, or is to be played.
type Recording struct {
	Rate     float64     // fs, Hz
	Channels [][]float64 // samples; full scale is 1
	Bits     int         // of a sample in the file; 0 is floating point
	Comment  string      // text that travels with the file
	Cut      bool        // the file ended before its header said
}

// Duration returns the length in s.
func (r *Recording) Duration() float64 {
	if len(r.Channels) == 0 || r.Rate == 0 {
		return 0
	}
	return float64(len(r.Channels[0])) / r.Rate
}
