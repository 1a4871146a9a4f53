"""Makes warp_pixels.csv, independently of the program.

    python3 make_framing_goldens.py

Needs numpy and scikit-image; README.md names the versions the stored file was
made with.
"""

import pathlib

import numpy
from skimage.transform import ProjectiveTransform, warp

HERE = pathlib.Path(__file__).parent


def pattern(w, h):
    """The rough 16-bit pattern of the folder above."""
    x, y = numpy.meshgrid(numpy.arange(w), numpy.arange(h))
    return ((x * x * 7919 + y * y * 10473 + x * y * 3571 + 12345) % 65536).astype(numpy.float64)


def seen(image, matrix, w, h):
    """The image through a homography from the result to the image. Its places count from
    a pixel's corner, those of the library from a pixel's centre."""
    to_corner = numpy.array([[1, 0, 0.5], [0, 1, 0.5], [0, 0, 1]])
    to_centre = numpy.array([[1, 0, -0.5], [0, 1, -0.5], [0, 0, 1]])
    tied = ProjectiveTransform(matrix=to_centre @ numpy.array(matrix) @ to_corner)
    return warp(image, tied, output_shape=(h, w), order=3, mode="edge", clip=False, preserve_range=True)


# Places that lie within the pattern and are nowhere drawn smaller: there both widen nothing.
CASES = [
    ([[0.9659258262890683, 0.25881904510252074, 2.5], [-0.25881904510252074, 0.9659258262890683, 14.25], [0, 0, 1]], 42, 30),
    ([[0.4, 0.1, 10.3], [-0.05, 0.5, 8.1], [0, 0, 1]], 60, 40),
    ([[0.7, 0.2, 6.5], [0.1, 0.6, 5.25], [0.002, 0.003, 1]], 50, 40),
    ([[1, 0, 0.25], [0, 1, -3.75], [0, 0, 1]], 61, 47),
]

with open(HERE / "warp_pixels.csv", "w") as out:
    out.write("# a b c d e f g h i of the homography, cols, rows, then values row after row: see README.md\n")
    for matrix, w, h in CASES:
        values = seen(pattern(61, 47), matrix, w, h)
        numbers = [repr(float(v)) for row in matrix for v in row] + [str(w), str(h)]
        out.write(",".join(numbers + [f"{v:.3f}" for v in values.ravel()]) + "\n")
