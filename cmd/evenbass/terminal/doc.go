// Package terminal prints results and messages, writes files, and says how the program ends.
// In go texts, errors and the files that were asked for; out come lines on standard output and
// standard error, whole files and an exit code. It has no symbols of its own.
//
// The rules:
//
//   - results go to standard output, everything else to standard error;
//   - a message on standard error begins with "evenbass: ", is lower case and has
//     no full stop; what to do about it follows on a line of its own as a hint;
//   - warnings are part of a result and are printed with it;
//   - a progress bar is drawn only on a terminal, on standard error, and is wiped
//     when done, so that logs and pipes never see it;
//   - no colours: people read the output aloud, mail it and paste it.
package terminal
