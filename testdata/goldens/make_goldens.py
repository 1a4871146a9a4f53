"""Makes the goldens of this folder, independently of the program.

    python3 make_goldens.py            writes the goldens
    python3 make_goldens.py pictures   first makes dunes.jpg and inks.jpg anew

Needs Pillow and numpy only; README.md names the versions the stored files were
made with. The pictures are not made anew by default: another JPEG encoder gives
other bytes, and the goldens describe the stored ones.
"""

import json
import pathlib
import sys

import numpy
import PIL
from PIL import Image, ImageOps

HERE = pathlib.Path(__file__).parent
BLOCK = 32


def decode(stored):
    """sRGB 0..1 to linear light. Source: IEC 61966-2-1:1999."""
    return numpy.where(stored <= 0.04045, stored / 12.92, ((stored + 0.055) / 1.055) ** 2.4)


def linear_grey(image, paper):
    """Linear-light grey 0..1, Rec. 709 weights (ITU-R BT.709-6, 3.2), alpha over the paper."""
    rgba = numpy.asarray(image.convert("RGBA"), dtype=numpy.float64) / 255
    alpha = rgba[..., 3:]
    light = decode(rgba[..., :3]) * alpha + decode(numpy.array(paper) / 255) * (1 - alpha)
    return light @ numpy.array([0.2126, 0.7152, 0.0722])


def lanczos(grey, size, box):
    """Pillow's Lanczos-3 on 32-bit floats, box in pixels as left, upper, right, lower."""
    return numpy.asarray(Image.fromarray(grey.astype(numpy.float32), "F").resize(size, Image.LANCZOS, box=box))


def diffuse(tints):
    """Tints to dots in plain floating point: a dot burns from half upwards, errors go on in
    sixteenths, every second row runs from right to left, what falls off the edge is dropped.
    Source: Floyd, Steinberg, 1976, An adaptive algorithm for spatial grey scale, Proc. SID 17(2)."""
    rows, cols = tints.shape
    wanted = [row + [0.0, 0.0] for row in tints.tolist()]  # the last two cells catch what falls off
    wanted.append([0.0] * (cols + 2))
    dots = numpy.zeros((rows, cols), dtype=bool)
    for y in range(rows):
        here, below = wanted[y], wanted[y + 1]
        step = 1 if y % 2 == 0 else -1
        for x in range(cols)[::step]:
            dots[y, x] = here[x] >= 0.5
            error = here[x] - dots[y, x]
            here[x + step] += error * 7 / 16
            below[x - step] += error * 3 / 16
            below[x] += error * 5 / 16
            below[x + step] += error * 1 / 16
    return dots


