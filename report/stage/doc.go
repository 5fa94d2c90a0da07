// Package stage shows what to build first: the stages of a plan with what each gains, what
// to leave out, and the response before and after. A [Report] goes in, a project with the
// plan that package optimize/stage has made; a page or a text comes out.
//
// A score is a spread in dB plus a penalty for audible excess decay; the page states the
// recipe. Gains are reductions of the score.
package stage
