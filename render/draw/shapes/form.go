package shapes

// Form is the format for which a drawing is laid out; lengths are points on the sheet.
type Form struct {
	Width         float64
	SmallText     float64 // type size: nothing is smaller
	LabelText     float64 // type size of names of parts
	BalloonRadius float64 // radius of a numbered circle
	Narrow        bool    // names of parts are below the picture
}

// A page is as wide as the text of a letter page. A column is as wide as the text of a
// phone's page of 320 pixels, one point per pixel, and fits a column on paper.
var (
	PageForm   = Form{Width: 480, SmallText: 11, LabelText: 12, BalloonRadius: 10}
	ColumnForm = Form{Width: 288, SmallText: 12, LabelText: 13, BalloonRadius: 12, Narrow: true}
)
