"""Makes the goldens of this folder, independently of the program.

    python3 make_tone_goldens.py

Needs numpy, SciPy, scikit-image and OpenCV with its extra modules; README.md names
the versions the stored files were made with and says what each file holds.
"""

import pathlib

import cv2
import numpy
from scipy import ndimage
from skimage.exposure import equalize_adapthist
from skimage.filters import unsharp_mask

HERE = pathlib.Path(__file__).parent
FULL = 65535


def scene(w, h, larger=1):
    """A ramp with the edges of a chequerboard and with grain, in 1/65535 of linear light; or
    so many times larger and without grain."""
    x, y = numpy.meshgrid(numpy.arange(w), numpy.arange(h))
    grain = (x * x * 7919 + y * y * 10473 + x * y * 3571 + 12345) % 65536 % 3000 * (larger == 1)
    squares = (x // (16 * larger) + y // (16 * larger)) % 2
    return 6000 + 220 * x // larger + 90 * y // larger + 8000 * squares + grain


def lightness(light):
    """L* of CIELAB, 0..100, of light in 1/65535. Source: CIE 15:2004, 8.2.1."""
    y = light / FULL
    return numpy.where(y > 216 / 24389, 116 * numpy.cbrt(y) - 16, 24389 / 27 * y)


def light(lstar):
    """The other way."""
    return FULL * numpy.where(lstar > 8, ((lstar + 16) / 116) ** 3, lstar * 27 / 24389)


def extended_box(variance):
    """The three-part box of a variance. Source: Gwosdek et al. 2011, eq. 5."""
    reach = int((numpy.sqrt(12 * variance + 1) - 1) / 2)
    edge = (2 * reach + 1) * (reach * (reach + 1) - 3 * variance) / (6 * (variance - (reach + 1) ** 2))
    kernel = numpy.array([edge] + [1.0] * (2 * reach + 1) + [edge])
    return kernel / kernel.sum()


def boxes(image, sigma):
    """A Gaussian by four extended boxes in turn, edges repeated at each."""
    kernel = extended_box(sigma * sigma / 4)
    for _ in range(4):
        image = ndimage.correlate1d(image, kernel, axis=0, mode="nearest")
        image = ndimage.correlate1d(image, kernel, axis=1, mode="nearest")
    return image


def sharpened(image, sigma, amount):
    return image + amount * (image - boxes(image, sigma))


def filled(counts, limit):
    """Counts cut to a limit, what is over dealt out evenly below it: the level is found by halving."""
    low, high = 0.0, limit
    for _ in range(200):
        level = (low + high) / 2
        low, high = (level, high) if numpy.minimum(counts + level, limit).sum() < counts.sum() else (low, level)
    return numpy.minimum(counts + low, limit)


def local(lstar, tile, limit, bins=128):
    """Contrast limited adaptive histogram equalisation of L*. Source: Zuiderveld 1994; curves
    run straight between the edges of the bins."""
    h, w = lstar.shape
    down, across = h // tile, w // tile
    edges = numpy.linspace(0, 100, bins + 1)
    curves = numpy.empty((down, across, h, w))
    for j in range(down):
        for i in range(across):
            part = lstar[j * tile : (j + 1) * tile, i * tile : (i + 1) * tile]
            counts = numpy.histogram(part, edges)[0].astype(float)
            sums = numpy.concatenate([[0], numpy.cumsum(filled(counts, limit * counts.sum() / bins))])
            curves[j, i] = numpy.interp(lstar, edges, 100 * sums / sums[-1])
    out = numpy.zeros((h, w))
    x, y = numpy.meshgrid((numpy.arange(w) + 0.5) / tile - 0.5, (numpy.arange(h) + 0.5) / tile - 0.5)
    for j in range(down):
        for i in range(across):
            near_x = numpy.clip(1 - numpy.abs(numpy.clip(x, 0, across - 1) - i), 0, 1)
            near_y = numpy.clip(1 - numpy.abs(numpy.clip(y, 0, down - 1) - j), 0, 1)
            out += near_x * near_y * curves[j, i]
    return out


def write(name, about, values, form):
    with open(HERE / name, "w") as out:
        out.write(f"# {about}\n")
        for row in values:
            out.write(",".join(form % v for v in row) + "\n")


small, large = scene(64, 48).astype(numpy.float64), scene(128, 96).astype(numpy.float64)

write("sharpen_boxes.csv", "sigma 1.3 px, amount 1.5: four extended boxes, SciPy", sharpened(small, 1.3, 1.5), "%.2f")
write(
    "sharpen_gauss.csv",
    "sigma 2.5 px, amount 0.8: scikit-image",
    unsharp_mask(small, radius=2.5, amount=0.8, preserve_range=True),
    "%.2f",
)
guide = (lightness(small) / 100).astype(numpy.float32)
write("noise.csv", "radius 2, eps (4 L*)^2: OpenCV, in light", light(100 * cv2.ximgproc.guidedFilter(guide, guide, 2, 0.04**2).astype(float)), "%.1f")
write("local.csv", "tiles of 32 px, limit 2.5: numpy, in light", light(local(lightness(large), 32, 2.5)), "%.1f")

# The library stretches the picture to its full range first, so it is given black and white.
ends = lightness(scene(512, 384, 4).astype(numpy.float64)) / 100
ends[0, 0], ends[-1, -1] = 0, 1
bins = 16384 / 65  # what the library's 256 come to
library = equalize_adapthist(ends, kernel_size=(128, 128), clip_limit=2.5 / bins, nbins=256)
write("local_library.csv", "tiles of 128 px, limit 2.5, every 8th pixel: scikit-image, in L*", 100 * library[::8, ::8], "%.2f")
