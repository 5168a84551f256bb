package main

import (
	"bytes"
	"cmp"
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"os"
	"regexp"
	"slices"
	"strings"

	"ribband/core/pack"
	"ribband/core/screen"
	"ribband/core/seal"
)

// A sealed desk lies on the open web as a page with nothing in it but a form, and a file that is opened with the pass
// phrase. The file has the whole pack of the desk, and the first screen that goes into the page: of one edition, since
// they come out together or not at all. The page does the same in web/page/seal.ts.

// sealedContent is what is in the file, as JSON.
type sealedContent struct {
	Pages map[string]string `json:"pages"` // what stands in the body, by language
	Pack  string            `json:"pack"`
}

// lockMinutes are those after which a desk is locked where the book says nothing: long enough for a talk with a
// customer, too short for a lunch.
const lockMinutes = 15

// addSealed adds a desk that nobody can read without its phrase.
func (s site) addSealed(parts pageParts, p *pack.Pack, phrase string) error {
	p = spoken(p)
	text, err := p.Encode()
	if err != nil {
		return err
	}
	// the screen goes in as well, in each language: rendered before it is sealed, it is there as soon as the phrase is
	// right, as the buyer's is there before the engine
	screens := map[string]string{}
	for _, tag := range languagesOf(p) {
		view, err := viewIn(p, tag)
		if err != nil {
			return err
		}
		screens[tag] = view.Page()
	}
	content, err := json.Marshal(sealedContent{screens, string(text)})
	if err != nil {
		return err
	}
	// what the program says is no secret, what the book says is: its words stay in the pack
	if err := s.addWords(&parts, p, nil); err != nil {
		return err
	}
	// what is said on the page and what its script goes by come from one number
	minutes := cmp.Or(p.LockMinutes, lockMinutes)
	parts.Book, parts.Idle = p.Edition.Digest, 60*minutes
	if parts.Sealed, err = s.seal(parts.Desk, phrase, p.Edition.Digest, content); err != nil {
		return err
	}
	return s.addPages(parts, p, func(view *screen.View, own *pageParts) (string, error) {
		return screen.Locked(view.Engine.Language(), p.Yard.Name, own.Desk, minutes), nil
	})
}

// seal closes a content and adds it as a file. Salt and key are new each time, and so is its name: a cache on the way
// never gives an old seal for a new one.
func (s site) seal(desk pack.Desk, phrase, edition string, content []byte) (path string, err error) {
	text, err := seal.Seal(rand.Reader, phrase, edition, string(desk), content)
	if err != nil {
		return "", err
	}
	return s.add(string(desk)+".jwe", []byte(text)), nil
}

// changePhrase seals a desk anew without the book: whoever changes a phrase in a hurry must not publish other prices by
// the way.
func changePhrase(ctx context.Context, c *console, args []string) error {
	f := newBookless(c, "seal", "seal -dir SITE [-desk show|yard|dealer] [-dealer ID] [-old-phrase FILE] "+
		"[-phrase FILE]")
	dir := f.String("dir", "", "folder of the published site")
	who := f.who(f.String("desk", "", "show, yard or dealer: the desk whose phrase is changed"))
	oldFile := f.String("old-phrase", "", "file with the phrase of before, which you alone can read; without it you "+
		"are asked")
	newFile := f.String("phrase", "", "file with the new phrase, likewise")
	f.about = "Changes the pass phrase of a desk of a published site: the file is opened with the old phrase, and " +
		"sealed " +
		"with the new one. Then upload the site again. Who has copied the old file can still open it with the old " +
		"phrase: if that became known, what is in it is known, until the next edition has other prices."
	if err := f.parse(args); err != nil {
		return err
	}
	// both have to be named: a phrase that was changed by a slip locks a salesperson out at a show
	if *dir == "" || !slices.Contains([]pack.Desk{pack.Show, pack.Yard, pack.Dealer}, pack.Desk(*who.desk)) {
		return f.wrong("of which site and desk? Give -dir SITE and -desk show, -desk yard or -desk dealer")
	}
	s, err := readSite(*dir)
	if err != nil {
		return fmt.Errorf("changing the phrase of %s: %w", *dir, err)
	}
	desk, err := who.of(s.desks())
	if err != nil {
		return err
	}
	before, err := phraseFor(c, "the "+string(desk)+" desk as it is now", *oldFile, false)
	if err != nil {
		return err
	}
	after, err := phraseFor(c, "the "+string(desk)+" desk from now on", *newFile, true)
	if err != nil {
		return err
	}
	gone, err := s.reseal(desk, before, after)
	if err != nil {
		return fmt.Errorf("changing the phrase of %s: %w", *dir, err)
	}
	// As a publication of its own: the new file, the page that names it and the service worker come in one step, and
	// the file with the old phrase goes.
	if _, err := s.publish(ctx, *dir); err != nil {
		return err
	}
	fmt.Fprintf(c.out, "%s in %s opens with the new phrase. Upload the folder again, and take %s off the host.\n",
		mainPage(desk), *dir, gone)
	return nil
}

// What is changed is the site as a folder on the owner's machine; putting it on the host is left to whatever the yard
// does that with.

// readSite reads what publish wrote into a folder; what others put there is none of the site's.
func readSite(dir string) (site, error) {
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, err
	}
	defer root.Close()
	files, err := readList(root, ".")
	if err == nil && len(files) == 0 {
		err = fmt.Errorf("it is no published site: it has no %s", listName)
	}
	s := site{}
	for file := range files {
		if err == nil {
			s[file], err = root.ReadFile(file)
		}
	}
	return s, err
}

// desks are those of which the site has a page.
func (s site) desks() (list []pack.Desk) {
	for _, file := range s.pages() {
		if d := pack.Desk(deskOfPage(file)); !slices.Contains(list, d) {
			list = append(list, d)
		}
	}
	return list
}

// sealedFile is where the page of a sealed desk names its file.
var sealedFile = regexp.MustCompile(` data-sealed="([^"]+)"`)

// reseal puts another phrase on a desk, and gives the path of the file that is no longer used. Everything that names
// the file follows, the list of the service worker too, so that what is kept on devices is exchanged.
func (s site) reseal(desk pack.Desk, before, after string) (gone string, err error) {
	named := sealedFile.FindSubmatch(s[mainPage(desk)])
	if named == nil {
		return "", fmt.Errorf("%s is not there, or not sealed", mainPage(desk))
	}
	gone = string(named[1])
	head, err := seal.HeaderOf(string(s[gone]))
	if err != nil {
		return "", fmt.Errorf("%s: %w", gone, err)
	}
	// its own edition: this does not look whether page and file belong together, which the page does
	content, err := seal.Open(string(s[gone]), before, head.Edition)
	if err != nil {
		return "", fmt.Errorf("%s: %w", gone, err)
	}
	path, err := s.seal(desk, after, head.Edition, content)
	if err != nil {
		return "", err
	}
	delete(s, gone)
	for _, page := range s.pages() {
		s[page] = bytes.ReplaceAll(s[page], []byte(gone), []byte(path))
	}
	_, script, _ := strings.Cut(string(s["sw.js"]), "\n") // its first line is the list of what is there
	delete(s, "sw.js")
	if err := addServiceWorker(s, []byte(script)); err != nil {
		return "", err
	}
	return gone, s.list()
}
