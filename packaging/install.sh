#!/usr/bin/env bash
# Installs the .deb that package.sh has made in a Debian of its own, as bare as a new one,
# starts both programs there as a user who may do nothing else, and removes it again.
#
#     make check-install
#
# It needs root, debootstrap, and a mirror of Debian: the one that this computer itself
# installs from, or MIRROR, of the release SUITE.
set -eu
cd "$(dirname "$0")/.."

: "${VERSION:?run this as: make check-install}"
deb=$(echo build/package/undercoat_"$VERSION"_*.deb)
[ -f "$deb" ] || {
	echo "$deb is not there: run make package first" >&2
	exit 1
}
[ "$(id -u)" -eq 0 ] || {
	echo "a system of its own takes root: sudo make check-install" >&2
	exit 1
}
for tool in debootstrap Xvfb xdotool; do
	command -v "$tool" >/dev/null || {
		echo "missing: $tool (apt-get install debootstrap xvfb xdotool)" >&2
		exit 1
	}
done
MIRROR=${MIRROR:-$(apt-get indextargets --format '$(REPO_URI)' | head -n 1)}
SUITE=${SUITE:-$(. /etc/os-release && echo "$VERSION_CODENAME")}

tmp=$(mktemp -d)
root=$tmp/root
home=/var/maker # in the system of its own
screen=
window=
finish() {
	[ -z "$window" ] || kill "$window" 2>/dev/null || true
	[ -z "$screen" ] || kill "$screen" 2>/dev/null || true
	! mountpoint -q "$root/proc" || umount "$root/proc"
	rm -rf "$tmp"
}
trap finish EXIT

inside() { chroot "$root" env -i PATH=/usr/sbin:/usr/bin:/sbin:/bin LANG=C.UTF-8 DEBIAN_FRONTEND=noninteractive "$@"; }
as_maker() { chroot --userspec=maker:maker "$root" env -i PATH=/usr/bin:/bin LANG=C.UTF-8 HOME="$home" LIBGL_ALWAYS_SOFTWARE=1 "$@"; }

echo "a bare $SUITE"
debootstrap --variant=minbase "$SUITE" "$root" "$MIRROR" >"$tmp/log" 2>&1 || {
	tail -n 20 "$tmp/log" >&2
	exit 1
}
mount -t proc proc "$root/proc"
inside useradd --create-home --home-dir "$home" maker

echo "install"
cp "$deb" "$root/undercoat.deb"
inside apt-get update -q >"$tmp/log" 2>&1
inside apt-get install -y -q /undercoat.deb >>"$tmp/log" 2>&1 || {
	tail -n 20 "$tmp/log" >&2
	exit 1
}
[ -z "$(inside ldd /usr/bin/undercoat | grep 'not found')" ]

echo "the command line"
as_maker undercoat-cli --version | grep -F "$VERSION"
as_maker undercoat-cli demo -o "$home"/demo >/dev/null 2>&1
for file in raster.png proof.png placement.txt placement.json sheet.pdf; do
	[ -s "$root$home/demo/$file" ]
done
# A job from a picture, as the README has it, with an entry that is installed by no one.
as_maker undercoat-cli new -o "$home"/own.undercoat --picture "$home"/demo/proof.png --panel 8x10in --power 30 --speed 1500mm/min >/dev/null 2>&1
[ -s "$root$home/own.undercoat" ]

echo "the window"
Xvfb -displayfd 3 -screen 0 1280x800x24 3>"$tmp/display" 2>/dev/null &
screen=$!
for _ in $(seq 100); do [ -s "$tmp/display" ] && break || sleep .1; done
DISPLAY=:$(cat "$tmp/display")
export DISPLAY
as_maker DISPLAY="$DISPLAY" undercoat "$home"/own.undercoat >"$tmp/said" 2>&1 &
window=$!
# Its title names the job once that is open.
timeout 60 xdotool search --sync --onlyvisible --name '^own - Undercoat$' >/dev/null || {
	cat "$tmp/said" >&2
	echo "the window did not open on the job" >&2
	exit 1
}
kill -0 "$window"
kill "$window"
wait "$window" 2>/dev/null || true
window=

echo "remove"
inside apt-get purge -y -q undercoat >"$tmp/log" 2>&1
left=$(cd "$root" && find usr/bin usr/share -type f -path '*undercoat*')
[ -z "$left" ] || {
	echo "left behind: $left" >&2
	exit 1
}
[ -s "$root$home/own.undercoat" ] # what the maker made stays
echo "it installs, runs and goes"
