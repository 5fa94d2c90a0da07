package prediction

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"strconv"
	"testing"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/report/reporttest"
)

// A source at 1 m without a room is 0 dB at every frequency by definition, and
// both of two equal ones are 6.02 dB. Its pressure is ωρ/(4π) long, here 0.6 f,
// and kr short of a quarter turn: at 31.5 Hz 18.9 sin 0.57703 = 10.31.
func ExampleCSV() {
	grid, air := model.Grid{31.5, 125}, model.Air{Speed: 343, Density: 1.2}
	one := model.FreeField(nil, grid, air, 1)
	if err := CSV(os.Stdout, grid, air, response.Pair{Left: one, Right: one}); err != nil {
		fmt.Println(err)
	}
	// Output:
	// # level_db is room gain: the level at the seat relative to the same loudspeaker at 1 m in free field. 0 dB means as loud as outdoors at 1 m. Smoothing: none.
	// # re and im: sound pressure at the seat per volume velocity of the loudspeaker in Pa·s/m³, time factor e^{+jωt}. both: one signal to both loudspeakers.
	// # A cubic spline through level_db gives the response between rows to 0.05 dB. Rows stand closer where the response bends.
	// frequency_hz,left_re,left_im,left_level_db,right_re,right_im,right_level_db,both_re,both_im,both_level_db
	// 31.5,10.31060963,15.83986518,0.000,10.31060963,15.83986518,0.000,20.62121927,31.67973036,6.021
	// 125,56.43514001,-49.39711502,0.000,56.43514001,-49.39711502,0.000,112.87028,-98.79423004,6.021
}

// Every value reads back to ten digits, and each level is that of its own complex
// pressure.
func TestCSVReads(t *testing.T) {
	p, grid := reporttest.Project(), reporttest.CoarseGrid()
	air, pair := p.Room.Air(), reporttest.Result(grid, p).Candidates[0].Pair
	pair.Left[2], pair.Right[2] = 0, 0
	var b bytes.Buffer
	if err := CSV(&b, grid, air, pair); err != nil {
		t.Fatal(err)
	}
	reader := csv.NewReader(&b)
	reader.Comment = '#'
	rows, err := reader.ReadAll()
	if err != nil || len(rows) != len(grid)+1 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for i, row := range rows[1:] {
		f := number(row[0])
		for c, want := range []complex128{pair.Left[i], pair.Right[i], pair.Left[i] + pair.Right[i]} {
			got := complex(number(row[1+3*c]), number(row[2+3*c]))
			if cmplx.Abs(got-want) > 1e-9*cmplx.Abs(want) || math.Abs(f-grid[i]) > 1e-7 {
				t.Errorf("row %d: %v, want %v", i, got, want)
			}
			if want == 0 {
				if row[3+3*c] != "" {
					t.Errorf("no pressure has the level %q", row[3+3*c])
				}
				continue
			}
			// 20 lg(4π|p|/(ωρ)), written out here independently of model.RoomGain.
			level := 20 * math.Log10(2*cmplx.Abs(want)/(f*air.Density))
			if math.Abs(number(row[3+3*c])-level) > 6e-4 {
				t.Errorf("row %d: level %s, want %.3f", i, row[3+3*c], level)
			}
		}
	}
}

func TestCSVLengths(t *testing.T) {
	defer func() {
		if recover() == nil {
			t.Error("transfers of the wrong length were accepted")
		}
	}()
	_ = CSV(&bytes.Buffer{}, model.Grid{20, 40}, model.AirAt(0), response.Pair{})
}
