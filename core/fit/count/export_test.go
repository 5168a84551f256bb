package count

// Effort counts a formula and says what that took: decisions, and bytes that stand in the cache at the end.
func Effort(f Formula, limits Limits) (decisions, cached int, err error) {
	c, err := newCounter(f, limits)
	if err != nil {
		return 0, 0, err
	}
	_, err = c.formula()
	for key, n := range c.cache {
		cached += bytes(key, n)
	}
	return c.decisions, cached, err
}

// Order ranks the variables, counted from 0, as the search does; the highest goes first.
func Order(f Formula) ([]int32, error) {
	c, err := newCounter(f, Limits{})
	if err != nil {
		return nil, err
	}
	return c.order(), nil
}
