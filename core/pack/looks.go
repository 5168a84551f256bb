package pack

import "strings"

// Looks are what a person reads and sees of a hull or an option where he looks closely.
type Looks struct {
	About    []string  `json:"about,omitempty"` // paragraphs
	Pictures []Picture `json:"pictures,omitempty"`
}

// Picture is one in a few sizes, the largest first. The files lie beside the pack.
type Picture struct {
	Title string        `json:"title"` // what is seen in it
	Files []PictureFile `json:"files"`
}

// PictureFile is a picture of one size, in pixels.
type PictureFile struct {
	Name   string `json:"name"` // of the file, with the digest of what is in it
	Width  int    `json:"width"`
	Height int    `json:"height"`
}

// looks checks that a picture has sizes and is a file beside the page: a damaged pack must not have one asked for
// elsewhere.
func (c *checker) looks(id string, l *Looks) {
	for _, p := range l.Pictures {
		if len(p.Files) == 0 {
			c.fail("a picture of %s has no file", id)
		}
		for _, f := range p.Files {
			if f.Name == "" || strings.ContainsAny(f.Name, "/\\:?#, ") || f.Width < 1 || f.Height < 1 ||
				f.Width > 1<<16 || f.Height > 1<<16 {
				c.fail("a picture of %s is no file of this site, or has no size", id)
			}
		}
	}
}
