package book

import (
	"net/url"
	"strings"
)

// page reports an address of the buyer's page that a link cannot be made of. It stands on papers that are printed
// months before somebody scans them, so what is wrong with it is found now.
func (v *validation) page() {
	page := v.book.Yard.Page
	if page.Value == "" {
		return
	}
	const remedy = "write it as a browser shows it, such as https://yard.example/launches/"
	u, err := url.Parse(page.Value)
	switch {
	// the link of a boat is the fragment, which stands behind the first #; a query would be another page to a cache
	case err != nil || strings.ContainsAny(page.Value, "#? \t\r\n\"<>\\"):
		v.error(page.At, remedy, "the address of the page %q is none that a link can be added to", page)
	// a page of mixed editions, or another's, could be slipped in between on the way of plain http
	case u.Scheme != "https":
		v.error(page.At, remedy, "the address of the page %q does not begin with https://", page)
	case u.Hostname() == "" || u.User != nil:
		v.error(page.At, remedy, "the address of the page %q names no host, or a user", page)
	}
}
