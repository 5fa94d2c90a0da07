# evenbass. Plain `make` lists the targets.

ECHARTS      := echarts@6.1.0
ECHARTS_TGZ  := 681aff88cc1038c3fa941a3a53d1b177a52250b05335efc607d6105ae13be481
ECHARTS_JS   := b66b25aeb4df84e33199dc21694014d336d222cbd9deb0e5a7c14bd6aa0d0fd0

AXE     := axe-core@4.14.1
AXE_TGZ := e6b0ce02b84d892e2e33e403485e7f3d6c29e2be6df65daf44d89ba564139745
AXE_JS  := 29348999450cdf2849a8e70b7912fc2da85a849da39c0d0d5394f51d4a9ed95c

CACHE  := .cache
ASSETS := report/html/assets
STAMP  := $(ASSETS)/echarts.min.js
BARRIERS := $(CACHE)/axe.min.js
DEMO   := testdata/room/spare-room.yaml
LONGTEST := EVENBASS_LONG=1

# The wave solver's kernel for processors with vectors. What a machine lacks is told
# when the program runs; `make GOEXPERIMENT= build` leaves the kernel out.
export GOEXPERIMENT ?= simd

CHROMIUM := chromium --headless --no-sandbox --disable-gpu --disable-quic --no-first-run --hide-scrollbars \
	--disable-background-networking --disable-component-update --disable-sync --virtual-time-budget=4000

.PHONY: help demo test check bench baseline build assets axe picture clean format vet staticcheck arrows browser reference longtest platforms release licences

help: ## list the targets
	@echo "evenbass: plans the low end of a small room. Targets:"
	@grep -E '^[a-z]+:.*## ' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 14 | sed 's/^/  /'

demo: build ## plan the demo room, step by step, and write its page to out/spare-room.html
	@mkdir -p out
	@start=$$(date +%s.%N); \
	bin/evenbass plan -o out/spare-room.html --json out/spare-room.json $(DEMO) && \
	end=$$(date +%s.%N); \
	echo; echo "page:  out/spare-room.html (open it in a browser; it needs no network)"; \
	awk -v a=$$start -v b=$$end 'BEGIN { printf "took:  %.1f s\n", b - a }'

test: assets axe browser reference ## set up, then run every test, those in a browser included
	go test -timeout 25m ./...
	GOEXPERIMENT= go test ./model/wave/...

longtest: assets ## the tests that take minutes: exhaustive search, twenty seeds
	$(LONGTEST) go test -timeout 60m -run 'AgainstExhaustive|BeatsRandom|WaveSearch|LocalOptima|AgainstRuns' -v ./optimize/...

check: format vet staticcheck arrows ## formatting, vet, staticcheck, import rules

format:
	@bad=$$(gofmt -l cmd model optimize report); if [ -n "$$bad" ]; then echo "gofmt wants these changed:"; echo "$$bad"; exit 1; fi

vet:
	go vet ./...
	GOEXPERIMENT= go vet ./model/wave/... ./optimize

staticcheck:
	go tool staticcheck ./...

arrows:
	go test -run TestImportArrows ./cmd/evenbass

BENCHED = ./model/wave/... ./model/mode ./optimize ./optimize/table
BASELINE = out/baseline.txt
bench: ## time what decides how long commands take (COUNT=6 of each), with ratios against the baseline of this machine
	@mkdir -p out
	go test -run '^$$' -bench . -skip '^BenchmarkPlace$$' -benchtime 0.1s -count $(or $(COUNT),6) $(BENCHED) > out/bench.txt || { cat out/bench.txt; exit 1; }
	@if [ -f $(BASELINE) ]; then go tool benchstat $(BASELINE) out/bench.txt; else go tool benchstat out/bench.txt; echo "no $(BASELINE) yet: make baseline keeps this run as one"; fi

baseline: ## keep the last run of the benchmarks as the baseline of this machine, before a change
	cp out/bench.txt $(BASELINE)

build: assets ## build bin/evenbass
	go build -o bin/evenbass ./cmd/evenbass

assets: $(STAMP) ## fetch the chart library (pinned, checked) into report/html/assets

$(STAMP):
	@command -v npm >/dev/null || { echo "make assets: npm is needed to fetch the chart library ($(ECHARTS))" >&2; exit 1; }
	@mkdir -p $(CACHE)
	cd $(CACHE) && npm pack --silent $(ECHARTS) >/dev/null
	@cd $(CACHE) && echo "$(ECHARTS_TGZ)  echarts-6.1.0.tgz" | sha256sum --check --quiet
	@cd $(CACHE) && tar -xzf echarts-6.1.0.tgz package/dist/echarts.min.js package/LICENSE package/NOTICE
	@echo "$(ECHARTS_JS)  $(CACHE)/package/dist/echarts.min.js" | sha256sum --check --quiet
	@cp $(CACHE)/package/LICENSE $(ASSETS)/ECHARTS-LICENSE
	@cp $(CACHE)/package/NOTICE $(ASSETS)/ECHARTS-NOTICE
	@cp $(CACHE)/package/dist/echarts.min.js $@

