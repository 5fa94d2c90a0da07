// Package fit turns any boundary into branches that a time-domain solver can march:
// masses, resistances and springs in series, side by side. A boundary goes in; passive
// branches and their worst error in absorption from 20 to 300 Hz come out.
//
//	M, R, K      mass, resistance and spring of a branch, kg/m², Pa·s/m, Pa/m
package fit
