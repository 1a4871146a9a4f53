# Undercoat: `make run` opens the program, `make test` checks it; `make help` lists the rest.

GO      ?= go
BUILD   := build

MAKEFLAGS += --no-print-directory

# The version stands in FyneApp.toml and nowhere else.
VERSION := $(shell sed -n 's/^Version *= *"\(.*\)"/\1/p' FyneApp.toml)
COMMIT  := $(shell git rev-parse --short=12 HEAD 2>/dev/null)
LDFLAGS := -ldflags "-X undercoat/cmd/internal/build.version=$(VERSION) -X undercoat/cmd/internal/build.commit=$(COMMIT)"

# Who answers for the packages; .invalid is a name that leads nowhere.
MAINTAINER ?= The Undercoat authors <authors@undercoat.invalid>
# Later ones ask for modules that the Go proxy does not hand out.
NFPM := github.com/goreleaser/nfpm/v2/cmd/nfpm@v2.44.2

# Building the window takes a C compiler; building the command line must not.
# Version stamping is off so that a copy owned by another user builds too.
BUILD_WINDOW := CGO_ENABLED=1 $(GO) build -buildvcs=false $(LDFLAGS) -o $(BUILD)/undercoat ./cmd/undercoat
BUILD_CLI    := CGO_ENABLED=0 $(GO) build -buildvcs=false $(LDFLAGS) -o $(BUILD)/undercoat-cli ./cmd/undercoat-cli

# Tests and screenshots run on a display of their own, drawn without a graphics
# card, so that they come out alike everywhere and leave the desktop alone. It is
# as large as the window: the tests point at places in the window by the screen's.
ifeq ($(shell uname -s),Linux)
ON_VIRTUAL_DISPLAY := LIBGL_ALWAYS_SOFTWARE=1 LANG=en_US.UTF-8 xvfb-run -a -s "-screen 0 1280x800x24"
ifeq ($(strip $(DISPLAY)),)
NO_DISPLAY := yes
endif
endif

.PHONY: help run test test-kill test-batch test-fit soak fuzz lint bench bench-peers bench-start demo screenshots guide build package check-package check-install clean deps-cli deps-run deps-test deps-package

help:
	@echo "make run          install what is missing, build, and open the window on the demo job"
	@echo "make test         install what is missing and run every test, the window's among them"
	@echo "make test-kill    kill -9 at 200 random moments while saving and preparing"
	@echo "make test-fit     200 simulated photographs of charts, and 200 charts read by hand, fitted"
	@echo "make test-batch   200 orders, killed and resumed, and by four processes at once"
	@echo "make soak         random edits for SOAK_TIME (30m), memory and handles watched"
	@echo "make fuzz         every fuzz target for FUZZ_TIME (5m)"
	@echo "make lint         gofmt, go vet and staticcheck"
	@echo "make bench        benchmarks of every stage at 10 million dots"
	@echo "make bench-peers  this program beside general-purpose imaging libraries, those that are installed"
	@echo "make bench-start  from the start of the window's program to its first painted window, and what it takes at rest"
	@echo "make demo         the demo job from picture to hand-off, into $(BUILD)/demo"
	@echo "make screenshots  every screen, light and dark, into $(BUILD)/screenshots"
	@echo "make guide        the guide's pictures, from new screenshots, into assets/guide/pictures"
	@echo "make package      archives, a .deb and the command line for other systems, into $(BUILD)/package"
	@echo "make check-package  whether those are as Debian and desktops want them"
	@echo "make check-install  installs the .deb in a bare Debian of its own and starts both programs there; as root"
	@echo "make build        both programs, into $(BUILD)"
	@echo "make clean        remove $(BUILD)"

ifdef NO_DISPLAY
run: demo
	@echo "no display here (DISPLAY is not set; under Wayland the window needs Xwayland), so the demo job was prepared without the window: see $(BUILD)/demo"
else
run: deps-run
	$(BUILD_WINDOW)
	$(BUILD)/undercoat
