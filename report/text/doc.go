// Package text holds what all texts share: tables whose columns fit the terminal, lists in prose,
// counts, wrapping and the cautions. It also puts into words what every command may have to say:
// warnings, rules, engines. Values of the model and a [unit.Style] go in; plain text comes out.
package text
