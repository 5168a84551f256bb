//go:build !buyer

package paper

import "ribband/core/export"

// Files under the tag buyer are those of the public page's engine, and files under its opposite all other programs': a
// buyer waits for nothing that his desk cannot have.

// own are the papers that only the yard has.
var own = []Paper{buildSheet, jobCard}

// quotationData are the forms of a quotation for programs.
var quotationData = map[Format]func(*Source) ([]byte, error){
	AsJSON:     func(s *Source) ([]byte, error) { return s.Quote.ForCustomer().Encode(), nil },
	AsUBL:      func(s *Source) ([]byte, error) { return export.UBL(s.Quote, s.Language) },
	AsCalendar: func(s *Source) ([]byte, error) { return export.Calendar(s.Quote, s.Language) },
}
