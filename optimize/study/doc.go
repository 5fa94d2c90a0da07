// Package study answers the owner's questions about one room: what is predicted as things
// stand, where things should go, what changes and pieces would do.
//
// It decides what the engines and the search leave open: from which engine of [engines] each figure
// comes, what a study costs beforehand, and in which order its parts are computed. In goes a [model.Project]; out come results that are
// complete when they are returned. A study that is interrupted returns what it has with the
// context's error, and warns of what is missing.
package study
