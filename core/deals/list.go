package deals

import (
	"strings"

	"ribband/core/spec"
	"ribband/core/visible"
)

// Row is a record as a list shows it. The page makes rows of its records without reading specs or quotations, so that a
// list of a thousand is as quick as one of ten.
type Row struct {
	ID       string `json:"id"`
	State    State  `json:"state"`
	Number   string `json:"number,omitempty"`
	Revision int    `json:"revision"`
	Date     string `json:"date,omitempty"`  // of issue, as it was typed
	Valid    string `json:"valid,omitempty"` // until when
	Customer string `json:"customer,omitempty"`
	Boat     string `json:"boat,omitempty"`
	Total    string `json:"total,omitempty"`
	Saved    string `json:"saved"`          // RFC 3339
	Open     bool   `json:"open,omitempty"` // in this tab
	Plain    bool   `json:"plain,omitempty"`
	// the device has the quotation that this one revises, so that the two can be compared
	Revises bool `json:"revises,omitempty"`
}

// Row is the record in a list.
func (r *Record) Row() Row {
	return Row{ID: r.ID, State: r.State, Number: r.Form[fieldNumber], Revision: r.Revision, Date: r.Form[fieldDate],
		Valid: r.Form[fieldValid], Customer: r.Form[fieldCustomer], Boat: r.Boat, Total: r.Total, Saved: r.Saved,
		Plain: r.Plain}
}

// On is the state on a day: an issued quotation lapses the day after it is valid. Days are ISO 8601, and compare as
// texts do.
func (r Row) On(day string) State {
	if r.State == Issued && r.Valid != "" && day > r.Valid {
		return Lapsed
	}
	return r.State
}

// Words are what a row is found by: as they stand in the list, and the state in the words of the reader.
func (r Row) words(state string) string {
	return strings.ToLower(strings.Join([]string{r.Number, r.Customer, r.Boat, r.Date, r.Valid, state, r.Total,
		r.Saved[:min(len(r.Saved), len("2027-03-31"))]}, "\n"))
}

// Search keeps the rows that hold every word of a query, in their order. StateWord gives the word for a state on which
// the reader searches.
func Search(rows []Row, query, day string, stateWord func(State) string) (found []Row) {
	// by words and in any order, as people remember a customer: "osier march ada"
	wanted := strings.Fields(strings.ToLower(query))
next:
	for _, r := range rows {
		text := r.words(stateWord(r.On(day)))
		for _, w := range wanted {
			if !strings.Contains(text, w) {
				continue next
			}
		}
		found = append(found, r)
	}
	return found
}

// DecodeRows reads what the page lists.
func DecodeRows(text []byte) ([]Row, error) {
	rows, err := spec.Strictly[[]Row](text, maxBytes)
	if err != nil {
		return nil, unreadable(err)
	}
	// what was typed is kept as it was, also of a draft that nobody can issue as it is; in a list it can be seen
	for i := range rows {
		for _, text := range []*string{&rows[i].Number, &rows[i].Date, &rows[i].Valid, &rows[i].Customer, &rows[i].Boat,
			&rows[i].Total} {
			*text = visible.Show(*text)
		}
	}
	return rows, nil
}

// DecodeRecords reads records that the page has, to be merged with others.
func DecodeRecords(text []byte) ([]Record, error) {
	list, err := spec.Strictly[[]Record](text, maxBytes)
	if err != nil {
		return nil, unreadable(err)
	}
	return list, nil
}
