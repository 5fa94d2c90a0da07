package fit

import (
	"reflect"
	"sync"
	"testing"

	"evenbass/model"
	"evenbass/model/material"
	"evenbass/model/material/surface"
)

// counted counts how often it is asked.
type counted struct {
	model.Boundary
	asked *int
	mutex *sync.Mutex
}

func (c counted) Admittance(f float64) complex128 {
	c.mutex.Lock()
	*c.asked++
	c.mutex.Unlock()
	return c.Boundary.Admittance(f)
}

func TestMemoryKeepsFits(t *testing.T) {
	t.Parallel()
	air := model.AirAt(0)
	var fits Memory
	var none *Memory
	var mutex sync.Mutex
	for _, name := range []string{"plasterboard on studs", "timber on joists", "double glazing"} {
		b, err := surface.NewResolver(material.Typical).Boundary("wall", model.Surface{Construction: name})
		if err != nil {
			t.Fatal(err)
		}
		want, worst := Boundary(b, air, 4)
		var first, again int
		for _, asked := range []*int{&first, &again} {
			got, w := fits.Branches(counted{b, asked, &mutex}, air, 4)
			if !reflect.DeepEqual(got, want) || w != worst {
				t.Errorf("%s: %v, want %v", name, got, want)
			}
		}
		if again >= first {
			t.Errorf("%s: the second fit asks %d times, the first %d", name, again, first)
		}
		if got, _ := none.Branches(b, air, 4); !reflect.DeepEqual(got, want) {
			t.Errorf("%s: no memory, another fit", name)
		}
		if got, _ := fits.Branches(b, air, 3); len(got.List) > 3 {
			t.Errorf("%s: %d branches where three are allowed", name, len(got.List))
		}
	}
}