axe: $(BARRIERS) ## fetch axe-core (pinned, checked) for the browser tests; no page contains it

$(BARRIERS):
	@command -v npm >/dev/null || { echo "make axe: npm is needed to fetch $(AXE)" >&2; exit 1; }
	@mkdir -p $(CACHE)
	cd $(CACHE) && npm pack --silent $(AXE) >/dev/null
	@cd $(CACHE) && echo "$(AXE_TGZ)  axe-core-4.14.1.tgz" | sha256sum --check --quiet
	@cd $(CACHE) && tar -xzf axe-core-4.14.1.tgz package/axe.min.js package/LICENSE
	@echo "$(AXE_JS)  $(CACHE)/package/axe.min.js" | sha256sum --check --quiet
	@mv $(CACHE)/package/axe.min.js $@

browser:
	@if command -v chromium >/dev/null || command -v chromium-browser >/dev/null || command -v google-chrome >/dev/null; then :; \
	elif [ -n "$$CI" ]; then echo "make test: no Chromium found, and the page tests need one" >&2; exit 1; \
	else echo "make test: no Chromium found: the page tests will be skipped (install the package chromium to run them)" >&2; fi

# Tests that need the open data beside the repository bear its name; package model/reference
# sees to that, and fails them where ../shared is there without the data.
reference:
	@if [ ! -d ../shared ] && [ -z "$$EVENBASS_REFERENCE" ]; then \
	echo "make test: no open data in ../shared/reference; left out:" $$(grep -rhoE '^func TestReference\w+' --include='*_test.go' cmd model optimize report | sed 's/^func //' | sort); fi

# Where the program runs. Processors other than amd64 get the portable kernel.
PLATFORMS := linux/amd64 linux/arm64 darwin/amd64 darwin/arm64 windows/amd64 windows/arm64
RELEASE   := out/release

platforms: assets ## compile for every platform, without keeping the programs
	@for p in $(PLATFORMS); do \
	echo "  $$p"; CGO_ENABLED=0 GOOS=$${p%/*} GOARCH=$${p#*/} go build -o /dev/null ./cmd/evenbass || exit 1; done

release: assets ## build every platform's program into out/release, with sums, modules and licences
	@rm -rf $(RELEASE) && mkdir -p $(RELEASE)
	@for p in $(PLATFORMS); do \
	name=evenbass-$${p%/*}-$${p#*/}; if [ $${p%/*} = windows ]; then name=$$name.exe; fi; echo "  $$name"; \
	CGO_ENABLED=0 GOOS=$${p%/*} GOARCH=$${p#*/} go build -trimpath -buildvcs=true -ldflags '-s -w' -o $(RELEASE)/$$name ./cmd/evenbass || exit 1; done
	@cd $(RELEASE) && go version -m evenbass-* >modules.txt
	@$(MAKE) --no-print-directory licences >$(RELEASE)/licences.txt
	@cd $(RELEASE) && sha256sum evenbass-* modules.txt licences.txt >sha256.txt && cat sha256.txt

# A licence is told by a sentence that only it has. A module without one that is known fails.
licences: assets ## list the modules in the program, and the licence of each
	@go list -deps -f '{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}' ./cmd/evenbass | sort -u | while read -r module version folder; do \
	text=$$(cat "$$folder"/LICEN[CS]E* "$$folder"/COPYING* 2>/dev/null | tr -s ' \n\t' ' '); \
	case "$$text" in \
	*"Apache License"*) licence=Apache-2.0 ;; \
	*"Mozilla Public License"*) licence=MPL-2.0 ;; \
	*"GNU "*) licence=GPL ;; \
	*"Redistribution and use"*"either the name"*) licence=BSD-3-Clause ;; \
	*"Redistribution and use"*) licence=BSD-2-Clause ;; \
	*"Permission is hereby granted, free of charge"*) licence=MIT ;; \
	*) echo "make licences: no known licence in $$module $$version" >&2; exit 1 ;; esac; \
	printf '%-14s %s %s\n' $$licence $$module $$version; done
	@printf '%-14s %s (in pages with charts)\n' Apache-2.0 $(ECHARTS)

picture: build ## take the README's picture of the demo room's page of places anew (needs Chromium)
	@mkdir -p out
	bin/evenbass place -o out/places.html $(DEMO) >/dev/null
	$(CHROMIUM) --user-data-dir=$$(mktemp -d) --window-size=1120,1000 --screenshot=testdata/picture/spare-room.png \
		file://$(CURDIR)/out/places.html

clean: ## remove what make made
	rm -rf bin out $(CACHE)
	find $(ASSETS) -type f ! -name README -delete
