module ribband

go 1.26

require (
	github.com/expr-lang/expr v1.17.8
	github.com/goccy/go-yaml v1.19.2
	github.com/shopspring/decimal v1.6.0
)
