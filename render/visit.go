package render

import (
	"fmt"
	"strconv"

	"ownerguide/render/doc"
	"ownerguide/render/record"
	"ownerguide/spec/derive"
	"ownerguide/spec/source"
)

// visitsOf returns the dated schedule for the owner's calendar, with the texts of the
// printed schedule.
func (a *assembly) visitsOf(g *doc.Guide) (out []doc.Visit) {
	for _, v := range a.values.Plan.Visits {
		out = append(out, doc.Visit{
			UID:   visitUID(g, v.Number),
			Date:  v.Date.String(),
			Day:   a.date(v.Date),
			Title: doc.Fill(a.label("visit.title"), "n", strconv.Itoa(v.Number), "model", g.Model, "serial", g.Serial),
			Jobs:  a.visitJobs(v),
			Notes: a.visitNotes(g, v),
		})
	}
	return out
}

// visitUID returns the UID of a visit, from its number: the third service is the third
// service in every revision, though its day and its jobs may change, so that the calendar
// file of a later revision moves the event and does not add another.
func visitUID(g *doc.Guide, number int) string {
	return fmt.Sprintf("visit-%02d.%s", number, g.Unit)
}

func (a *assembly) visitJobs(v derive.Visit) (jobs []string) {
	for _, id := range v.Tasks {
		job := a.taskName(id)
		if figures := a.taskFigures(id); len(figures) > 0 {
			job = a.colon(job, figures)
		}
		jobs = append(jobs, doc.PlainText(job...))
	}
	return jobs
}

func (a *assembly) visitNotes(g *doc.Guide, v derive.Visit) []string {
	visit := fmt.Sprintf("visit.%02d", v.Number)
	loads := 0.0
	if v, ok := a.values.Lookup(visit + ".loads"); ok {
		loads, _, _ = v.Number(a.print)
	}
	byThen := a.sentence(a.counted("visit.by-then", loads), map[string][]doc.Inline{
		"distance": a.value(visit+".distance", source.Pos{}), "loads": a.value(visit+".loads", source.Pos{})})
	name, phone := a.build.Line.Maker.Name.Value, a.build.Line.Maker.Phone.Value
	if dealer := person(a.build.Sheet.Dealer); dealer.Phone.Value != "" {
		name, phone = dealer.Name.Value, dealer.Phone.Value
	}
	return []string{
		doc.PlainText(byThen...),
		doc.Fill(a.label("visit.guide"), "serial", g.Serial, "revision", g.Revision),
		doc.Fill(a.label("visit.call"), "name", name, "phone", phone),
	}
}

// dropVisits adds the visits that only an earlier revision had, so that the owner's
// calendar removes them.
func (a *assembly) dropVisits(g *doc.Guide, earlier *record.Record) {
	last := len(g.Visits)
	if last == 0 {
		return // the guide has no calendar
	}
	for _, v := range earlier.Values {
		var number int
		if _, err := fmt.Sscanf(v.Name, "visit.%d.date", &number); err != nil || number <= last {
			continue
		}
		words := []string{"n", strconv.Itoa(number), "model", g.Model, "serial", g.Serial, "revision", g.Revision}
		g.Visits = append(g.Visits, doc.Visit{
			UID: visitUID(g, number), Date: v.Text, Day: a.isoDate(v.Text), Gone: true,
			Title: doc.Fill(a.label("since.visit"), words...),
			Notes: []string{doc.Fill(a.label("since.visit.note"), words...)},
		})
	}
}

// contacts returns whom the owner can call: the dealer, if the sheet has one with a phone
// number or address, and the maker.
func (a *assembly) contacts() (out []doc.Contact) {
	if dealer := person(a.build.Sheet.Dealer); dealer.Phone.Value != "" || dealer.Email.Value != "" {
		out = append(out, doc.Contact{Who: a.label("screen.dealer"), Name: dealer.Name.Value, Phone: dealer.Phone.Value, Mail: dealer.Email.Value})
	}
	maker := a.build.Line.Maker
	return append(out, doc.Contact{Who: a.label("screen.maker"), Name: maker.Name.Value, Phone: maker.Phone.Value, Mail: maker.Email.Value})
}
