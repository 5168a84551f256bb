package msg

import "slices"

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
