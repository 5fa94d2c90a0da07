package series

import (
	"bytes"
	"compress/flate"
	"context"
	"errors"
	"io"
	"math"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"
	"pgregory.net/rapid"

	"evenbass/model"
	"evenbass/model/response"
	"evenbass/optimize/geometry"
	"evenbass/optimize/table"
	"evenbass/optimize/testroom"
)

// domain is two zones of speakers at two heights before a strip of seats.
func domain() table.Domain {
	return table.Domain{
		Sources: []geometry.Area{
			{X: geometry.Span{Lo: 0.4, Hi: 1.2}, Y: geometry.Span{Lo: 0.5, Hi: 1.1}},
			{X: geometry.Span{Lo: 0.4, Hi: 1.2}, Y: geometry.Span{Lo: 2.1, Hi: 2.7}},
		},
		Heights: []float64{1.0, 1.1}, Ears: 1.2,
		Seats: geometry.Area{X: geometry.Span{Lo: 1.9, Hi: 2.9}, Y: geometry.Span{Lo: 1.5, Hi: 1.7}},
	}
}

// A table gives the levels of its engine anywhere in its zones, and knows how far off it is:
// one of coarse steps is found out.
func TestTableFollowsItsEngine(t *testing.T) {
	t.Parallel()
	e := testroom.New(r3.Vec{X: 4.3, Y: 3.3, Z: 2.4})
	reader := response.NewReader(e.Grid(), e.Air(), model.Goal{From: 30, To: 200, Smoothing: 12})
	fine, err := New(context.Background(), e, domain(), Usual)
	if err != nil {
		t.Fatal(err)
	}
	coarse, err := New(context.Background(), e, domain(), Fineness{Wave: 1e-2, Step: 2e-2})
	if err != nil {
		t.Fatal(err)
	}
	seat := r3.Vec{X: 2.37, Y: 1.53, Z: 1.2}
	for _, c := range []struct {
		name     string
		table    *Table
		accurate bool
	}{{"fine", fine, true}, {"coarse", coarse, false}} {
		off, err := c.table.Off(context.Background(), e, reader, seat)
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("%s: %.3f dB off", c.name, float64(off))
		if off <= Accuracy != c.accurate || off == 0 {
			t.Errorf("%s is %.3f dB off", c.name, float64(off))
		}
	}
	if got, want := SeatCount(e, domain(), Usual), fine.Seats[0]*fine.Seats[1]; got != want || fine.Seats[1] < 2 {
		t.Errorf("%d seats are asked for, the table has %d", got, want)
	}
	if fine.Info().Kind != e.Info().Kind || len(fine.Warnings()) > 0 {
		t.Errorf("the table is of %v", fine.Info())
	}
}

// What is packed is unpacked as it was, the most negative number too.
func TestPackedReadsBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		want := rapid.SliceOfN(rapid.Int16(), 1, 50).Draw(t, "numbers")
		packed, err := (&Table{Numbers: want}).Packed()
		if err != nil {
			t.Fatal(err)
		}
		raw, err := io.ReadAll(flate.NewReader(bytes.NewReader(packed)))
		if err != nil || len(raw) != 2*len(want) {
			t.Fatalf("%d bytes, %v", len(raw), err)
		}
		for i, v := range want {
			u := int(raw[i]) | int(raw[len(want)+i])<<8
			got := u >> 1
			if u%2 == 1 {
				got = -got - 1
			}
			if got != int(v) {
				t.Fatalf("number %d is %d, was %d", i, got, v)
			}
		}
	})
}

// A series through samples at Chebyshev nodes gives a polynomial of their degree exactly.
func TestSeriesOfPolynomial(t *testing.T) {
	t.Parallel()
	cubic := func(x float64) float64 { return 3 - 2*x + 0.5*x*x - 4*x*x*x }
	span := geometry.Span{Lo: 1, Hi: 3}
	var v []complex128
	for _, x := range nodes(span, 4) {
		v = append(v, complex(cubic(x), -2*cubic(x)))
	}
	along(v, 4, 1)
	for _, x := range []float64{1, 1.3, 2.2, 3} {
		var got complex128
		for k, p := range polynomials(scaled(span, x), 4) {
			got += complex(p, 0) * v[k]
		}
		if want := cubic(x); math.Abs(real(got)-want) > 1e-9 || math.Abs(imag(got)+2*want) > 1e-9 {
			t.Errorf("at %g: %v, want %g", x, got, want)
		}
	}
}

func TestRefusals(t *testing.T) {
	t.Parallel()
	e := testroom.New(r3.Vec{X: 4.3, Y: 3.3, Z: 2.4})
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := New(ctx, e, domain(), Usual); !errors.Is(err, context.Canceled) {
		t.Errorf("a context that has ended gives %v", err)
	}
	wide := domain()
	wide.Seats = geometry.Area{X: geometry.Span{Lo: 0, Hi: 30}, Y: geometry.Span{Lo: 0, Hi: 30}}
	if _, err := New(context.Background(), e, wide, Usual); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a hall of seats gives %v", err)
	}
	if _, err := New(context.Background(), e, table.Domain{}, Usual); err == nil {
		t.Error("a domain without sources is packed")
	}
	d := domain()
	d.Sources, d.Heights, d.Seats = d.Sources[:1], d.Heights[:1], geometry.PointArea(r3.Vec{X: 2.4, Y: 1.6})
	one, err := New(context.Background(), e, d, Usual)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := one.Field(context.Background(), r3.Vec{X: 2.5, Y: 1.6, Z: 1.2}); err == nil {
		t.Error("a seat outside the table has a field")
	}
	field, err := one.Field(context.Background(), r3.Vec{X: 2.4, Y: 1.6, Z: 1.2})
	if err != nil {
		t.Fatal(err)
	}
	defer func() {
		if recover() == nil {
			t.Error("a source outside the table has a transfer")
		}
	}()
	field.Transfer(nil, r3.Vec{X: 0.5, Y: 2.5, Z: 1.0})
}

// The work of a step, counted by hand: rows of four numbers, less the zeros that they begin with, of two seats' terms;
// then four for each term of each speaker.
func TestWork(t *testing.T) {
	t.Parallel()
	table := Table{
		Domain: table.Domain{Heights: []float64{1}}, Seats: [2]int{2, 1}, Panels: [][2]int{{1, 1}, {1, 2}}, grid: model.Grid{50, 100},
		Numbers: []int16{
			0, 0, 1, 1 /* the left area */, 1, 1, 1, 1, 0, 0, 0, 0, // first term of the seat
			0, 1, 1, 1 /* the left area */, 0, 0, 0, 1, 1, 1, 1, 1, // second
		},
	}
	if got, want := table.Work(), (2+3+4)+(4+0+1+4+8); got != want {
		t.Errorf("a step takes %d products, want %d", got, want)
	}
}
