package laminate

// Word is a kind or a method as a schedule is written.
type Word[T any] struct {
	Word  string
	Value T
}

// Cloths are the words for reinforcements.
var Cloths = []Word[Kind]{{"csm", Mat}, {"roving", Roving}, {"multiaxial", Multidirectional},
	{"unidirectional", Unidirectional}}

// Processes are the words for methods.
var Processes = []Word[Method]{{"hand", HandSimple}, {"hand-complex", HandComplex}, {"vacuum", Vacuum}}

// Parts are the words for the areas of a boat. Bottom and keel lie upon the shell.
var Parts = []string{"shell", "bottom", "keel", "deck", "stiffening"}

// Value finds what a word stands for.
func Value[T any](list []Word[T], word string) (v T, ok bool) {
	for _, w := range list {
		if w.Word == word {
			return w.Value, true
		}
	}
	return v, false
}

// Words are those of a list, in its order.
func Words[T any](list []Word[T]) []string {
	var words []string
	for _, w := range list {
		words = append(words, w.Word)
	}
	return words
}
