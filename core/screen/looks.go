package screen

import (
	"fmt"
	"strconv"

	g "maragu.dev/gomponents"
	. "maragu.dev/gomponents/html"

	"ribband/core/msg"
	"ribband/core/pack"
)

// Pictures and longer words stand folded below what they are of: a list is read in lines, and nobody's line should
// carry pictures that he did not ask for. A browser fetches one when it comes into sight, and keeps its place until
// then.

// pictureWidth is the greatest at which a picture is shown, in pixels of CSS; the style sheet says the same.
const pictureWidth = 480

// closer are the pictures and the longer words of something, to be unfolded; nothing where it has none.
func (v *View) closer(id, title string, l *pack.Looks) g.Node {
	if len(l.Pictures)+len(l.About) == 0 {
		return nil
	}
	return Details(Class("closer"), ID("closer-"+id), Summary(v.say("screen.closer", msg.Text("of", title))),
		g.Map(l.Pictures, picture), g.Map(l.About, func(t string) g.Node { return P(g.Text(t)) }),
		v.words(l.About...))
}

// picture is one in the size that the screen needs.
func picture(p pack.Picture) g.Node {
	sizes := ""
	for i, f := range p.Files {
		if i > 0 {
			sizes += ", "
		}
		sizes += fmt.Sprintf("%s %dw", address(f), f.Width)
	}
	// who names no other size is served by the first
	first := p.Files[0]
	return Img(Src(address(first)), g.If(len(p.Files) > 1, g.Group{g.Attr("srcset", sizes),
		g.Attr("sizes", fmt.Sprintf("min(85vw,%dpx)", pictureWidth))}),
		Width(strconv.Itoa(first.Width)), Height(strconv.Itoa(first.Height)), Loading("lazy"), Alt(p.Title))
}

// address is where a site has a picture.
func address(f pack.PictureFile) string { return "assets/" + f.Name }
