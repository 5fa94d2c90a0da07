package model

// TitleBlock is what a report says of itself: for whom and by whom it was made. Every field is
// the owner's words; "" leaves it out.
type TitleBlock struct {
	Title   string   // over the report, in place of the room's name
	Client  string   // for whom
	Project string   // a name or number
	Author  string   // by whom
	Date    string   // any text; "" is the day of the run
	Notes   []string // a paragraph each
	Logo    string   // path of a picture, from the room file's folder
}
