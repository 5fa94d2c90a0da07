// Package build shows how to build treatments: what to buy, what to cut, where to hang it,
// and the steps with their cautions. A [Report] goes in, a project with the plan that
// package model/build has made of it; what comes out is a page with a sheet for each wall,
// a text, and tables for a spreadsheet.
//
// Pieces go by marks: the letter of the treatment on the plan, and a number where a
// treatment has several pieces. Along a wall, distances begin at the corner on the left of
// someone who faces it.
package build
