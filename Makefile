# Heatwright: make run works the demo piece, make test proves the program.
SHELL := /bin/bash
GO ?= go
export CGO_ENABLED := 0
GOLANGCI_VERSION := v2.15.0
SCIENCE := ./unit/... ./cite/... ./steel/... ./shape/... ./medium/... ./shop/... ./route/... ./calphad/... ./conduction/... ./micro/... ./skin/... ./forging/... ./color/... ./observe/... ./sim/... ./study/... ./safety/... ./plan/...

.PHONY: run build test long bench lint cross generate reference

run: build
	./bin/heatwright run examples/knife.toml

build:
	$(GO) build -trimpath -o bin/heatwright ./cmd/heatwright

test:
	./scripts/needs
	$(GO) vet ./...
	$(GO) test ./...

long:
	HEATWRIGHT_LONG=1 $(GO) test -timeout 60m ./...

bench:
	$(GO) test -run '^$$' -bench . -benchmem ./...

lint:
	@test -z "$$(gofmt -l . | grep -v '^reference/')" || { gofmt -l .; echo 'gofmt these files'; exit 1; }
	@command -v golangci-lint >/dev/null || test -x "$$($(GO) env GOPATH)/bin/golangci-lint" || $(GO) install github.com/golangci/golangci-lint/v2/cmd/golangci-lint@$(GOLANGCI_VERSION)
	@PATH="$$PATH:$$($(GO) env GOPATH)/bin" golangci-lint run ./...

# The science builds for the browser, the program for every desk we promise.
cross:
	GOOS=js GOARCH=wasm $(GO) build $(SCIENCE)
	GOOS=linux GOARCH=arm64 $(GO) build -o /dev/null ./cmd/heatwright
	GOOS=windows GOARCH=amd64 $(GO) build -o /dev/null ./cmd/heatwright
	GOOS=darwin GOARCH=arm64 $(GO) build -o /dev/null ./cmd/heatwright

# Everything that a command writes and the repository keeps.
generate: build
	./scripts/generate

# Comparison with general-purpose libraries, in a Python environment of its own.
reference:
	./reference/run
