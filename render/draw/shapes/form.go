package shapes

// Form is what a drawing is laid out for; lengths are points on the sheet.
type Form struct {
	Width         float64
	SmallText     float64 // size of type: nothing is smaller
	LabelText     float64 // size of type of what names a part
	BalloonRadius float64 // radius of a numbered circle
	Narrow        bool    // what parts are called stands below the picture
}

// A page is as wide as the text of a letter page. A column is as wide as the text
// of a phone's page of 320 pixels, a point to the pixel, and fits a column of paper.
var (
	PageForm   = Form{Width: 480, SmallText: 11, LabelText: 12, BalloonRadius: 10}
	ColumnForm = Form{Width: 288, SmallText: 12, LabelText: 13, BalloonRadius: 12, Narrow: true}
)
