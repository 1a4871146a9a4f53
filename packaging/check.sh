#!/usr/bin/env bash
# Holds what package.sh has made to what desktops and Debian ask for, and runs the
# command line out of the archive.
set -eu
cd "$(dirname "$0")/.."

: "${VERSION:?run this as: make check-package}"
out=build/package
root=$out/root

desktop-file-validate "$root"/usr/share/applications/*.desktop
appstreamcli validate --no-net "$root"/usr/share/metainfo/*.metainfo.xml
if command -v lintian >/dev/null; then
	lintian --fail-on error,warning "$out"/*.deb
else
	echo "lintian is not here, so the .deb was not held to Debian's policy" >&2
fi

# The libraries that the package's depends were written for.
known="libGL.so.1 libX11.so.6 libm.so.6 libc.so.6"
for library in $(objdump -p "$root/usr/bin/undercoat" | awk '$1 == "NEEDED" { print $2 }'); do
	case " $known " in
	*" $library "*) ;;
	*)
		echo "the window is linked with $library: add its package to depends in packaging/nfpm.yaml, and its name here" >&2
		exit 1
		;;
	esac
done

(cd "$out" && sha256sum --check --quiet SHA256SUMS)
tmp=$(mktemp -d)
trap 'rm -rf "$tmp"' EXIT
tar -C "$tmp" -xzf "$out/undercoat-$VERSION-linux-"*.tar.gz
program=$(echo "$tmp"/undercoat-*/bin/undercoat-cli)
"$program" --version | grep -F "$VERSION"
"$program" demo -o "$tmp/demo" >/dev/null
for file in raster.png proof.png placement.txt placement.json sheet.pdf; do
	[ -s "$tmp/demo/$file" ] || {
		echo "the demo out of the archive lacks $file" >&2
		exit 1
	}
done
echo "the packages are as they should be"
