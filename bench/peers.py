#!/usr/bin/python3
"""Times this program beside general-purpose imaging libraries doing the same steps.

    bench/peers.py build/undercoat-cli [--rounds 5] [--only small,large,batch]

The steps: decode a JPEG, orient, crop to the panel's shape, grey in linear light, Lanczos
to the raster's size, error diffusion after Floyd and Steinberg, one-bit PNG with the pitch.
This program also makes its tint table, evens the tones by it, and diffuses beyond the
raster's edges, which the others do not.

All take turns, so that what else the machine does meets each alike; a round is one run of
each. Printed are medians, and each peer's share in what this program takes. Peers that are
not installed are passed over. The pictures are made here, by Pillow and numpy, which Debian
has as python3-pil and python3-numpy; the others are imagemagick, graphicsmagick and
libvips-tools.
"""

import argparse
import os
import shutil
import statistics
import subprocess
import sys
import tempfile
import time

DPI = 318

# name: picture, panel in inches, pictures
CASES = {
    "small": ((4000, 3000), (10, 10), 1),
    "large": ((6000, 8000), (24, 36), 1),
    "batch": ((2400, 1800), (8, 10), 50),
}


def raster(panel):
    return tuple(round(side * DPI) for side in panel)


def crop(size, panel):
    """The largest crop of the panel's shape, in the middle: x, y, w, h."""
    w, h = size
    scale = min(w / panel[0], h / panel[1])
    cw, ch = round(panel[0] * scale), round(panel[1] * scale)
    return (w - cw) // 2, (h - ch) // 2, cw, ch


# The pictures: soft shapes at every scale and some grain, as a camera writes them.


