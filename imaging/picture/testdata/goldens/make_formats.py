"""Makes the picture files of this folder and goldens.json, independently of the program.

    python3 make_formats.py

Needs Pillow (with littlecms, libwebp and libtiff) and numpy; README.md names the
versions the stored files were made with. What a file shows comes from Pillow's own
decoders, or, where Pillow cuts 16 bits down to 8, from the values that this script
wrote into the file. Colour profiles are made here from numbers, and littlecms works
out what they mean.
"""

import io
import json
import pathlib
import struct
import zlib

import numpy
from PIL import Image, ImageCms, features
import PIL

HERE = pathlib.Path(__file__).parent
W, H = 40, 24
goldens = {}


# ---------------------------------------------------------------- the picture

def art(depth):
    """A made-up picture, RGBA: slow ramps, hard edges, flat patches, alpha of all degrees."""
    most = (1 << depth) - 1
    y, x = numpy.mgrid[0:H, 0:W].astype(float)
    r, g, b = x / (W - 1), y / (H - 1), (x + y) / (W + H - 2)
    a = numpy.clip(numpy.hypot(x - 12, y - 8) / 14, 0, 1)
    out = numpy.stack([r, g, b, a], -1)
    for i, patch in enumerate([(0, 0, 0), (1, 1, 1), (1, 0, 0), (0, 1, 0), (0, 0, 1), (0.2, 0.2, 0.2)]):
        out[16:24, 4 * i:4 * i + 4, :3] = patch
    out[16:24, 24:40, :3] = ((x[16:24, 24:40] // 4 + y[16:24, 24:40] // 4) % 2)[..., None]
    return numpy.round(out * most).astype(numpy.uint16 if depth > 8 else numpy.uint8)


def smooth():
    """The ramps alone, for the lossy formats with halved colour: decoders bring it to full size in several ways."""
    y, x = numpy.mgrid[0:H, 0:W].astype(float)
    out = numpy.stack([x / (W - 1), y / (H - 1), (x + y) / (W + H - 2)], -1) * 90 + 80
    return Image.fromarray(numpy.round(out).astype(numpy.uint8))


def golden(name, data, values, tolerance, **more):
    """Stores a file and samples of what it shows: stored sRGB and alpha, 0..1."""
    (HERE / name).write_bytes(data)
    values = numpy.asarray(values, dtype=float)
    if values.shape[-1] == 3:
        values = numpy.concatenate([values, numpy.ones(values.shape[:2] + (1,))], -1)
    h, w = values.shape[:2]
    samples = []
    for y in range(0, h, max(1, h // 8)):
        for x in range(0, w, max(1, w // 10)):
            samples.append([x, y] + [round(float(v), 6) for v in values[y, x]])
    goldens[name] = {"size": [w, h], "tolerance": tolerance, **more, "samples": samples}


def shown(data):
    """What Pillow decodes, 0..1. Inks (CMYK) are turned to RGB by plain subtraction."""
    image = Image.open(io.BytesIO(data))
    image.load()
    if image.mode == "CMYK":
        inks = numpy.asarray(image).astype(float) / 255
        return (1 - inks[..., :3]) * (1 - inks[..., 3:])
    if image.mode in ("I;16", "I", "I;16B"):
        grey = numpy.asarray(image).astype(float) / 65535
        return numpy.stack([grey] * 3, -1)
    return numpy.asarray(image.convert("RGBA")).astype(float) / 255


def saved(image, kind, **options):
    out = io.BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


# ------------------------------------------------------------- PNG, by hand

def chunk(kind, body):
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def png(values, depth, colour_type, interlaced=False, extra=b""):
    """A PNG of values[h, w, channels]; depths under 8 are packed."""
    h, w, channels = values.shape

    def rows(v):
        if not v.shape[0] or not v.shape[1]:
            return b""
        out = b""
        for row in v:
            if depth == 16:
                packed = row.astype(">u2").tobytes()
            elif depth == 8:
                packed = row.astype("u1").tobytes()
            else:
                bits = "".join(format(int(n), "0%db" % depth) for n in row.ravel())
                bits += "0" * (-len(bits) % 8)
                packed = bytes(int(bits[i:i + 8], 2) for i in range(0, len(bits), 8))
            out += b"\0" + packed
        return out

    if interlaced:  # Adam7
        passes = [(0, 0, 8, 8), (4, 0, 8, 8), (0, 4, 4, 8), (2, 0, 4, 4), (0, 2, 2, 4), (1, 0, 2, 2), (0, 1, 1, 2)]
        raw = b"".join(rows(values[y::dy, x::dx]) for x, y, dx, dy in passes)
    else:
        raw = rows(values)
    head = struct.pack(">IIBBBBB", w, h, depth, colour_type, 0, 0, int(interlaced))
    return (b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + extra +
            chunk(b"IDAT", zlib.compress(raw, 9)) + chunk(b"IEND", b""))


# ------------------------------------------------------------ TIFF, by hand

def tiff(values, order="<", deflate=False, orientation=None):
    """A 16-bit RGB or grey TIFF in strips of 7 rows."""
    h, w, channels = values.shape
    strips = []
    for y in range(0, h, 7):
        raw = values[y:y + 7].astype(order + "u2").tobytes()
        strips.append(zlib.compress(raw) if deflate else raw)
    body, places = b"", []
    for s in strips:
        places.append(8 + len(body))
        body += s + b"\0" * (len(s) % 2)
    after = 8 + len(body)
    extra = b""

    def longs(numbers):
        nonlocal extra
        if len(numbers) == 1:
            return numbers[0]
        at = after + len(extra)
        extra += struct.pack(order + "%dI" % len(numbers), *numbers)
        return at

    entries = [(256, 3, 1, w), (257, 3, 1, h)]
    bits_at = after + len(extra)
    extra += struct.pack(order + "%dH" % channels, *[16] * channels) + b"\0" * (2 * (channels % 2))
    entries.append((258, 3, channels, 16 if channels == 1 else bits_at))
    entries += [(259, 3, 1, 8 if deflate else 1), (262, 3, 1, 2 if channels == 3 else 1),
                (273, 4, len(places), longs(places))]
    if orientation:
        entries.append((274, 3, 1, orientation))
    entries += [(277, 3, 1, channels), (278, 3, 1, 7), (279, 4, len(strips), longs([len(s) for s in strips]))]
    ifd = struct.pack(order + "H", len(entries))
    for tag, kind, count, value in entries:
        ifd += struct.pack(order + "HHI", tag, kind, count)
        ifd += struct.pack(order + "HH", value, 0) if kind == 3 and count == 1 else struct.pack(order + "I", value)
    magic = b"II*\0" if order == "<" else b"MM\0*"
    return magic + struct.pack(order + "I", after + len(extra)) + body + extra + ifd + b"\0\0\0\0"


# ----------------------------------------------------------------- profiles

def s15(v):
    return struct.pack(">i", round(v * 65536))


def xyz(x, y, z):
    return b"XYZ \0\0\0\0" + s15(x) + s15(y) + s15(z)


def curv(values):
    if isinstance(values, float):
        return b"curv\0\0\0\0" + struct.pack(">IH", 1, round(values * 256))
    return b"curv\0\0\0\0" + struct.pack(">I", len(values)) + struct.pack(">%dH" % len(values), *[round(65535 * v) for v in values])


def para(*p):
    kind = {1: 0, 3: 1, 4: 2, 5: 3, 7: 4}[len(p)]
    return b"para\0\0\0\0" + struct.pack(">HH", kind, 0) + b"".join(s15(v) for v in p)


SRGB_PARA = para(2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045)


def text(version, words):
    if version == 2:
        return b"desc\0\0\0\0" + struct.pack(">I", len(words) + 1) + words.encode() + b"\0" + b"\0" * 78
    return b"mluc\0\0\0\0" + struct.pack(">II2s2sII", 1, 12, b"en", b"US", 2 * len(words), 28) + words.encode("utf-16-be")


def profile(name, version, kind, colours, pcs, tags):
    tags = [(b"desc", text(version, name)), (b"wtpt", xyz(0.9642, 1, 0.8249)), (b"cprt", text(version, "public domain") if version == 4 else b"text\0\0\0\0none\0")] + tags
    table, data = struct.pack(">I", len(tags)), b""
    at = 128 + 4 + 12 * len(tags)
    for sig, body in tags:
        table += sig + struct.pack(">II", at + len(data), len(body))
        data += body + b"\0" * (-len(body) % 4)
    size = 128 + len(table) + len(data)
    head = struct.pack(">I4sI4s4s4s6H4s", size, b"", version << 24, kind, colours, pcs, 2025, 1, 1, 0, 0, 0, b"acsp")
    head += b"\0" * 28 + s15(0.9642) + s15(1) + s15(0.8249)
    return head.ljust(128, b"\0") + table + data


def d50_columns(red, green, blue, white=(0.3127, 0.3290)):
    """Columns of a matrix profile: primaries at a white of D65, adapted to D50 by Bradford."""
    up = lambda xy: numpy.array([xy[0] / xy[1], 1, (1 - xy[0] - xy[1]) / xy[1]])
    p = numpy.stack([up(red), up(green), up(blue)], -1)
    p = p * numpy.linalg.solve(p, up(white))
    b = numpy.array([[0.8951, 0.2664, -0.1614], [-0.7502, 1.7135, 0.0367], [0.0389, -0.0685, 1.0296]])
    scale = (b @ numpy.array([0.9642, 1, 0.8249])) / (b @ up(white))
    return numpy.linalg.solve(b, numpy.diag(scale) @ b) @ p


def three_lights(name, version, columns, curve):
    tags = [(s, xyz(*columns[:, i])) for i, s in enumerate([b"rXYZ", b"gXYZ", b"bXYZ"])]
    return profile(name, version, b"mntr", b"RGB ", b"XYZ ", tags + [(s, curve) for s in [b"rTRC", b"gTRC", b"bTRC"]])


def lab_of_inks(c, m, y, k):
    """Made-up inks in Lab under D50: Beer's law on three bands, ink that is not quite pure."""
    density = {"c": (1.4, 0.25, 0.1), "m": (0.15, 1.35, 0.35), "y": (0.03, 0.12, 1.2), "k": (1.6, 1.6, 1.55)}
    r, g, b = [0.93 * 10 ** -(c * density["c"][i] + m * density["m"][i] + y * density["y"][i] + k * density["k"][i]) for i in range(3)]
    return lab_of_lights(r, g, b)


def lab_of_lights(r, g, b):
    columns = d50_columns((0.64, 0.33), (0.30, 0.60), (0.15, 0.06))
    x, y, z = columns @ numpy.array([r, g, b])
    f = lambda t: t ** (1 / 3) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116
    fx, fy, fz = f(x / 0.9642), f(y), f(z / 0.8249)
    return 116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)


def lut(bits, grid, channels, lab_of, curve):
    """A lut8Type or lut16Type table to Lab, with one curve for all inputs."""
    nodes = numpy.stack(numpy.meshgrid(*[numpy.linspace(0, 1, grid)] * channels, indexing="ij"), -1).reshape(-1, channels)
    lab = numpy.array([lab_of(*v) for v in nodes])
    lab[:, 1:] += 128
    lab[:, 0] *= 255 / 100
    most = 255 if bits == 8 else 65280 / 256 * 256  # the older 16-bit Lab has 100 at FF00
    scaled = numpy.clip(numpy.round(lab / 255 * most), 0, 255 if bits == 8 else 65535).astype(int).ravel()
    out = (b"mft1" if bits == 8 else b"mft2") + b"\0\0\0\0" + bytes([channels, 3, grid, 0])
    out += b"".join(s15(v) for v in (1, 0, 0, 0, 1, 0, 0, 0, 1))
    if bits == 8:
        table = lambda f: bytes(round(255 * f(i / 255)) for i in range(256))
        return out + table(curve) * channels + bytes(scaled.tolist()) + table(lambda v: v) * 3
    table = lambda f, n: struct.pack(">%dH" % n, *[round(65535 * f(i / (n - 1))) for i in range(n)])
    return out + struct.pack(">HH", 64, 2) + table(curve, 64) * channels + struct.pack(">%dH" % len(scaled), *scaled.tolist()) + table(lambda v: v, 2) * 3


def stages(grid):
    """A lutAToBType table from RGB to Lab: a curve, a table of 16 bits, straight curves."""
    nodes = numpy.stack(numpy.meshgrid(*[numpy.linspace(0, 1, grid)] * 3, indexing="ij"), -1).reshape(-1, 3)
    lab = numpy.array([lab_of_lights(*(0.9 * v ** 1.1 + 0.02)) for v in nodes])
    lab = (lab + [0, 128, 128]) / [100, 255, 255]
    table = numpy.clip(numpy.round(65535 * lab), 0, 65535).astype(int).ravel()
    clut = bytes([grid] * 3 + [0] * 13) + bytes([2, 0, 0, 0]) + struct.pack(">%dH" % len(table), *table.tolist())
    clut += b"\0" * (-len(clut) % 4)
    b, a = curv([0, 1]) * 3, para(2.2) * 3
    head = b"mAB \0\0\0\0" + bytes([3, 3, 0, 0])
    at = 32
    return head + struct.pack(">5I", at, 0, 0, at + len(b), at + len(b) + len(clut)) + b + clut + a


PROFILES = {
    "p3": three_lights("made-up P3", 4, d50_columns((0.680, 0.320), (0.265, 0.690), (0.150, 0.060)), SRGB_PARA),
    "wide": three_lights("made-up wide RGB", 2, d50_columns((0.64, 0.33), (0.21, 0.71), (0.15, 0.06)), curv(2.19921875)),
    "table": three_lights("made-up table RGB", 2, d50_columns((0.63, 0.34), (0.31, 0.595), (0.155, 0.07)),
                          curv([(i / 1023) ** 1.8 for i in range(1024)])),
    "srgb": three_lights("made-up sRGB", 2, d50_columns((0.64, 0.33), (0.30, 0.60), (0.15, 0.06)),
                         curv([v / 12.92 if v <= 0.04045 else ((v + 0.055) / 1.055) ** 2.4 for v in [i / 1023 for i in range(1024)]])),
    "grey": profile("made-up grey 1.8", 2, b"mntr", b"GRAY", b"XYZ ", [(b"kTRC", curv(1.796875))]),
    "greylab": profile("made-up grey Lab", 4, b"mntr", b"GRAY", b"Lab ", [(b"kTRC", curv([(i / 255) ** 0.8 for i in range(256)]))]),
    "lut16": profile("made-up RGB table", 2, b"prtr", b"RGB ", b"Lab ",
                     [(b"A2B0", lut(16, 9, 3, lambda r, g, b: lab_of_lights(0.88 * r + 0.02, 0.9 * g + 0.02, 0.86 * b + 0.02), lambda v: v ** 2.0))]),
    "stages": profile("made-up RGB stages", 4, b"scnr", b"RGB ", b"Lab ", [(b"A2B0", stages(9))]),
    "inks8": profile("made-up inks 8", 2, b"prtr", b"CMYK", b"Lab ", [(b"A2B0", lut(8, 5, 4, lab_of_inks, lambda v: v ** 0.8))]),
    "inks16": profile("made-up inks 16", 2, b"prtr", b"CMYK", b"Lab ", [(b"A2B0", lut(16, 5, 4, lab_of_inks, lambda v: v ** 0.9))]),
}

RELATIVE, BLACK_POINT, NO_SHORTCUTS = 1, 0x2000, 0x0100


def through(icc, image):
    """What littlecms makes of an image under a profile: stored sRGB, 0..1, in 8 bits."""
    t = ImageCms.buildTransform(ImageCms.ImageCmsProfile(io.BytesIO(icc)), ImageCms.createProfile("sRGB"), image.mode, "RGB",
                                renderingIntent=RELATIVE, flags=BLACK_POINT | NO_SHORTCUTS)
    return numpy.asarray(ImageCms.applyTransform(image, t)).astype(float) / 255


def swatches(channels, side):
    """Every combination of some values, one pixel each; a black-heavy corner is left out of inks."""
    steps = {1: numpy.linspace(0, 255, 64), 3: [0, 60, 130, 200, 255], 4: [0, 80, 170, 255]}[channels]
    v = numpy.stack(numpy.meshgrid(*[steps] * channels, indexing="ij"), -1).reshape(-1, channels)
    v = numpy.resize(v, (-(-len(v) // side) * side, channels)).reshape(-1, side, channels).round().astype(numpy.uint8)
    return v


def enlarged(v, by):
    return v.repeat(by, 0).repeat(by, 1)


def profiles():
    half = 0.51 / 255
    rgb = Image.fromarray(swatches(3, 25))
    for name in ["p3", "wide", "table", "srgb", "lut16", "stages"]:
        data = saved(rgb, "PNG", icc_profile=PROFILES[name], optimize=True)
        golden("profile-%s.png" % name, data, through(PROFILES[name], rgb), half + (0.006 if name in ("lut16", "stages") else 0.001))
    grey = Image.fromarray(swatches(1, 8)[..., 0])
    for name in ["grey", "greylab"]:
        data = saved(grey, "PNG", icc_profile=PROFILES[name], optimize=True)
        golden("profile-%s.png" % name, data, through(PROFILES[name], grey), half + 0.001)
    for name in ["inks8", "inks16"]:
        inks = Image.fromarray(enlarged(swatches(4, 16), 8), "CMYK")
        data = saved(inks, "JPEG", icc_profile=PROFILES[name], quality=90)
        decoded = Image.open(io.BytesIO(data))
        golden("profile-%s.jpg" % name, data, through(PROFILES[name], decoded)[4::8, 4::8], half + 0.012, block=8)
    flat = Image.fromarray(enlarged(swatches(3, 25)[:, ::5], 8))
    data = saved(flat, "JPEG", icc_profile=PROFILES["p3"], quality=95, subsampling=0)
    golden("profile-p3.jpg", data, through(PROFILES["p3"], Image.open(io.BytesIO(data)))[4::8, 4::8], 0.012, block=8)
    data = saved(rgb, "TIFF", icc_profile=PROFILES["wide"], compression="tiff_adobe_deflate")
    golden("profile-wide.tif", data, through(PROFILES["wide"], rgb), half + 0.001)
    data = saved(rgb, "WEBP", icc_profile=PROFILES["p3"], lossless=True)
    golden("profile-p3.webp", data, through(PROFILES["p3"], rgb), half + 0.001)


def formats():
    eight, sixteen = art(8), art(16)
    rgba, rgb = Image.fromarray(eight), Image.fromarray(eight[..., :3].copy())
    grey = rgb.convert("L")
    black_white = grey.point(lambda v: 255 * (v > 127)).convert("1")
    exact, jpeg = 0.5 / 255, 3.1 / 255

    def stored(name, data, tolerance=exact):
        golden(name, data, shown(data), tolerance)

    stored("baseline.jpg", saved(rgb, "JPEG", quality=95, subsampling=0), jpeg)
    stored("progressive.jpg", saved(smooth(), "JPEG", quality=95, subsampling=2, progressive=True), 4.1 / 255)
    stored("grey.jpg", saved(grey, "JPEG", quality=95), jpeg)
    inks = saved(rgb.convert("CMYK"), "JPEG", quality=95)
    stored("inks.jpg", inks, jpeg)
    at = inks.index(b"Adobe")
    stored("ycck.jpg", inks[:at + 11] + b"\2" + inks[at + 12:], jpeg)

    g16 = sixteen[..., :1]
    for bits in (1, 2, 4):
        v = (numpy.asarray(grey) >> (8 - bits))[..., None]
        golden("grey%d.png" % bits, png(v, bits, 0), numpy.repeat(v / (2 ** bits - 1), 3, -1), exact)
    stored("grey8.png", saved(grey, "PNG"))
    golden("grey16.png", png(g16, 16, 0), numpy.repeat(g16 / 65535, 3, -1), 1e-5)
    stored("greyalpha8.png", saved(rgba.convert("LA"), "PNG"))
    stored("rgb8.png", saved(rgb, "PNG"))
    golden("rgb16.png", png(sixteen[..., :3], 16, 2), sixteen[..., :3] / 65535, 1e-5)
    stored("rgba8.png", saved(rgba, "PNG"))
    golden("rgba16.png", png(sixteen, 16, 6), sixteen / 65535, 1e-5)
    golden("interlaced.png", png(eight, 8, 6, interlaced=True), eight / 255, exact)
    golden("interlaced16.png", png(sixteen[..., :3], 16, 2, interlaced=True), sixteen[..., :3] / 65535, 1e-5)
    few = rgb.quantize(13)
    stored("palette4.png", saved(few, "PNG", bits=4))
    stored("palette8.png", saved(rgb.quantize(200), "PNG", transparency=3))
    key = (0, 255, 0)
    keyed = eight[..., :3].copy()
    golden("keyed.png", png(keyed, 8, 2, extra=chunk(b"tRNS", struct.pack(">3H", *key))),
           numpy.concatenate([keyed / 255, (keyed != key).any(-1, keepdims=True)], -1), exact)

    stored("plain.gif", saved(rgb.quantize(60), "GIF"))
    stored("clear.gif", saved(rgb.quantize(60), "GIF", transparency=5))
    stored("moving.gif", saved(rgb.quantize(60), "GIF", save_all=True, append_images=[grey.convert("P"), rgb.rotate(180).quantize(60)]))

    stored("lossy.webp", saved(smooth(), "WEBP", quality=95), 4.1 / 255)
    stored("lossless.webp", saved(rgb, "WEBP", lossless=True))
    soft = numpy.concatenate([numpy.asarray(smooth()), eight[..., 3:]], -1)
    data = saved(Image.fromarray(soft), "WEBP", quality=95, exact=True)
    stored("lossyalpha.webp", data, 4.1 / 255)
    stored("losslessalpha.webp", saved(rgba, "WEBP", lossless=True, exact=True))

    for name, how in [("none", None), ("lzw", "tiff_lzw"), ("deflate", "tiff_adobe_deflate"), ("packbits", "packbits")]:
        stored("%s.tif" % name, saved(rgb, "TIFF", compression=how))
    stored("group4.tif", saved(black_white, "TIFF", compression="group4"))
    stored("alpha.tif", saved(rgba, "TIFF", compression="tiff_lzw"))
    stored("palette.tif", saved(few, "TIFF"))
    stored("grey8.tif", saved(grey, "TIFF", compression="tiff_lzw"))
    golden("grey16.tif", tiff(g16), numpy.repeat(g16 / 65535, 3, -1), 1e-5)
    golden("rgb16.tif", tiff(sixteen[..., :3]), sixteen[..., :3] / 65535, 1e-5)
    golden("rgb16big.tif", tiff(sixteen[..., :3], ">", deflate=True), sixteen[..., :3] / 65535, 1e-5)

    turned = numpy.rot90(g16)  # shown by turning it clockwise
    golden("grey16big.tif", tiff(turned, ">", orientation=6), numpy.repeat(g16 / 65535, 3, -1), 1e-5)

    letters = Image.new("L", (48, 32))
    for i in range(6):
        letters.paste(30 + 40 * i, (i % 3 * 16, i // 3 * 16, i % 3 * 16 + 16, i // 3 * 16 + 16))
    stored("blocks.webp", saved(letters, "WEBP", lossless=True))

    stored("rgb.bmp", saved(rgb, "BMP"))
    stored("palette.bmp", saved(rgb.quantize(200), "BMP"))
    stored("black_white.bmp", saved(black_white, "BMP"))


def larger():
    """Files of a size at which what a decoder takes beside the picture can be told."""
    y, x = numpy.mgrid[0:700, 0:1000].astype(float)
    rgb = Image.fromarray(numpy.stack([x / 4, y / 3, (x + y) / 7], -1).astype(numpy.uint8))
    alpha = Image.fromarray((x / 4).astype(numpy.uint8))
    for name, data in [
        ("larger-progressive.jpg", saved(rgb, "JPEG", quality=60, progressive=True)),
        ("larger-inks.jpg", saved(rgb.convert("CMYK"), "JPEG", quality=40)),
        ("larger-lossy.webp", saved(rgb, "WEBP", quality=30)),
        ("larger-lossless.webp", saved(rgb.quantize(16).convert("RGB"), "WEBP", lossless=True)),
    ]:
        (HERE / name).write_bytes(data)
    rgb.putalpha(alpha)
    (HERE / "larger-alpha.webp").write_bytes(saved(rgb, "WEBP", quality=30))


def main():
    formats()
    larger()
    profiles()
    made_with = {"pillow": PIL.__version__, "numpy": numpy.__version__}
    for f in ("littlecms2", "webp", "libtiff", "jpg"):
        made_with[f] = features.version(f)
    lines = ["%s: %s" % (json.dumps(k), json.dumps(v, separators=(",", ":"))) for k, v in sorted(goldens.items())]
    (HERE / "goldens.json").write_text('{"made_with": %s,\n"files": {\n%s\n}}\n' % (json.dumps(made_with), ",\n".join(lines)))


main()
