package main

import (
	"encoding/json"
	"slices"

	"ribband/core/pack"
)

// addPictures adds the files of the pictures, which all desks share. Where there may be no network a page names the
// list of them, so that they are kept with it: a sealed page, too, since what is in the list is on the buyer's page. A
// buyer fetches a picture when he looks at it, and has no list.
func (s site) addPictures(parts *pageParts, p *pack.Pack) error {
	var list []string
	for name, text := range p.Photos {
		path := "assets/" + name // as core/screen has it
		s[path] = text
		list = append(list, path)
	}
	if len(list) == 0 || parts.Desk == pack.Buyer {
		return nil
	}
	slices.Sort(list)
	text, err := json.Marshal(list)
	if err != nil {
		return err
	}
	parts.Pictures = s.add("pictures.json", text)
	return nil
}
