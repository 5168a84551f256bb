package publish

import (
	"crypto/sha256"
	"fmt"

	"ribband/core/book"
	"ribband/core/pack"
)

// looks are the longer words and the pictures of a hull or an option. A file is named by what is in it and by nothing
// else: the name that the yard gave it may say who sent it.
func (c *compiler) looks(about []book.Text, pictures []book.Picture) pack.Looks {
	l := pack.Looks{About: texts(about)}
	for i := range pictures {
		shown := pictures[i].Shown()
		// a file that could not be read was told by its reader
		if len(shown) == 0 {
			continue
		}
		// all languages share the files, and each has its own words beside them
		p := pack.Picture{Title: pictures[i].Title.Value}
		for _, f := range shown {
			// twelve digits, as the other files of a site
			name := fmt.Sprintf("picture-%.6x.jpg", sha256.Sum256(f.Bytes))
			p.Files = append(p.Files, pack.PictureFile{Name: name, Width: f.Width, Height: f.Height})
			if c.pack.Photos == nil {
				c.pack.Photos = map[string][]byte{}
			}
			// beside the pack: whoever answers a page has no use for them
			c.pack.Photos[name] = f.Bytes
		}
		l.Pictures = append(l.Pictures, p)
	}
	return l
}
