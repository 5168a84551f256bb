package msg

import (
	"slices"
	"strings"
)

// Names are the arguments that a text asks for, sorted, each once.
func Names(text string) []string {
	nodes, err := parse(text)
	if err != nil {
		return []string{err.Error()}
	}
	list := []string{}
	var walk func([]node)
	walk = func(nodes []node) {
		for _, n := range nodes {
			if n.name != "" {
				list = append(list, n.name)
			}
			for _, a := range n.arms {
				walk(a.text)
			}
		}
	}
	walk(nodes)
	slices.Sort(list)
	return slices.Compact(list)
}

// Choices are the arguments that a text tells apart by key, each with its keys, sorted. Those of plurals are not among
// them: how many a language tells apart is its own affair.
func Choices(text string) []string {
	nodes, err := parse(text)
	if err != nil {
		return []string{err.Error()}
	}
	list := []string{}
	var walk func([]node)
	walk = func(nodes []node) {
		for _, n := range nodes {
			var keys []string
			for _, a := range n.arms {
				keys = append(keys, a.key)
				walk(a.text)
			}
			if keys != nil && !n.plural {
				slices.Sort(keys)
				list = append(list, n.name+": "+strings.Join(keys, " "))
			}
		}
	}
	walk(nodes)
	slices.Sort(list)
	return list
}
