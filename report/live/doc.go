// Package live is the interactive part of a page: the reader moves speakers and seat on the plan, and the
// predicted curve, the figures, the tape distances and the rules that are broken follow at once. A [Report]
// goes in: a project, its layouts and the field packed by optimize/series; a [View] for the page's template
// comes out, and the files that go with it.
//
// The scripts in page/script interpolate, add and smooth, no more: field.js reads the packed
// field, response.js follows the recipe of model/response, limits.js the rules of
// model.Project.Breaches, trial.js handles the page. They share one name, "live". Tests hold
// each of them to the program in a browser.
package live