def make_photograph(path, size, seed):
    import numpy as np
    from PIL import Image

    random = np.random.default_rng(seed)
    w, h = size
    picture = np.zeros((h, w, 3), np.float32)
    for octave in range(2, 11):
        n = 2**octave
        shapes = random.standard_normal((max(2, n * h // w), n, 3)).astype(np.float32)
        for c in range(3):
            grown = Image.fromarray(shapes[:, :, c], mode="F").resize((w, h), Image.BICUBIC)
            picture[:, :, c] += np.asarray(grown) * 0.75**octave
    picture = picture.mean(2, keepdims=True) * 0.8 + picture * 0.2
    picture += random.standard_normal((h, w, 1)).astype(np.float32) * 0.03
    low, high = picture.min(), picture.max()
    Image.fromarray(((picture - low) / (high - low) * 255).astype(np.uint8)).save(path, quality=90, subsampling=2)


# The peers that need a process of their own run this file with --as.


def pillow(source, target, cols, rows, box):
    import numpy as np
    from PIL import Image, ImageOps

    x, y, w, h = box
    picture = ImageOps.exif_transpose(Image.open(source)).convert("RGB").crop((x, y, x + w, y + h))
    sized = Image.fromarray(grey(np.asarray(picture))).resize((cols, rows), Image.LANCZOS)
    screen(np.asarray(sized), target)


def vips(source, target, cols, rows, box):
    """Crop and resizing are the library's. It has no error diffusion in grey, and its
    command line makes no grey in the same breath: those are left to numpy and Pillow."""
    import numpy as np
    from PIL import Image

    Image.MAX_IMAGE_PIXELS = None
    with tempfile.TemporaryDirectory() as folder:
        sized = os.path.join(folder, "sized.ppm")
        subprocess.run(["vipsthumbnail", source, "--linear", "--smartcrop", "centre", "--size", f"{cols}x{rows}", "-o", sized], check=True)
        screen(grey(np.asarray(Image.open(sized))), target)


def grey(stored):
    """Luminance in linear light, 0 to 1, of stored sRGB pixels."""
    import numpy as np

    codes = np.arange(256) / 255
    light = np.where(codes <= 0.04045, codes / 12.92, ((codes + 0.055) / 1.055) ** 2.4).astype(np.float32)
    out = light[stored[:, :, 0]] * np.float32(0.2126)
    out += light[stored[:, :, 1]] * np.float32(0.7152)
    out += light[stored[:, :, 2]] * np.float32(0.0722)
    return out


def screen(light, target):
    import numpy as np
    from PIL import Image

    tints = Image.fromarray(np.clip(light * 255 + 0.5, 0, 255).astype(np.uint8))
    tints.convert("1").save(target, dpi=(DPI, DPI))


def magick(tool):
    def command(source, target, cols, rows, box):
        x, y, w, h = box
        if tool == "gm":
            linear = ["-colorspace", "Gray", "-gamma", str(1 / 2.2)]
            dots = ["-monochrome"]
        else:
            linear = ["-colorspace", "LinearGray"]
            dots = ["-dither", "FloydSteinberg", "-remap", "pattern:gray50"]
        front = ["gm", "convert"] if tool == "gm" else [tool]
        return [*front, source, "-auto-orient", "-crop", f"{w}x{h}+{x}+{y}", "+repage", *linear,
                "-filter", "Lanczos", "-resize", f"{cols}x{rows}!", *dots,
                "-units", "PixelsPerInch", "-density", str(DPI), "-depth", "1", target]
    return command


def this_file(name):
    def command(source, target, cols, rows, box):
        return ["/usr/bin/python3", __file__, "--as", name, source, target, str(cols), str(rows), ",".join(map(str, box))]
    return command


def with_pillow():
    return subprocess.run(["/usr/bin/python3", "-c", "import PIL, numpy"], capture_output=True).returncode == 0


def peers():
    """Name, the command that makes one raster, or None where it is not there."""
    with_python = with_pillow()
    im = next((t for t in ("magick", "convert-im6.q16", "convert-im6") if shutil.which(t)), None)
    return [
        ("Pillow and numpy", this_file("pillow") if with_python else None),
        ("libvips, numpy and Pillow", this_file("vips") if with_python and shutil.which("vipsthumbnail") else None),
        ("ImageMagick", magick(im) if im else None),
        ("GraphicsMagick", magick("gm") if shutil.which("gm") else None),
    ]


# Measuring.


def timed(commands, at_once):
    """Wall and CPU seconds of all commands, and the peak MiB of the largest process."""
    begun, cpu, peak, running = time.monotonic(), 0.0, 0, set()
    waiting = list(commands)
    while waiting or running:
        while waiting and len(running) < at_once:
            running.add(subprocess.Popen(waiting.pop(0), stdout=subprocess.DEVNULL, stderr=subprocess.PIPE))
        pid, status, used = os.wait4(-1, 0)
        process = next(p for p in running if p.pid == pid)
        running.discard(process)
        process.returncode = os.waitstatus_to_exitcode(status)
        message = process.stderr.read()
        process.stderr.close()
        if process.returncode:
            raise RuntimeError(message.decode(errors="replace").strip().splitlines()[-1])
        cpu += used.ru_utime + used.ru_stime
        peak = max(peak, used.ru_maxrss / 1024)
    return time.monotonic() - begun, cpu, peak


def ours(cli, folder, name, pictures, panel):
    """The commands that make the rasters, after what comes before them is done."""
    size = f"{panel[0]}x{panel[1]}in"
    out = os.path.join(folder, "ours")
    if len(pictures) == 1:
        job = os.path.join(folder, name + ".undercoat")
        if not os.path.exists(job):
            subprocess.run([cli, "new", "-o", job, "--picture", pictures[0], "--panel", size, "--border", "0", "--pitch", f"{DPI}dpi"],
                           check=True, capture_output=True)
        return [[cli, "prepare", job, "--only", "raster", "--force", "-o", out]]
    orders = os.path.join(folder, name + ".csv")
    with open(orders, "w") as f:
        print("order,picture,panel,border,pitch", file=f)
        for i, picture in enumerate(pictures):
            print(f"order{i},{os.path.basename(picture)},{size},0,{DPI}dpi", file=f)
    shutil.rmtree(out, ignore_errors=True)
    return [[cli, "batch", orders, "-o", out, "--only", "raster"]]


def compare(cli, folder, name, rounds):
    size, panel, count = CASES[name]
    pictures = [os.path.join(folder, f"{name}{i}.jpg") for i in range(count)]
    for i, path in enumerate(pictures):
        # In a process of its own: one that is started inherits the peak of its parent.
        subprocess.run(["/usr/bin/python3", __file__, "--make", path, *map(str, size), str(i)], check=True)
    cols, rows = raster(panel)
    box = crop(size, panel)
    cores = os.cpu_count()
    print(f"\n{name}: {count} picture{'s' * (count > 1)} of {size[0] * size[1] / 1e6:.0f} megapixels to {cols} x {rows} dots, {cores} cores, {rounds} rounds", flush=True)
    contenders = [("Undercoat", None)]
    for peer, command in peers():
        if command is None:
            print(f"  {peer}: not installed, passed over")
        else:
            contenders.append((peer, command))
    figures = {peer: [] for peer, _ in contenders}
    for _ in range(rounds):
        for peer, command in contenders:
            if command is None:
                figures[peer].append(timed(ours(cli, folder, name, pictures, panel), 1))
                continue
            target = os.path.join(folder, "theirs%d.png")
            runs = [command(p, target % i, cols, rows, box) for i, p in enumerate(pictures)]
            try:
                figures[peer].append(timed(runs, cores))
            except RuntimeError as error:
                print(f"  {peer}: failed, passed over: {error}")
                contenders = [c for c in contenders if c[0] != peer]
                figures[peer] = []
    medians = {p: [statistics.median(f[i] for f in v) for i in range(3)] for p, v in figures.items() if v}
    mine = medians["Undercoat"]
    print(f"  {'':26}{'wall s':>8}{'CPU s':>8}{'peak MiB':>10}   Undercoat takes, of each")
    for peer, m in medians.items():
        shares = "" if peer == "Undercoat" else "   " + "  ".join(f"{a / b:.2f} of the {k}" for a, b, k in zip(mine, m, ("wall", "CPU", "peak")))
        print(f"  {peer:26}{m[0]:8.2f}{m[1]:8.2f}{m[2]:10.0f}{shares}", flush=True)


def main():
    if sys.argv[1:2] == ["--as"]:
        _, _, name, source, target, cols, rows, box = sys.argv
        {"pillow": pillow, "vips": vips}[name](source, target, int(cols), int(rows), tuple(map(int, box.split(","))))
        return
    if sys.argv[1:2] == ["--make"]:
        _, _, path, w, h, seed = sys.argv
        make_photograph(path, (int(w), int(h)), int(seed))
        return
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("cli", help="the command line program to time")
    parser.add_argument("--rounds", type=int, default=5)
    parser.add_argument("--only", default="small,large", help="of " + ", ".join(CASES))
    given = parser.parse_args()
    if not with_pillow():
        sys.exit("the pictures are made with Pillow and numpy: install python3-pil and python3-numpy")
    with tempfile.TemporaryDirectory() as folder:
        for name in given.only.split(","):
            compare(os.path.abspath(given.cli), folder, name, given.rounds)


if __name__ == "__main__":
    main()
