package build_test

import (
	"fmt"

	"evenbass/model/build"
)

// Eight triangles with legs of 424 mm come out of a slab of 1200 x 600 mm: two squares
// of their long side, each cut along both diagonals. Common practice, no source.
func ExampleNest() {
	var parts []build.Shape
	for range 24 {
		parts = append(parts, build.Shape{Width: 0.424, Height: 0.424, Triangle: true})
	}
	n, err := build.Nest(parts, 1.2, 0.6, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%d slabs, bound %d, %d parts on the first\n", len(n.Sheets), n.Bound, len(n.Sheets[0].Places))
	// Output: 3 slabs, bound 3, 8 parts on the first
}
