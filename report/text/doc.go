// Package text holds what all texts share: tables whose columns fit the terminal, lists in prose,
// counts, wrapping and the cautions.
package text
