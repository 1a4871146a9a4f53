#!/usr/bin/env bash
# Builds what is handed out, into build/package:
#
#     undercoat-VERSION-linux-ARCH.tar.gz   both programs, to unpack anywhere
#     undercoat_VERSION_ARCH.deb            the same, installed
#     undercoat-cli-VERSION-SYSTEM-ARCH.*   the command line for Windows and macOS
#     SHA256SUMS
#
# VERSION, COMMIT, MAINTAINER and GO come from the Makefile. The same sources on the
# same computer give the same files.
set -eu
cd "$(dirname "$0")/.."

: "${VERSION:?run this as: make package}" "${MAINTAINER:?run this as: make package}"
: "${NFPM:?run this as: make package}" "${COMMIT:=}" "${GO:=go}"
export MAINTAINER VERSION
out=build/package
root=$out/root
# The day of the sources; of today where git does not know it.
SOURCE_DATE_EPOCH=${SOURCE_DATE_EPOCH:-$(git log -1 --format=%ct 2>/dev/null || date +%s)}
export SOURCE_DATE_EPOCH
day=$(date -u -d "@$SOURCE_DATE_EPOCH" +%Y-%m-%d)
rfc_day=$(LC_ALL=C date -u -d "@$SOURCE_DATE_EPOCH" '+%a, %d %b %Y %H:%M:%S +0000')
ARCH=$($GO env GOARCH)
export ARCH

build() { # output package, and flags of the linker if any
	# Version stamping is off so that a copy owned by another user builds too.
	$GO build -buildvcs=false -trimpath ${MODE:-} -ldflags "-s -w -X undercoat/cmd/internal/build.version=$VERSION -X undercoat/cmd/internal/build.commit=$COMMIT ${3:-}" -o "$1" "$2"
}

# fill copies a file of packaging/linux with its blanks filled in.
fill() { # name destination
	mkdir -p "$(dirname "$2")"
	sed -e "s/@VERSION@/$VERSION/g" -e "s/@DATE@/$day/g" -e "s/@RFCDATE@/$rfc_day/g" -e "s/@MAINTAINER@/$MAINTAINER/g" "packaging/linux/$1" >"$2"
}

# third_party lists the modules that are compiled in, each with its licences.
third_party() {
	echo "Undercoat is built with the Go programming language and these modules."
	printf '\n%s\n\n' "==== Go $($GO env GOVERSION)"
	cat "$($GO env GOROOT)/LICENSE"
	$GO list -deps -f '{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}} {{.Dir}}{{end}}{{end}}' ./cmd/undercoat ./cmd/undercoat-cli |
		LC_ALL=C sort -u | while read -r module version dir; do
		found=$(find "$dir" -maxdepth 1 -type f \( -iname 'licen[sc]e*' -o -iname 'copying*' -o -iname 'notice*' \) | LC_ALL=C sort)
		[ -n "$found" ] || {
			echo "no licence is found in $module $version: look for it before you hand anything out" >&2
			exit 1
		}
		printf '\n%s\n\n' "==== $module $version"
		echo "$found" | while read -r file; do cat "$file"; echo; done
	done
}

