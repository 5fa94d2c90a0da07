// Package arguments reads the words after a command's name, and writes its help.
// In go the library's flags and what was typed; out come flags in their order, messages about
// mistakes with the nearest known word, help texts, and the command line again, quoted for a
// shell. It has no symbols of its own.
package arguments
