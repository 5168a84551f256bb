package sat

// restartUnit is the number of conflicts of the shortest run.
const restartUnit = 100

// restartAfter is the length of a run in conflicts; runs count from 0. A search that has begun badly is better begun
// anew, with the activities and clauses it has gained. Runs follow the sequence 1 1 2 1 1 2 4 1 1 2 1 1 2 4 8 …, which
// is within a constant factor of the best fixed schedule whatever the problem.
//
// Source: Luby, Sinclair and Zuckerman, Information Processing Letters 47 (1993); from memory.
func restartAfter(run int) int { return restartUnit * luby(run+1) }

// luby is the i-th member of the sequence, from 1: 2^(k-1) if i = 2^k - 1, else that of i with the whole shorter
// sequence before it cut off.
func luby(i int) int {
	k := 1
	for 1<<k-1 < i {
		k++
	}
	if i == 1<<k-1 {
		return 1 << (k - 1)
	}
	return luby(i - (1<<(k-1) - 1))
}
