// Package unit writes quantities in the reader's units: metric, imperial or both ([Style]). Values go
// in as SI; text with a unit comes out.
package unit
