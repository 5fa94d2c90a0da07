// Package fit follows an admittance over frequency by a few passive branches of mass, resistance
// and spring, which a time-stepping engine can march. A boundary goes in ([FitBranches]); the
// branches and their largest error in absorption come out.
//
// A branch has the specific impedance R + jωM + K/(jω), with R, M and K of zero or more.
package fit
