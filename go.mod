module ribband

go 1.26

require (
	github.com/evanw/esbuild v0.28.2
	github.com/expr-lang/expr v1.17.8
	github.com/goccy/go-yaml v1.19.2
	github.com/hack-pad/safejs v0.1.0
	github.com/shopspring/decimal v1.6.0
	maragu.dev/gomponents v1.2.0
	pgregory.net/rapid v1.3.0
)

require golang.org/x/sys v0.5.0 // indirect