def blocks(values):
    """Mean of each block, from the top left."""
    rows, cols = values.shape
    return values.reshape(rows // BLOCK, BLOCK, cols // BLOCK, BLOCK).mean(axis=(1, 3))


def listed(means):
    return [[round(float(v), 6) for v in row] for row in means]


def chain(name, picture, crop, cols, rows, paper=(255, 255, 255), dots_name=None):
    """Picture file to mean tint per block, as the whole chain should give it, and on to dots."""
    image = ImageOps.exif_transpose(Image.open(HERE / picture))
    x, y, w, h = crop
    tints = numpy.clip(lanczos(linear_grey(image, paper), (cols, rows), (x, y, x + w, y + h)), 0, 1)
    dots = diffuse(tints)
    if dots_name:
        Image.fromarray(~dots).save(HERE / dots_name, optimize=True)  # black is burned
    golden = {
        "made_with": f"Pillow {PIL.__version__}, numpy {numpy.__version__}",
        "picture": picture,
        "picture_size": list(image.size),
        "paper": "#%02x%02x%02x" % paper,
        "crop": crop,
        "cols": cols,
        "rows": rows,
        "block": BLOCK,
        "means": listed(blocks(tints)),
        "burned": listed(blocks(dots)),
    }
    text = json.dumps(golden, indent=1).replace("\n   ", " ").replace("\n  ]", " ]")
    (HERE / name).write_text(text + "\n")


def pattern(w, h):
    """A rough 16-bit pattern that the tests make by the same whole numbers."""
    y, x = numpy.mgrid[0:h, 0:w].astype(numpy.int64)
    return (x * x * 7919 + y * y * 10473 + x * y * 3571 + 12345) % 65536


def pixels(name, w, h, cases):
    """Single pixels of the pattern resampled. Pillow holds a box in 32-bit floats: only boxes that fit them."""
    lines = [f"# pattern {w} x {h}; Pillow {PIL.__version__} mode F LANCZOS; x,y,w,h,cols,rows then cols*rows values"]
    for x, y, bw, bh, cols, rows in cases:
        out = lanczos(pattern(w, h), (cols, rows), (x, y, x + bw, y + bh))
        lines.append(",".join([f"{v:g}" for v in (x, y, bw, bh, cols, rows)] + [f"{v:.2f}" for v in out.flat]))
    (HERE / name).write_text("\n".join(lines) + "\n")


def dunes(w=1500, h=1000):
    """A made-up landscape: slow tones, hard edges, fine stripes and grain, stored lying on its side."""
    y, x = numpy.mgrid[0:h, 0:w].astype(numpy.float64)
    u, v = x / w, y / h
    sky = numpy.stack([0.35 + 0.6 * v, 0.5 + 0.35 * v, 0.85 - 0.25 * v], -1)
    ridge = 0.55 + 0.12 * numpy.sin(5 * u + 1) + 0.05 * numpy.sin(17 * u)
    shade = 0.5 + 0.5 * numpy.sin(40 * (v - ridge) + 9 * numpy.sin(6 * u))
    sand = numpy.stack([0.30 + 0.6 * shade, 0.2 + 0.5 * shade, 0.1 + 0.3 * shade], -1)
    image = numpy.where((v > ridge)[..., None], sand, sky)
    sun = (x - 1120) ** 2 + (y - 230) ** 2 < 110 ** 2
    image[sun] = (1.0, 0.97, 0.85)
    image[620:960, 120:420] = (numpy.sin((x * x + y * y) / 900)[620:960, 120:420, None] > 0) * 0.94 + 0.03
    grain = numpy.random.RandomState(7).normal(0, 0.012, (h, w, 1))
    upright = Image.fromarray((numpy.clip(image + grain, 0, 1) * 255 + 0.5).astype(numpy.uint8))
    exif = Image.Exif()
    exif[0x0112] = 6  # to be shown turned a quarter clockwise
    upright.transpose(Image.ROTATE_90).save(HERE / "dunes.jpg", quality=72, subsampling="4:2:0", exif=exif)


def inks():
    """Flat patches of ink, 16 pixels each: the test knows the shares. Pillow writes the Adobe marker."""
    shares = [(0, 0, 0, 0), (255, 0, 0, 0), (0, 255, 0, 0), (0, 0, 255, 0),
              (0, 0, 0, 255), (128, 0, 0, 0), (64, 128, 192, 32), (0, 0, 0, 128)]
    row = numpy.repeat(numpy.array(shares, dtype=numpy.uint8), 16, axis=0)
    Image.fromarray(numpy.repeat(row[None], 16, axis=0), "CMYK").save(HERE / "inks.jpg", quality=100, subsampling=0)


if __name__ == "__main__":
    if "pictures" in sys.argv[1:]:
        dunes()
        inks()
    chain("chain_rose_smaller.json", "rose.png", [10.5, 7.25, 372, 279], 256, 192, dots_name="dots_rose_smaller.png")
    chain("chain_rose_larger.json", "rose.png", [40.3, 12.7, 320, 240], 896, 672, paper=(43, 45, 48))
    chain("chain_dunes.json", "dunes.jpg", [33.25, 41.5, 1350, 900], 960, 640)
    pixels("lanczos_pixels.csv", 61, 47, [
        (0, 0, 61, 47, 61, 47),
        (0, 0, 61, 47, 24, 18),
        (10.25, 8.5, 40.5, 30.125, 27, 20),
        (12.75, 9.375, 20.5, 15.25, 40, 30),
        (3, 4, 48, 36, 24, 18),
        (22.5, 20.5, 8.25, 6.125, 33, 25),
    ])