endif

test: deps-test
	@mkdir -p $(BUILD)
	CGO_ENABLED=1 $(ON_VIRTUAL_DISPLAY) $(GO) test -v ./... 2>&1 | awk -v counts=$(BUILD)/test-counts.txt -f .ci/tally.awk

soak: deps-cli
	UNDERCOAT_SOAK=$(or $(SOAK_TIME),30m) $(GO) test -count=1 -timeout 90m -v -run Soak ./ui/session

fuzz: deps-cli
	GO="$(GO)" .ci/fuzz $(or $(FUZZ_TIME),5m)

test-kill:
	UNDERCOAT_TEST_KILLS=200 CGO_ENABLED=0 $(GO) test -count=1 -timeout 60m -v -run Killed ./imaging/job

test-batch:
	UNDERCOAT_TEST_ORDERS=200 CGO_ENABLED=0 $(GO) test -count=1 -timeout 60m -v -run ManyOrders ./cmd/undercoat-cli

test-fit:
	UNDERCOAT_FIT_MANY=200 CGO_ENABLED=0 $(GO) test -count=1 -timeout 60m -v -run 'Study|TestFitFindsWhatIsTrue|TestIntervals' ./imaging/swatch/fit

lint: deps-run
	@unformatted=$$(gofmt -l cmd ui imaging layout assets); \
	if [ -n "$$unformatted" ]; then echo "not formatted, run gofmt -w on:"; echo "$$unformatted"; exit 1; fi
	CGO_ENABLED=1 $(GO) vet ./...
	CGO_ENABLED=1 $(GO) tool staticcheck ./...

bench: deps-run
	CGO_ENABLED=1 $(GO) test -run '^$$' -bench . -benchmem ./layout/... ./imaging/... ./ui/...

bench-peers: deps-cli
	$(BUILD_CLI)
	/usr/bin/python3 bench/peers.py $(BUILD)/undercoat-cli

bench-start: deps-test
	$(BUILD_WINDOW)
	UNDERCOAT_PROGRAM=$(CURDIR)/$(BUILD)/undercoat DISPLAY= CGO_ENABLED=1 $(GO) test -count=1 -run '^TestStart$$' -v ./cmd/undercoat

demo: deps-cli
	$(BUILD_CLI)
	@rm -rf $(BUILD)/demo
	$(BUILD)/undercoat-cli demo -o $(BUILD)/demo
	@echo "the demo job is in $(CURDIR)/$(BUILD)/demo:"
	@ls -l $(BUILD)/demo

screenshots: deps-test
	UNDERCOAT_SCREENSHOTS=$(CURDIR)/$(BUILD)/screenshots CGO_ENABLED=1 $(ON_VIRTUAL_DISPLAY) $(GO) test -count=1 -run Screenshots ./cmd/undercoat
	@ls -l $(BUILD)/screenshots

# The guide shows some of the screens, in the light theme.
guide: screenshots
	@rm -f assets/guide/pictures/*.png
	@for picture in $$(grep -oh 'pictures/[a-z-]*\.png' assets/guide/*.md | sort -u); do \
		cp $(BUILD)/screenshots/$${picture#pictures/} assets/guide/pictures/ || exit 1; \
	done
	@ls -l assets/guide/pictures

build: deps-run
	$(BUILD_WINDOW)
	$(BUILD_CLI)

package: deps-package
	@VERSION="$(VERSION)" COMMIT="$(COMMIT)" MAINTAINER="$(MAINTAINER)" GO="$(GO)" NFPM="$(NFPM)" packaging/package.sh
	@ls -l $(BUILD)/package

check-package: deps-package
	@VERSION="$(VERSION)" packaging/check.sh

check-install: deps-package
	@VERSION="$(VERSION)" packaging/install.sh

clean:
	rm -rf $(BUILD)

deps-cli:
	@.ci/needs command-line

deps-run:
	@.ci/needs window

deps-test:
	@.ci/needs tests

deps-package:
	@.ci/needs package
