package hull

// crossing finds two lines of the section that meet where they should not: the lines from point p and to point q. It
// gives -1, -1 where there are none. Lines that follow each other share a point and cross only where the second runs
// back.
func (s Station) crossing() (p, q int) {
	for b := 1; b < len(s.Z)-1; b++ {
		for a := range b {
			if s.meet(a, b) {
				return a, b + 1
			}
		}
	}
	return -1, -1
}

// meet says whether the lines from points a and b, a before b, have a point in common beyond the one they share in
// sequence.
func (s Station) meet(a, b int) bool {
	a1, a2, b1, b2 := s.at(a), s.at(a+1), s.at(b), s.at(b+1)
	if a1 == a2 || b1 == b2 { // a point given twice has no line
		return false
	}
	if a2 == b1 {
		return turn(a1, a2, b2) == 0 && float64((a1.y-a2.y)*(b2.y-a2.y))+float64((a1.z-a2.z)*(b2.z-a2.z)) > 0
	}
	if apart(a1.z, a2.z, b1.z, b2.z) || apart(a1.y, a2.y, b1.y, b2.y) {
		return false
	}
	t1, t2, t3, t4 := turn(a1, a2, b1), turn(a1, a2, b2), turn(b1, b2, a1), turn(b1, b2, a2)
	if t1*t2 < 0 && t3*t4 < 0 {
		return true
	}
	return t1 == 0 && within(a1, a2, b1) || t2 == 0 && within(a1, a2, b2) || t3 == 0 && within(b1, b2, a1) || t4 == 0 &&
		within(b1, b2, a2)
}

func (s Station) at(p int) point { return point{s.Y[p], s.Z[p]} }

// apart says that the ranges from a to b and from c to d have nothing in common.
func apart(a, b, c, d float64) bool { return max(a, b) < min(c, d) || max(c, d) < min(a, b) }

// turn is above zero where the way a, b, c turns left, below where it turns right.
func turn(a, b, c point) float64 { return float64((b.y-a.y)*(c.z-a.z)) - float64((b.z-a.z)*(c.y-a.y)) }

// within says that c, which lies on the line through a and b, lies between them.
func within(a, b, c point) bool {
	return min(a.y, b.y) <= c.y && c.y <= max(a.y, b.y) && min(a.z, b.z) <= c.z && c.z <= max(a.z, b.z)
}
