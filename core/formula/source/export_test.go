package source

import "ribband/core/formula"

// Pair compiles a text that must be well formed to both forms, for tests outside of the package.
func Pair(t failer, text string, scope *Scope, kind formula.Kind) interface {
	Agree(t failer, st *formula.State, env Environment)
} {
	return exported{compiled(t, text, scope, kind)}
}

type exported struct{ pair }

func (e exported) Agree(t failer, st *formula.State, env Environment) { e.agreeIn(t, spelled{st, env}) }
