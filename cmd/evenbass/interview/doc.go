// Package interview asks the owner about a room, one question at a time, and draws the room as it
// fills up. Answers come in from a reader, questions go to a writer; the text of a room file comes
// out. Each answer is tried in the file at once, so that a wrong one is asked for again with what
// would be right. Lengths stay in the units in which they were typed.
package interview