lay_out() {
	share=$root/usr/share
	doc=$share/doc/undercoat
	mkdir -p "$root/usr/bin" "$share/man/man1" "$share/icons" "$doc/guide"
	# What a distribution asks of a program that C is linked into: it can be loaded
	# anywhere, and its table of calls is sealed before it runs.
	CGO_ENABLED=1 MODE=-buildmode=pie build "$root/usr/bin/undercoat" ./cmd/undercoat "-extldflags=-Wl,-z,relro,-z,now"
	CGO_ENABLED=0 build "$root/usr/bin/undercoat-cli" ./cmd/undercoat-cli

	fill org.undercoat.bench.desktop "$share/applications/org.undercoat.bench.desktop"
	fill org.undercoat.bench.metainfo.xml "$share/metainfo/org.undercoat.bench.metainfo.xml"
	fill org.undercoat.bench.xml "$share/mime/packages/org.undercoat.bench.xml"
	$GO run ./assets/make -only desktop -dir "$share/icons"

	fill undercoat.1 "$share/man/man1/undercoat.1"
	"$root/usr/bin/undercoat-cli" man -o "$share/man/man1"
	gzip -9n "$share"/man/man1/*.1
	for shell in bash zsh fish; do
		case $shell in
		bash) to=$share/bash-completion/completions/undercoat-cli ;;
		zsh) to=$share/zsh/vendor-completions/_undercoat-cli ;;
		fish) to=$share/fish/vendor_completions.d/undercoat-cli.fish ;;
		esac
		mkdir -p "$(dirname "$to")"
		"$root/usr/bin/undercoat-cli" completion $shell >"$to"
	done

	cp assets/guide/*.md "$doc/guide/"
	if ls assets/guide/pictures/*.png >/dev/null 2>&1; then
		mkdir "$doc/guide/pictures"
		cp assets/guide/pictures/*.png "$doc/guide/pictures/"
	else
		echo "the guide has no pictures yet: run make guide first, for a package that is handed out" >&2
	fi
	cp README.md "$doc/"
	cp assets/LICENCES.md "$doc/assets.md"
	third_party >"$doc/third-party.txt"
	fill copyright "$doc/copyright"
	fill changelog "$doc/changelog"
	gzip -9n "$doc/changelog"
	fill lintian-overrides "$share/lintian/overrides/undercoat"

	find "$root" -type d -exec chmod 755 {} + -o -type f -exec chmod 644 {} +
	chmod 755 "$root"/usr/bin/*
	find "$root" -exec touch -h -d "@$SOURCE_DATE_EPOCH" {} +
}

# tarball packs a folder below build/package so that it comes out alike every time.
tarball() { # folder
	tar -C "$out" --sort=name --owner=0 --group=0 --numeric-owner --mtime="@$SOURCE_DATE_EPOCH" -cf - "$1" | gzip -9n >"$out/$1.tar.gz"
}

linux() {
	lay_out
	# The oldest C library that has everything the window asks for.
	LIBC=$(strings -a "$root/usr/bin/undercoat" | grep -oE '^GLIBC_[0-9.]+$' | sed 's/GLIBC_//' | sort -V | tail -n 1)
	export LIBC
	$GO run "$NFPM" package --config packaging/nfpm.yaml --packager deb --target "$out/"

	name=undercoat-$VERSION-linux-$ARCH
	mkdir "$out/$name"
	cp -a "$root/usr/bin" "$root/usr/share" "$out/$name/"
	rm -r "$out/$name/share/lintian"
	cp LICENSE README.md "$out/$name/"
	tarball "$name"
	rm -r "${out:?}/$name"
}

# command_line builds the command line alone for another system.
command_line() { # system architecture
	name=undercoat-cli-$VERSION-$1-$2
	mkdir "$out/$name"
	suffix=
	[ "$1" != windows ] || suffix=.exe
	CGO_ENABLED=0 GOOS=$1 GOARCH=$2 build "$out/$name/undercoat-cli$suffix" ./cmd/undercoat-cli
	cp LICENSE README.md "$out/$name/"
	cp assets/LICENCES.md "$out/$name/assets.md"
	cp "$root/usr/share/doc/undercoat/third-party.txt" "$out/$name/"
	if [ "$1" = windows ]; then
		find "$out/$name" -exec touch -h -d "@$SOURCE_DATE_EPOCH" {} +
		(cd "$out" && TZ=UTC sh -c 'find "$1" | LC_ALL=C sort | zip -qX "$1.zip" -@' sh "$name")
	else
		tarball "$name"
	fi
	rm -r "${out:?}/$name"
}

rm -rf "$out"
mkdir -p "$out"
linux
command_line windows amd64
command_line darwin amd64
command_line darwin arm64
(cd "$out" && sha256sum ./*.deb ./*.tar.gz ./*.zip | sed 's| \./| |' >SHA256SUMS)
