package book

import (
	"strings"

	"ribband/core/photo"
)

// Picture is a photograph or a drawing in a file beside the book, which a buyer sees where he looks closely.
type Picture struct {
	// The file, JPEG or PNG, by its path from the folder of the book: photos/teak.jpg.
	File Text `yaml:"file,required"`
	// What is seen in it, for who does not see it.
	Title Text `yaml:"title,required"`

	shown []photo.File // what was made of the file; nothing where that failed
}

// Shown is what the page has of a picture, the largest first.
func (p *Picture) Shown() []photo.File { return p.shown }

// Show takes what was made of the file.
func (p *Picture) Show(files []photo.File) { p.shown = files }

// Pictures are all of a book: of the hulls, then of the options, in the order of the book.
func (b *Book) Pictures() (list []*Picture) {
	add := func(of []Picture) {
		for i := range of {
			list = append(list, &of[i])
		}
	}
	for i := range b.Hulls {
		add(b.Hulls[i].Pictures)
	}
	for i := range b.Slots {
		for j := range b.Slots[i].Options {
			add(b.Slots[i].Options[j].Pictures)
		}
	}
	return list
}

// mostPictures and mostParagraphs bound what stands below one name: it is read by a person amid a choice.
const (
	mostPictures   = 8
	mostParagraphs = 12
)

// looks checks the pictures and the longer words of hulls and options. Whether a file is a picture is found where it is
// read.
func (v *validation) looks() {
	of := func(what string, id Text, pictures []Picture, about []Text) {
		if len(pictures) > mostPictures {
			v.error(pictures[mostPictures].File.At, "keep the best", "%s %s has %d pictures; at most %d", what, id,
				len(pictures), mostPictures)
		}
		if len(about) > mostParagraphs {
			v.error(about[mostParagraphs].At, "keep what decides the choice", "%s %s has %d paragraphs; at most %d",
				what, id, len(about), mostParagraphs)
		}
		for _, p := range pictures {
			if strings.TrimSpace(p.Title.Value) == "" && p.Title.At != (Position{}) {
				v.error(p.Title.At, "say what is seen in it: who does not see it hears that",
					"a picture of %s %s has an empty title", what, id)
			}
		}
		for _, t := range about {
			if strings.TrimSpace(t.Value) == "" && t.At != (Position{}) {
				v.error(t.At, "write a paragraph, or leave it out", "a paragraph about %s %s is empty", what, id)
			}
		}
	}
	for _, h := range v.book.Hulls {
		of("the hull", h.ID, h.Pictures, h.About)
	}
	for _, s := range v.book.Slots {
		for _, o := range s.Options {
			of("the option", o.ID, o.Pictures, o.About)
		}
	}
}
