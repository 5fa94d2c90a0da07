// Package build plans how treatments are made of a stock: which pieces, of which batts,
// cut how, hung where, and what must be bought.
//
// [Make] goes through the treatments of a room. Each becomes pieces that one can carry:
// layers, clouds and panels as frames of the size of a batt, corners as stacks of
// triangles or squares, wrapped panels as bags. Their parts are nested on batts ([Nest]),
// on rolls of film and cloth ([Unroll]) and on battens ([Saw]); [Plan.Items] is what to
// buy.
//
// What the owner left open is taken by common practice, and a note in the plan says so.
// Weights have a range. A price that was not given is not made up.
package build
