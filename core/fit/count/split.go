package count

import "encoding/binary"

// component is a part of the formula that shares nothing with the rest of what is open: its open variables and the
// clauses that still wait for one of them, both in rising order.
type component struct {
	variables, clauses []int32
}

// splitter is the scratch of split. Its marks are by variable, clause and group.
type splitter struct {
	part       []int32 // the part a variable is in, counted from 1; 0 between splits
	clauseSeen []int32 // the split that saw it last
	groupSeen  []int32
	thisSplit  int32
	queue      []int32
}

// split sorts what is open of a component into parts. A variable that hangs together with no other is free: nothing
// speaks of it any more, since after unit propagation a clause without a true literal has two open ones.
func (c *counter) split(of component) (parts []component, free []int32) {
	const alone = -1
	c.thisSplit++
	for _, v := range of.variables {
		if !c.isOpen(v) || c.part[v] != 0 {
			continue
		}
		if size := c.flood(v, int32(len(parts)+1)); size > 1 {
			parts = append(parts, component{variables: make([]int32, 0, size)})
		} else {
			c.part[v] = alone
			free = append(free, v)
		}
	}
	for _, k := range of.clauses {
		if c.trueIn[k] > 0 {
			continue
		}
		for _, l := range c.clauses[k] {
			if c.value[l] == 0 {
				p := &parts[c.part[l.variable()]-1]
				p.clauses = append(p.clauses, k)
				break
			}
		}
	}
	for _, v := range of.variables {
		if p := c.part[v]; p > 0 {
			parts[p-1].variables = append(parts[p-1].variables, v)
		}
		c.part[v] = 0
	}
	return parts, free
}

// flood marks what hangs together with a variable, and says how many variables that are.
func (c *counter) flood(from, part int32) int {
	c.part[from] = part
	c.queue = append(c.queue[:0], from)
	for next := 0; next < len(c.queue); next++ {
		positive := literal(2 * c.queue[next])
		for _, l := range [...]literal{positive, positive.not()} {
			for _, k := range c.clausesOf[l] {
				if c.trueIn[k] == 0 && c.clauseSeen[k] != c.thisSplit {
					c.clauseSeen[k] = c.thisSplit
					c.reach(c.clauses[k], part)
				}
			}
			for _, g := range c.groupsOf[l] {
				if c.groupSeen[g] != c.thisSplit {
					c.groupSeen[g] = c.thisSplit
					c.reach(c.groups[g], part)
				}
			}
		}
	}
	return len(c.queue)
}

// reach takes the open variables of a clause or group into a part.
func (c *counter) reach(literals []literal, part int32) {
	for _, l := range literals {
		if v := l.variable(); c.value[l] == 0 && c.part[v] == 0 {
			c.part[v] = part
			c.queue = append(c.queue, v)
		}
	}
}

// key names the formula that a component stands for: its variables, and those of its clauses that have lost literals.
// The rest follows from the variables. A clause all of whose variables are here is open as it was written. A group
// holds for those of its literals that are open, since a true one would have closed the others. And what is left of a
// shortened clause is its literals here, since all that are open are.
//
// The numbers are written as differences from the one before, as varints, with a 0 between the two lists. Keys are
// compared whole; a key by hash would be shorter, and a collision would give a wrong number that nobody notices.
func (c *counter) key(of component) string {
	b := make([]byte, 0, 2*len(of.variables))
	last := int32(-1)
	for _, v := range of.variables {
		b = binary.AppendUvarint(b, uint64(v-last))
		last = v
	}
	b = append(b, 0)
	last = -1
	for _, k := range of.clauses {
		if c.falseIn[k] > 0 {
			b = binary.AppendUvarint(b, uint64(k-last))
			last = k
		}
	}
	return string(b)
}
