//go:build buyer

package paper

// own is empty: a buyer cannot have what the yard works by.
var own []Paper

// quotationData has none of the forms that are written of what was issued alone, which a buyer's desk never does.
var quotationData = map[Format]func(*Source) ([]byte, error){
	AsJSON: func(s *Source) ([]byte, error) { return s.Quote.ForCustomer().Encode(), nil },
}
